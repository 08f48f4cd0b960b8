"""Texts that come unasked need a yes, where the channel is one that texts."""

from collections.abc import Callable
from datetime import timedelta

import pytest

from assistant.conversation.events import CaseClosed, FixDone, FixJudged, TimerDropped, TimerSet
from assistant.conversation.happenings import CaseBegun, TimerDue
from assistant.conversation.ids import ConsentScope
from assistant.conversation.line_events import ConsentAnswered
from kb.gsm7 import fold_for_sms, segments
from kb.ids import Language
from kb.knowledge import Knowledge
from tests.conversation.conftest import Talk

Begin = Callable[..., Talk]


@pytest.fixture
def phone(knowledge: Knowledge) -> Begin:
    """A talk by telephone, where nothing was agreed to yet, but for what is named."""

    def begin(*agreed: ConsentScope, language: Language | None = None) -> Talk:
        one = Talk(knowledge, language)
        begun = one.player.case.opened
        assert begun is not None
        one.player.events.clear()
        one.player.case = type(one.player.case)()
        one.player.happen(
            CaseBegun(
                at=one.player.at,
                language=language,
                channel="sms",
                zone=begun.zone,
                region="911",
                agreed=agreed,
            )
        )
        return one

    return begin


ENGLISH = (
    "my room is at 52 F, set to 38 F, window unit, and the filter is packed with dust",
    "not sure",
    "done",
)
SPANISH = (
    "mi cuarto está a 52 F, puesto a 38 F, aire de ventana, y el filtro está tapado de polvo",
    "no sé",
    "listo",
)


def to_the_promise(one: Talk, words: tuple[str, str, str] = ENGLISH) -> str:
    """A clogged filter, cleaned; the last reply promises an hour."""
    first, unsure, done = words
    one.text(first)
    for _ in range(12):
        if one.player.case.fix_under_way is not None and one.player.case.state == "fixing":
            break
        one.text(unsure)
    said = one.text(done)
    while not one.events(FixDone):  # the steps come one by one
        said = one.text(done)
    return (
        said
        if one.player.case.state == "waiting" and one.events(TimerSet)[-1].timer == "verify"
        else one.text("51 F")
    )


def test_a_promised_hour_is_asked_about_and_kept_after_a_yes(phone: Begin) -> None:
    one = phone()
    said = to_the_promise(one)

    assert said.endswith("May I text you then? 1 yes, 2 no")
    assert one.text("1") == "Good, I will."
    assert [(e.scope, e.yes) for e in one.events(ConsentAnswered)] == [("follow_up", True)]
    assert "?" in one.wait(hours=8)


def test_after_a_no_the_hour_is_not_kept_and_a_number_is_still_welcome(phone: Begin) -> None:
    one = phone()
    to_the_promise(one)

    assert "yourself" in one.text("no")
    assert any(e.timer == "verify" for e in one.events(TimerDropped))
    assert one.wait(hours=12) == ""
    one.text("39 F")
    assert one.events(FixJudged)


def test_without_an_answer_nothing_comes(phone: Begin) -> None:
    one = phone()
    to_the_promise(one)

    assert one.wait(hours=12) == ""


def test_a_number_in_place_of_a_yes_is_the_number(phone: Begin) -> None:
    one = phone()
    to_the_promise(one)
    one.wait(hours=5)

    said = one.text("39")

    assert "39 F" in said
    assert not one.events(ConsentAnswered)
    assert one.player.case.latest_number("room_c").value == 39  # type: ignore[union-attr]  # just given


def test_an_earlier_yes_is_not_asked_for_again(phone: Begin) -> None:
    assert "May I" not in to_the_promise(phone("follow_up"))


def test_a_page_needs_no_yes(talk: Begin) -> None:
    assert "May I" not in to_the_promise(talk())


def to_the_end(one: Talk, words: tuple[str, str, str] = ENGLISH) -> str:
    to_the_promise(one, words)
    assert one.text("1").startswith(("Good", "Bien"))
    one.wait(hours=8)
    one.text("38 F")
    one.wait(hours=8)
    return one.text("38 F")


def test_once_it_holds_the_monthly_cleaning_is_offered_and_comes_after_a_yes(phone: Begin) -> None:
    one = phone()

    said = to_the_end(one)

    assert said.endswith("1 yes, 2 no")
    assert "once a month" in said
    assert one.text("yes please").startswith("Good, once a month")
    assert one.state == "closed"
    first, second = one.wait(days=31), one.wait(days=31)
    assert first.startswith("Monthly look")
    assert second.startswith("Time again")
    assert len(one.events(CaseClosed)) == 1
    due = [e.local for e in one.events(TimerSet) if e.timer == "cleaning"]
    assert all(local.endswith("T10:00") for local in due)


@pytest.mark.parametrize("reply", ["no", ""])
def test_no_yes_no_reminder(phone: Begin, reply: str) -> None:
    one = phone()
    to_the_end(one)
    if reply:
        one.text(reply)
    assert one.wait(days=70) == ""
    assert one.state == "closed"


def test_the_offer_does_not_keep_a_new_trouble_from_being_heard(phone: Begin) -> None:
    one = phone()
    to_the_end(one)
    one.text("now the door does not close")
    assert one.state != "closed"


def test_an_hour_that_is_long_past_is_no_longer_the_one_agreed_to(phone: Begin) -> None:
    one = phone("follow_up")
    to_the_promise(one)
    timer = next(t for t in one.player.case.timers if t.timer == "verify")
    one.player.at = timer.due + timedelta(hours=3)
    (said, *_) = one.player.happen(TimerDue(at=one.player.at, timer=timer.timer))
    assert not said.urgent


def test_in_spanish_all_of_it_fits_two_parts(phone: Begin) -> None:
    one = phone(language="es")
    said = to_the_end(one, SPANISH)
    assert "una vez al mes" in said
    one.text("sí")
    one.wait(days=31)
    assert all(segments(fold_for_sms(text)) <= 2 for text in one.replies)


def test_what_is_not_understood_leaves_the_question_open(phone: Begin) -> None:
    one = phone()
    to_the_promise(one)

    assert "text you" in one.text("banana")
    assert one.text("yes") == "Good, I will."


def test_after_a_no_no_further_hour_is_promised(phone: Begin) -> None:
    one = phone()
    to_the_promise(one)
    one.text("no")
    one.wait(hours=5)

    assert "yourself" in one.text("38 F")
    assert one.wait(hours=20) == ""
