"""What people say instead of an answer, beside one, or to take one back: each test is a talk."""

from collections.abc import Callable

import pytest

from assistant.conversation.events import Asked, CheckLaidAside, FixDone, HazardRaised, NumberLearned
from tests.conversation.conftest import Talk
from tests.conversation.test_choosing import put

Begin = Callable[..., Talk]
CLOGGED = "walk-in is at 50, should be 38. window unit, filter is clogged"
TAPADO = "el cuarto está a 12 y debe estar a 4, aire de ventana, el filtro está tapado"


def room_numbers(one: Talk) -> list[float]:
    return [number.value for number in one.events(NumberLearned) if number.quantity == "room_c"]


@pytest.mark.parametrize(
    "words", ["done, its 47 now", "ok done it's at 47", "cleaned it, its 47 now", "did that, 47"]
)
def test_a_number_beside_done_is_the_number_after_the_fix(talk: Begin, words: str) -> None:
    one = talk(CLOGGED)

    said = one.text(words)

    assert room_numbers(one)[-1] == 47
    assert len(one.events(FixDone)) == 1
    assert "47 F" in said
    assert "now?" not in said  # it is not asked for again


def test_done_at_the_target_is_held_and_looked_at_once_more(talk: Begin) -> None:
    assert "38 F: it is at the target" in talk(CLOGGED).text("done, it's 38 now")


@pytest.mark.parametrize(
    ("opening", "words"),
    [(CLOGGED, "it's fine now"), (CLOGGED, "It holds now"), (TAPADO, "ya funciona bien")],
)
def test_it_works_now_in_the_middle_of_a_fix_is_heard_and_proved_by_a_number(
    talk: Begin, opening: str, words: str
) -> None:
    one = talk(opening)

    said = one.text(words)

    assert len(one.events(FixDone)) == 1
    assert "number" in said or "número" in said


def test_is_it_fine_now_is_a_question_and_no_news(talk: Begin) -> None:
    one = talk(CLOGGED)

    one.text("is it fine now?")

    assert one.events(FixDone) == []


def test_a_fact_told_instead_of_an_answer_is_taken_and_never_called_unreadable(talk: Begin) -> None:
    one = talk("cooler is at 50, set to 38. window unit")

    said = one.text("there's no ice on the coil")

    assert one.known("coil_ice") == "none"
    assert "make that out" not in said
    assert one.player.case.misread == 0


def test_a_fact_too_short_to_be_sure_of_is_asked_about_and_then_taken(talk: Begin) -> None:
    one = talk("cooler is at 50, set to 38. window unit")

    said = one.text("no ice")
    one.text("yes")

    assert "ice" in said
    assert "?" in said
    assert one.known("coil_ice") == "none"


def test_an_open_question_is_put_at_most_twice_and_then_left(talk: Begin) -> None:
    one = talk("cooler is at 50, set to 38. window unit")
    first = one.open_check

    one.text("banana")
    one.text("purple")

    assert [str(asked.check) for asked in one.events(Asked)].count(str(first)) == 2
    assert one.open_check not in {None, first}
    assert [aside.reason for aside in one.events(CheckLaidAside)] == ["unanswered"]


def test_three_times_nothing_brings_a_person(talk: Begin) -> None:
    one = talk("cooler is at 50, set to 38. window unit", "banana", "purple", "xylophone")

    assert one.state == "with_person"


def test_what_is_only_like_an_answer_is_asked_and_not_taken(talk: Begin) -> None:
    one = talk("room is 52 want 38")
    put(one, "ask_trend")

    said = one.text("about 8 hours i guess")

    assert one.known("trend") is None
    assert "?" in said


def test_words_that_surely_tell_another_thing_are_no_answer_to_the_open_question(talk: Begin) -> None:
    one = talk("room is 52 want 38")
    put(one, "ask_trend")

    one.text("window unit")

    assert one.known("equipment") == "window"
    assert one.known("trend") is None


@pytest.mark.parametrize(
    ("opening", "words"),
    [
        (
            "walk-in is at 50, should be 38. window unit. the whole coil is covered in ice",
            "actually only the bottom ones",
        ),
        (
            "el cuarto está a 12 y debe estar a 4, el serpentín está todo cubierto de hielo",
            "solo las de abajo",
        ),
    ],
)
def test_what_they_take_back_in_half_a_sentence_is_heard_and_said_back(
    talk: Begin, opening: str, words: str
) -> None:
    one = talk(opening)

    said = one.text(words)

    assert one.known("ice_pattern") == "bottom_rows"
    assert "bottom rows" in said or "de abajo" in said


def test_the_danger_is_spoken_of_before_any_fix_when_a_colleague_reopens(talk: Begin) -> None:
    one = talk("there is a burning smell from the unit and the room is at 50, set to 38")

    said = one.desk("reopens")

    assert "You wrote of a burning smell" in said
    assert one.open_check is None


def test_a_danger_that_is_not_made_safe_stops_the_case_again(talk: Begin) -> None:
    one = talk("there is a burning smell from the unit and the room is at 50, set to 38")
    one.desk("reopens")

    one.text("no, it still smells")

    assert one.state == "danger"
    assert len(one.events(HazardRaised)) == 2


def test_a_danger_made_safe_lets_the_search_go_on(talk: Begin) -> None:
    one = talk("there is a burning smell from the unit and the room is at 50, set to 38")
    one.desk("reopens")

    one.text("yes, the electrician was here")

    assert one.state == "asking"
    assert one.open_check is not None


@pytest.mark.parametrize(
    ("words", "kind"),
    [
        ("third day of this, I'm losing everything!! cooler at 55 set to 38", "sorry"),
        ("se me va a perder toda la cosecha, el cuarto está a 14 y debe estar a 4", "siento"),
        ("sorry to bother you so late, my walk in is at 50 set to 38", "No trouble"),
    ],
)
def test_one_kind_word_and_only_one(talk: Begin, words: str, kind: str) -> None:
    one = talk()

    assert kind in one.text(words)
    assert kind not in one.text(f"{words.split(',', maxsplit=1)[0]}, no sé, not sure")
