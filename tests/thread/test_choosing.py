from datetime import UTC, datetime, timedelta

import pytest

from assistant.conversation.ids import CaseId, CaseState
from assistant.thread import (
    AskWhichRoom,
    NewCase,
    OpenCase,
    ToCase,
    choose_case,
    is_bare_number,
    room_offered,
)

NOON = datetime(2026, 7, 14, 16, tzinfo=UTC)


def a_case(
    name: str,
    *,
    room: str | None = None,
    state: CaseState = "asking",
    number: bool = False,
    asked: float | None = None,
    last: float = 0,
) -> OpenCase:
    return OpenCase(
        case=CaseId(name),
        room=f"room of {name}",
        name=room,
        state=state,
        waits_for_number=number,
        asked_at=None if asked is None else NOON + timedelta(minutes=asked),
        last_at=NOON + timedelta(minutes=last),
    )


def test_with_nothing_known_a_case_begins() -> None:
    assert choose_case("too warm", (), NOON) == NewCase()


def test_words_go_to_the_case_that_asked_last() -> None:
    cases = (a_case("a", asked=5), a_case("b", asked=9), a_case("c", last=20))

    assert choose_case("it is loud", cases, NOON) == ToCase(case=CaseId("b"))


def test_a_bare_number_goes_to_the_case_that_waits_for_one() -> None:
    cases = (a_case("a", asked=5, number=True), a_case("b", asked=9))

    assert choose_case("49", cases, NOON) == ToCase(case=CaseId("a"))


def test_a_bare_number_that_nobody_waits_for_goes_to_the_case_that_asked_last() -> None:
    cases = (a_case("a", asked=5), a_case("b", asked=9))

    assert choose_case("2", cases, NOON) == ToCase(case=CaseId("b"))


def test_when_two_wait_for_a_number_we_ask_which_room() -> None:
    cases = (a_case("a", asked=5, number=True), a_case("b", asked=9, number=True))

    assert choose_case("49 F", cases, NOON) == AskWhichRoom(cases=(CaseId("a"), CaseId("b")))


def test_a_named_room_decides_even_for_a_number() -> None:
    cases = (a_case("a", room="barn", asked=5, number=True), a_case("b", room="shop", asked=9, number=True))

    assert choose_case("barn 49", cases, NOON) == ToCase(case=CaseId("a"))
    assert choose_case("Barn: 49", cases, NOON) == ToCase(case=CaseId("a"))
    assert choose_case("in the barnyard it is 49", cases, NOON) == ToCase(case=CaseId("b"))


def test_a_resting_case_is_taken_up_within_fourteen_days_and_only_when_none_runs() -> None:
    resting, running = a_case("a", state="closed"), a_case("b", asked=1)

    assert choose_case("it is back", (resting,), NOON + timedelta(days=14)) == ToCase(case=CaseId("a"))
    assert choose_case("it is back", (resting,), NOON + timedelta(days=14, minutes=1)) == NewCase()
    assert choose_case("it is back", (resting, running), NOON) == ToCase(case=CaseId("b"))


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("New problem", None), ("another problem with the milk room", "the milk room"), ("Otro problema.", None),
        ("Problema nuevo en el cuarto de Íñigo", "el cuarto de Íñigo"), ("new problem in " + "x" * 41, None),
    ],
)  # fmt: skip
def test_a_new_problem_begins_another_case(text: str, name: str | None) -> None:
    assert choose_case(text, (a_case("a", asked=1),), NOON) == NewCase(name=name, another_room=True)


def test_a_new_problem_of_a_known_room_is_a_case_of_that_room() -> None:
    assert choose_case("new problem in the Barn", (a_case("a", room="the barn"),), NOON) == NewCase(
        room="room of a"
    )


def test_a_new_problem_in_passing_begins_nothing() -> None:
    said = "we have a new problem: the fan is loud"

    assert choose_case(said, (a_case("a", asked=1),), NOON) == ToCase(case=CaseId("a"))


def test_the_offered_room_is_chosen_by_number_or_name() -> None:
    offered = (a_case("a", room="barn"), a_case("b"))

    assert room_offered("2", offered) == CaseId("b")
    assert room_offered("the barn, please", offered) == CaseId("a")
    assert room_offered("3", offered) is None
    assert room_offered("49", offered) is None
    assert room_offered("no idea", offered) is None


def test_the_choice_does_not_depend_on_the_order_in_which_cases_are_listed() -> None:
    cases = (a_case("a", asked=5), a_case("b", asked=5))

    assert choose_case("it is loud", cases, NOON) == choose_case("it is loud", cases[::-1], NOON)


@pytest.mark.parametrize("text", ["49", "49.5", "49,5", "-2", "−2", "49 f", "49°F", "3 grados", " 8 C. "])
def test_bare_numbers(text: str) -> None:
    assert is_bare_number(text)


@pytest.mark.parametrize("text", ["", "49 in the barn", "about 49", "49 38", "F", "1/2"])
def test_not_bare_numbers(text: str) -> None:
    assert not is_bare_number(text)
