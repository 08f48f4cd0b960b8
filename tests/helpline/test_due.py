from datetime import UTC, datetime, timedelta

import pytest
from sqlalchemy import update

from assistant.casebook import Casebook, MovableClock, counts
from assistant.casebook.tables import EventRow
from assistant.helpline import Refused
from kb.errors import RequestError
from tests.helpline.fakes import NOON, TEXAS, Post, after, small_helpline

FOUR_HOURS = 4 * 60


def test_a_promised_hour_comes_once(book: Casebook) -> None:
    post = Post()
    helpline = small_helpline(book, post)
    helpline.receive_from("sms", TEXAS, "ask me later", "s1", NOON)

    helpline.run_due(after(FOUR_HOURS - 1))
    assert post.texts() == ["I ask later."]
    assert helpline.run_due(after(FOUR_HOURS)) == 2
    assert helpline.run_due(after(FOUR_HOURS + 1)) == 0

    assert post.texts() == ["I ask later.", "How is it now?"]


def test_a_follow_up_in_the_night_waits_for_the_morning_and_is_dropped_when_they_wrote_since(
    book: Casebook,
) -> None:
    post = Post()
    helpline = small_helpline(book, post)
    evening, night = NOON + timedelta(hours=9), NOON + timedelta(hours=13)
    helpline.receive_from("sms", TEXAS, "ask me later", "s1", evening)
    helpline.run_due(evening)

    helpline.run_due(night)
    assert post.texts() == ["I ask later."]
    helpline.receive_from("sms", TEXAS, "still warm", "s2", night)
    helpline.run_due(night)
    helpline.run_due(NOON + timedelta(hours=24))

    assert post.texts() == ["I ask later.", "Question 2? 1 yes, 2 no"]


def test_a_follow_up_in_the_night_goes_out_in_the_morning(book: Casebook) -> None:
    post = Post()
    helpline = small_helpline(book, post)
    helpline.receive_from("sms", TEXAS, "ask me later", "s1", NOON + timedelta(hours=9))
    helpline.run_due(NOON + timedelta(hours=13))

    helpline.run_due(datetime(2026, 7, 15, 12, 59, tzinfo=UTC))
    assert len(post.texts()) == 1
    helpline.run_due(datetime(2026, 7, 15, 13, 0, tzinfo=UTC))  # eight in Texas

    assert post.texts()[1:] == ["How is it now?"]


def test_an_unknown_outcome_is_tried_once_more_and_then_given_up(book: Casebook) -> None:
    post = Post(outcome=None)
    helpline = small_helpline(book, post)
    helpline.receive_from("sms", TEXAS, "too warm", "s1", NOON)

    for minutes in (0, 1, 3, 4, 6, 7, 10):
        helpline.run_due(after(minutes))

    assert len(post.carried) == 2
    assert len(set(post.once)) == 1
    with book.reading() as session:
        assert counts.possible_duplicates(session) == 1
    assert helpline.desk_list()[0].needs_since is not None  # never silence


def test_a_text_waits_for_the_one_before_it(book: Casebook) -> None:
    post = Post(outcome=None)
    helpline = small_helpline(book, post)
    helpline.receive_from("sms", TEXAS, "too warm", "s1", NOON)
    helpline.run_due(NOON)
    helpline.receive_from("sms", TEXAS, "loud", "s2", after(1))

    helpline.run_due(after(1))
    assert len(post.carried) == 1
    post.outcome = Refused(why="landline")
    helpline.run_due(after(3))

    assert [text[:10] for text in post.texts()] == ["Question 1", "Question 1", "Question 2"]


def test_the_case_clock_moves_for_every_process_and_only_forward(book: Casebook) -> None:
    class Noon:
        def now(self) -> datetime:
            return NOON

    here, there = MovableClock(book, Noon()), MovableClock(book, Noon())

    assert here.forward(timedelta(hours=4)) == NOON + timedelta(hours=4)
    here.forward(timedelta(minutes=30))

    assert there.now() == NOON + timedelta(hours=4, minutes=30)
    with pytest.raises(RequestError):
        here.forward(timedelta(hours=-1))


def test_one_case_that_cannot_be_read_keeps_no_other_from_its_hour(book: Casebook) -> None:
    helpline = small_helpline(book)
    broken = helpline.open_case(client_id="c1", at=NOON, text="ask me later").case
    sound = helpline.open_case(client_id="c2", at=after(1), text="ask me later").case
    with book.writing() as session:
        session.execute(update(EventRow).where(EventRow.case_id == broken).values(version=99))

    done = helpline.run_due(after(FOUR_HOURS + 2))

    assert done == 1
    assert helpline.messages_after(sound)[-1].text == "How is it now?"
