"""The log as kept, and the case that it folds to."""

from datetime import timedelta
from functools import reduce
from typing import get_args

import pytest

from assistant.casebook import Casebook, cases, editions, load_case
from assistant.conversation import apply, new_case
from assistant.conversation.events import Event
from assistant.conversation.record import from_record, to_record
from tests.helpline.fakes import NOON, after, small_helpline


def test_folding_gives_the_same_case_however_often_and_whatever_the_program_thinks_today(
    book: Casebook,
) -> None:
    helpline = small_helpline(book)
    case = helpline.open_case(client_id="c1", at=NOON, text="ask me later").case
    for number, words in enumerate(("number", "49", "fire", "loud")):
        helpline.receive(case, None, words, f"m{number}", after(number))

    with book.reading() as session:
        first, version = load_case(session, case)
        again, _ = load_case(session, case)
        log = cases.events_of(session, case)

    assert first == again == reduce(apply, (event for _, event in log), new_case())
    assert version == len(log)
    assert [place for place, _ in log] == list(range(1, version + 1))


def test_a_case_is_where_its_standing_says(book: Casebook) -> None:
    helpline = small_helpline(book)
    case = helpline.open_case(client_id="c1", at=NOON, text="number").case
    helpline.receive(case, None, "fire", "m1", after(1))

    with book.reading() as session:
        folded, version = load_case(session, case)
        standing = cases.standing_of(session, case)
        kept = cases.find_case(session, case)

    assert kept is not None
    assert (standing.state, standing.voice, kept.version) == (folded.state, folded.voice, version)
    assert standing.last_heard_at == folded.last_heard_at
    assert standing.needs_since == after(1)


def test_two_writers_cannot_stand_at_the_same_place_of_a_log(book: Casebook) -> None:
    helpline = small_helpline(book)
    case = helpline.open_case(client_id="c1", at=NOON).case
    with book.reading() as session:
        log = [event for _, event in cases.events_of(session, case)]

    with pytest.raises(Exception, match=r"(?i)unique"), book.writing() as session:
        cases.append_events(session, case, 0, log, edition="small", program="test")


def test_every_kind_of_event_survives_the_database(book: Casebook) -> None:
    helpline = small_helpline(book)
    case = helpline.open_case(client_id="c1", at=NOON, text="ask me later").case
    helpline.receive(case, None, "number", "m1", after(1))
    helpline.receive(case, None, ["49", "25"][0], "m2", after(2))
    helpline.take_over(case, "Ana", after(3))
    helpline.close(case, "Ana", after(4))

    with book.reading() as session:
        log = [event for _, event in cases.events_of(session, case)]

    assert {type(event) for event in log} <= set(get_args(Event))
    assert [from_record(to_record(event)) for event in log] == log


def test_the_same_files_make_the_same_bytes_and_are_kept_once(book: Casebook) -> None:
    files = {"b.yaml": "b: 1\n", "a.yaml": "a: ñ\n"}
    with book.writing() as session:
        editions.keep_edition(session, "e1", files, NOON)
        editions.keep_edition(session, "e1", {"other": ""}, NOON + timedelta(days=1))

    with book.reading() as session:
        assert editions.edition_files(session, "e1") == files
        assert editions.edition_files(session, "e2") is None
