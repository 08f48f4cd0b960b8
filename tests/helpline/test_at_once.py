"""Many threads at one case."""

from concurrent.futures import ThreadPoolExecutor

import pytest
from sqlalchemy import select, text

from assistant.casebook import Casebook, cases, inbox, people
from assistant.casebook.tables import CaseRow, EventRow
from assistant.conversation.ids import MessageId
from tests.helpline.fakes import NOON, TEXAS, Post, after, small_helpline


def test_messages_at_once_are_all_answered_and_the_log_has_no_gap(book: Casebook) -> None:
    helpline = small_helpline(book)
    case = helpline.open_case(client_id="c1", at=NOON).case

    with ThreadPoolExecutor(4) as threads:
        sent = [
            threads.submit(helpline.receive, case, None, f"loud {n}", f"m{n}", after(n)) for n in range(12)
        ]
        answers = [future.result() for future in sent]

    assert all(len(answer.messages) == 1 for answer in answers)
    assert len({answer.messages[0].id for answer in answers}) == 12
    with book.reading() as session:
        places = session.scalars(select(EventRow.sequence).order_by(EventRow.sequence)).all()
    assert places == list(range(1, len(places) + 1))


def test_the_same_message_at_once_gets_one_answer(book: Casebook) -> None:
    helpline = small_helpline(book)
    case = helpline.open_case(client_id="c1", at=NOON).case

    with ThreadPoolExecutor(4) as threads:
        sent = [threads.submit(helpline.receive, case, None, "loud", "m1", after(1)) for _ in range(4)]
        answers = {future.result() for future in sent}

    assert len(answers) == 1


def test_the_same_opening_at_once_makes_one_case(book: Casebook) -> None:
    helpline = small_helpline(book)

    with ThreadPoolExecutor(4) as threads:
        sent = [
            threads.submit(helpline.open_case, client_id="c1", at=NOON, text="too warm") for _ in range(4)
        ]
        openings = {future.result() for future in sent}

    assert len(openings) == 1
    with book.reading() as session:
        assert len(session.scalars(select(CaseRow.id)).all()) == 1


def test_texts_of_a_new_number_at_once_come_into_one_case_and_go_out_once(book: Casebook) -> None:
    post = Post()
    helpline = small_helpline(book, post)

    with ThreadPoolExecutor(4) as threads:
        sent = [
            threads.submit(helpline.receive_from, "sms", TEXAS, f"loud {n}", f"s{n}", after(n))
            for n in range(4)
        ]
        cases = {future.result().case for future in sent}
        sweeps = [threads.submit(helpline.run_due, after(5)) for _ in range(4)]
        assert all(sweep.result() >= 0 for sweep in sweeps)
    helpline.run_due(after(6))

    assert len(cases) == 1
    assert sorted(post.texts()) == [f"Question {n}? 1 yes, 2 no" for n in range(1, 5)]
    assert len(set(post.once)) == len(post.once) == 4


def test_a_timer_fires_once_however_many_workers_look(book: Casebook) -> None:
    helpline = small_helpline(book)
    case = helpline.open_case(client_id="c1", at=NOON, text="ask me later").case

    with ThreadPoolExecutor(4) as threads:
        rounds = [threads.submit(helpline.run_due, after(5 * 60)) for _ in range(4)]
        done = sum(one.result() for one in rounds)

    assert done == 1
    assert [message.text for message in helpline.messages_after(case)][-1] == "How is it now?"


def test_a_held_case_may_still_be_pointed_at(book: Casebook) -> None:
    """Else a message on its way into the case and an answer on its way out would wait for each other for ever."""
    if book.engine.dialect.name == "sqlite":
        pytest.skip("SQLite holds the whole book: writers queue at their beginning")
    helpline = small_helpline(book)
    first = helpline.receive_from("sms", TEXAS, "too warm", "s1", NOON)
    assert first.case is not None

    with book.writing() as holding:
        kept = cases.lock_case(holding, first.case)
        people.lock_address(holding, str(kept.address_id))
        with book.writing() as pointing:
            pointing.execute(text("SET LOCAL lock_timeout = '2s'"))
            inbox.take_in(
                pointing,
                sender="s",
                client_id="c",
                message_id=MessageId("m"),
                content_digest="",
                at=NOON,
                case_id=first.case,
                address_id=kept.address_id,
                state="answered",
            )
