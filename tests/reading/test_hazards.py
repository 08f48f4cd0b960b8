"""Dangers in plain and in roundabout words; and what only sounds like one."""

import pytest

from assistant.reading import open_question, read
from kb.ids import CheckId
from kb.knowledge import Knowledge
from tests.reading.conftest import Says
from tests.reading.ways import hazards


@pytest.mark.parametrize(
    ("text", "hazard"),
    [
        ("my son is locked in the cooler", "shut_in"),
        ("hay alguien encerrado en el cuarto", "shut_in"),
        ("getting a tickle when I touch the grille", "tingle"),
        ("me dio toques la rejilla", "tingle"),
        ("if I touch the case I get a tingle", "tingle"),
        ("the plug is hot and kind of melted", "hot_plug"),
        ("la clavija está derretida", "hot_plug"),
        ("there is smoke coming out of the unit", "smoke_fire"),
        ("sale humo del aparato", "smoke_fire"),
        ("the breaker tripped again", "breaker_again"),
        ("the breaker has tripped three times", "breaker_again"),
        ("el breaker se bajó otra vez", "breaker_again"),
        ("smells like burnt plastic by the unit", "burning_smell"),
        ("huele a plástico quemado el aparato", "burning_smell"),
    ],
)
def test_a_danger_is_heard(says: Says, text: str, hazard: str) -> None:
    assert hazard in hazards(says(text))


@pytest.mark.parametrize(
    ("text", "hazard"),
    [("there is somke coming out of the unit", "smoke_fire"), ("me dio tokes la rejilla", "tingle")],
)
def test_a_danger_is_heard_misspelt(says: Says, text: str, hazard: str) -> None:
    assert hazard in hazards(says(text))


def test_a_danger_is_heard_in_the_middle_of_a_reply(knowledge: Knowledge) -> None:
    question = open_question(knowledge, CheckId("look_at_filter"), "en")
    reading = read(knowledge, "2, a bit dusty, and oh the plug is melted", about=question)

    assert reading.answer.state == "dusty"
    assert "hot_plug" in hazards(reading)


@pytest.mark.parametrize(
    "text",
    [
        "there is no smoke and no burning smell",
        "no sale humo ni huele a quemado",
        "nobody is locked in the cooler",
        "what if someone gets locked in the cooler?",
        "the fan smoked last year",
        "heat is trapped inside",
        "I was shocked at the bill",
        "it's a hot afternoon",
    ],
)
def test_what_is_denied_supposed_past_or_a_figure_of_speech_is_none(says: Says, text: str) -> None:
    assert not {hazard for hazard in hazards(says(text)) if confident(says, text, hazard)}


def confident(says: Says, text: str, hazard: str) -> bool:
    """Heard well enough to stop a case: below that the conversation asks."""
    return any(said.hazard == hazard and said.confidence >= 0.6 for said in says(text).hazards)
