import threading
from datetime import datetime
from pathlib import Path

import pytest
from sqlalchemy import select
from sqlalchemy.exc import IntegrityError, StatementError

from assistant.casebook import Casebook, open_engine, people
from assistant.casebook.tables import PersonRow
from tests.helpline.fakes import NOON, after


def test_sqlite_is_opened_so_that_a_power_cut_loses_nothing(tmp_path: Path) -> None:
    # sqlite.org/pragma.html: in WAL only synchronous=FULL (2) keeps every commit through a power loss
    engine = open_engine(f"sqlite:///{tmp_path / 'a.sqlite3'}")
    wanted = {"journal_mode": "wal", "synchronous": 2, "foreign_keys": 1, "busy_timeout": 5000}

    with engine.connect() as connection:
        found = {name: connection.exec_driver_sql(f"PRAGMA {name}").scalar() for name in wanted}
    engine.dispose()

    assert found == wanted


def test_times_come_back_aware_and_in_utc(book: Casebook) -> None:
    texas = datetime.fromisoformat("2026-07-14T11:00:00-05:00")
    with book.writing() as session:
        people.add_person(session, "p", None, texas)

    with book.reading() as session:
        kept = session.scalars(select(PersonRow.begun_at)).one()

    assert kept == NOON
    assert kept.utcoffset() == NOON.utcoffset()


def test_a_time_without_a_zone_is_refused(book: Casebook) -> None:
    with pytest.raises(StatementError, match="without a zone"), book.writing() as session:
        people.add_person(session, "p", None, NOON.replace(tzinfo=None))


def test_a_transaction_that_fails_leaves_nothing(book: Casebook) -> None:
    def fail() -> None:
        with book.writing() as session:
            people.add_person(session, "p", None, NOON)
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        fail()

    with book.reading() as session:
        assert session.scalars(select(PersonRow)).all() == []


def test_a_row_that_points_nowhere_is_refused(book: Casebook) -> None:
    with pytest.raises(IntegrityError), book.writing() as session:
        people.link(session, "nobody", "nowhere")


def test_writers_who_read_first_queue_instead_of_failing(book: Casebook) -> None:
    def one_more() -> None:
        for _ in range(10):
            with book.writing() as session:
                number = len(session.scalars(select(PersonRow.id)).all())
                people.add_person(session, f"{threading.get_ident()}.{number}", None, after(number))

    threads = [threading.Thread(target=one_more) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    with book.reading() as session:
        assert len(session.scalars(select(PersonRow.id)).all()) == 40
