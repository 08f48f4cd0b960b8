"""Hazards come first, whatever was being discussed. First sentences are the reviewed ones, word for word."""

from collections.abc import Callable

import pytest

from assistant.conversation.events import DeskCalled, HazardCleared, HazardRaised
from assistant.wording import with_calls
from kb.knowledge import Knowledge
from tests.conversation.conftest import Talk

Begin = Callable[..., Talk]


def first_sentence(knowledge: Knowledge, hazard: str, language: str = "en") -> str:
    node = next(h for h in knowledge.hazards.values() if h.hazard == hazard)
    return (
        with_calls(node.first.en, "en", "911") if language == "en" else with_calls(node.first.es, "es", "911")
    )


DANGERS = [
    ("en", "shut_in", "my brother is locked in the cooler"),
    ("en", "shut_in_self", "im stuck inside the walk in and the door wont open"),
    ("en", "tingle", "funny, i get a tickle when i touch the grille"),
    ("en", "smoke_fire", "there is smoke coming out of the unit"),
    ("en", "refrigerant", "i hear a loud hiss at the coil and there's a wet oily film"),
    ("en", "carbon_monoxide", "the generator is running in the barn and we have headaches"),
    ("en", "held_by_current", "he touched the unit and collapsed, hes still touching it"),
    ("en", "breaker_again", "the breaker tripped again"),
    ("en", "flooded", "the unit was under water in the flood"),
    ("es", "shut_in", "hay alguien encerrado en el cuarto"),
    ("es", "shut_in", "mi hijo no puede salir del cuarto"),
    ("es", "shut_in_self", "estoy encerrado en el cuarto"),
    ("es", "tingle", "me da toques la rejilla cuando la toco"),
    ("es", "smoke_fire", "sale humo del aparato"),
    ("es", "co2", "metimos hielo seco y mi compañero se mareó"),
    ("es", "burning_smell", "huele a quemado el aparato"),
    ("es", "water_live", "hay agua en el piso y el aparato está en el agua conectado"),
]


@pytest.mark.parametrize(("language", "hazard", "words"), DANGERS)
def test_a_danger_gets_its_reviewed_sentence_and_stops_the_case(
    knowledge: Knowledge, talk: Begin, language: str, hazard: str, words: str
) -> None:
    one = talk("room at 52, set to 38" if language == "en" else "el cuarto no enfría, está a 60 F")
    said = one.text(words)

    assert first_sentence(knowledge, hazard, language) in said
    assert one.state == "danger"
    assert one.events(DeskCalled)[-1].urgency == "now"


NOT_DANGERS = [
    "I was shocked at the power bill",
    "my fan smoked last year but I replaced it",
    "what if someone gets locked in?",
    "it's a smoking deal, that unit",
    "i'm dying out here in this heat",
    "me muero de calor aquí",
    "se quemó la lechuga con el frío",
    "el sol está que arde",
]


@pytest.mark.parametrize("words", NOT_DANGERS)
def test_figures_of_speech_the_weather_and_the_past_are_no_danger(talk: Begin, words: str) -> None:
    one = talk("room at 52, set to 38")
    one.text(words)

    assert one.state != "danger"


def test_in_danger_nothing_of_repair_is_said_until_a_person_reopens(talk: Begin) -> None:
    one = talk("room at 60, set at 40", "i get a tickle when i touch the grille")

    first, second = one.text("ok but should i clean the filter?"), one.text("hello?")
    assert "filter" not in first
    assert first != second
    assert one.state == "danger"

    one.desk("reopens")
    assert one.state in {"asking", "fixing"}
    assert one.events(HazardCleared)[-1].by == "Ines"


def test_the_desk_is_called_again_after_five_minutes(talk: Begin) -> None:
    one = talk("room at 60", "i get a tickle when i touch the grille")

    said = one.wait(minutes=5)

    assert "second time" in said
    assert len([call for call in one.events(DeskCalled) if call.urgency == "now"]) == 2


def test_a_first_clean_trip_is_asked_about_and_then_goes_on(knowledge: Knowledge, talk: Begin) -> None:
    one = talk("room at 60, set at 40")

    asked = one.text("the button on the plug popped out")
    assert "Was there a burning smell, heat, water or a tingle" in asked
    allowed = one.text("2")
    assert "Press RESET once" in allowed
    one.text("done")

    assert one.state in {"asking", "fixing"}


def test_a_trip_with_a_sign_becomes_a_danger(talk: Begin) -> None:
    one = talk("room at 60, set at 40", "the button on the plug popped out")

    said = one.text("1")

    assert "Do not press reset" in said
    assert one.state == "danger"


def test_a_hazard_that_only_needs_care_is_said_once_and_the_talk_goes_on(
    knowledge: Knowledge, talk: Begin
) -> None:
    one = talk()

    said = one.text("room at 60, set at 40, there are mouse droppings all over the unit")

    assert first_sentence(knowledge, "rodents_wasps") in said
    assert one.state == "asking"
    assert one.open_check is not None


def test_a_danger_in_the_very_first_message_needs_no_introduction(knowledge: Knowledge, talk: Begin) -> None:
    one = talk(region="112")

    said = one.text("there is smoke coming out of the unit")

    assert said.startswith(with_calls("Everyone out, then {call}", "en", "112"))


def test_facts_told_with_a_danger_are_remembered(talk: Begin) -> None:
    one = talk("the filter is clogged and i get a tickle when i touch the grille")

    assert one.known("filter") == "clogged"
    assert [str(raised.hazard) for raised in one.events(HazardRaised)] == ["tingle"]


def test_a_breaker_has_a_lever_and_no_button(knowledge: Knowledge, talk: Begin) -> None:
    clean, signed = talk("room at 60, set at 40"), talk("room at 60, set at 40")

    asked = clean.text("the breaker tripped")
    assert "Was there a burning smell, heat, water or a tingle" in asked
    allowed = clean.text("2")
    assert "RESET" not in allowed
    assert "off, then on, once" in allowed

    signed.text("the breaker tripped")
    said = signed.text("1")
    assert "RESET" not in said
    assert first_sentence(knowledge, "breaker_again") in said
    assert signed.state == "danger"


@pytest.mark.parametrize("reply", ["no", "not now", "you read me wrong"])
def test_a_doubtful_danger_is_asked_about_and_a_no_in_any_words_is_an_answer(talk: Begin, reply: str) -> None:
    one = talk("room at 60, set at 40")

    asked = one.text("my aunt went to get eggs and is not back yet")
    assert "Reply yes or no" in asked
    said = one.text(reply)

    assert "Good to hear" in said
    assert one.state == "asking"


def test_who_does_not_know_whether_there_is_danger_is_kept_from_it(talk: Begin) -> None:
    one = talk("room at 60, set at 40", "my aunt went to get eggs and is not back yet")

    one.text("not sure")

    assert one.state == "danger"


@pytest.mark.parametrize("words", ["it quit again just now", "se volvió a apagar"])
def test_a_second_stop_after_a_trip_is_a_second_trip(knowledge: Knowledge, talk: Begin, words: str) -> None:
    one = talk("room at 60, set at 40", "the breaker tripped", "2", "done")
    fresh = talk("room at 60, set at 40")

    said = one.text(words)
    fresh.text(words)

    assert first_sentence(knowledge, "breaker_again") in said
    assert one.state == "danger"
    assert fresh.state == "asking"
