"""Opening a casebook: SQLite by default, PostgreSQL equally; what each needs so that nothing acknowledged is lost."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass

from sqlalchemy import Connection, Engine, create_engine, event, make_url
from sqlalchemy.engine.interfaces import DBAPIConnection
from sqlalchemy.orm import Session
from sqlalchemy.pool import ConnectionPoolEntry

BUSY_MS = 5000
"""How long a writer waits for another."""


def open_engine(url: str) -> Engine:
    """An engine for an SQLAlchemy address.

    >>> open_engine("sqlite://").dialect.name
    'sqlite'
    """
    engine = create_engine(make_url(url))
    if engine.dialect.name == "sqlite":
        event.listen(engine, "connect", _prepare_sqlite)
        event.listen(engine, "begin", _begin_sqlite)
    return engine


def _prepare_sqlite(connection: DBAPIConnection, _entry: ConnectionPoolEntry) -> None:
    assert isinstance(connection, sqlite3.Connection)  # noqa: S101 - the dialect was looked at
    connection.isolation_level = None  # we say BEGIN ourselves: the driver would begin too late
    # synchronous=FULL: in WAL, NORMAL may lose acknowledged commits in a power cut (sqlite.org/pragma.html)
    for pragma in ("journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON", f"busy_timeout={BUSY_MS}"):
        connection.execute(f"PRAGMA {pragma}").close()


def _begin_sqlite(connection: Connection) -> None:
    """Writers queue at their beginning: who reads first and writes later would fail at once instead of waiting."""
    reads = connection.get_execution_options().get("reads_only", False)
    connection.exec_driver_sql("BEGIN" if reads else "BEGIN IMMEDIATE")


@dataclass(frozen=True, slots=True)
class Casebook:
    """Where cases are kept: one transaction at a time, to write or to read."""

    engine: Engine

    @contextmanager
    def writing(self) -> Iterator[Session]:
        """One transaction that may write; committed at its end, undone when it fails."""
        with Session(self.engine, expire_on_commit=False) as session, session.begin():
            yield session

    @contextmanager
    def reading(self) -> Iterator[Session]:
        """One transaction that only reads; it never waits for a writer."""
        with (
            Session(self.engine.execution_options(reads_only=True), expire_on_commit=False) as session,
            session.begin(),
        ):
            yield session
