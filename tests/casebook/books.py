"""Casebooks for tests: SQLite always, PostgreSQL where HELPLINE_TEST_POSTGRES_URL names a server."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy import Engine, Table, event, insert, make_url, select, text
from sqlalchemy.engine.interfaces import DBAPIConnection

from assistant.casebook import open_engine
from assistant.casebook.tables import Base

POSTGRES_URL = os.environ.get("HELPLINE_TEST_POSTGRES_URL")
NO_POSTGRES = "HELPLINE_TEST_POSTGRES_URL names no server"


@contextmanager
def sqlite_engine(folder: Path) -> Iterator[Engine]:
    engine = open_engine(f"sqlite:///{folder / 'test.sqlite3'}")
    event.listen(engine, "connect", _hurry)
    yield engine
    engine.dispose()


def _hurry(connection: DBAPIConnection, _entry: object) -> None:
    """A test pulls no real plug, so the disk need not be waited for."""
    cursor = connection.cursor()
    cursor.execute("PRAGMA synchronous=OFF")
    cursor.close()


@contextmanager
def postgres_engine(name: str) -> Iterator[Engine]:
    """A schema of its own on the test server, dropped afterwards."""
    assert POSTGRES_URL is not None
    schema = f"t_{os.getpid()}_{name}"
    whole = open_engine(POSTGRES_URL)
    with whole.begin() as connection:
        connection.execute(text(f"DROP SCHEMA IF EXISTS {schema} CASCADE"))
        connection.execute(text(f"CREATE SCHEMA {schema}"))
    url = make_url(POSTGRES_URL).update_query_dict({"options": f"-csearch_path={schema}"})
    engine = open_engine(url.render_as_string(hide_password=False))
    try:
        yield engine
    finally:
        engine.dispose()
        with whole.begin() as connection:
            connection.execute(text(f"DROP SCHEMA {schema} CASCADE"))
        whole.dispose()


@contextmanager
def engine_of(kind: str, folder: Path) -> Iterator[Engine]:
    with sqlite_engine(folder) if kind == "sqlite" else postgres_engine(folder.name) as engine:
        yield engine


def empty(engine: Engine) -> None:
    """Take all rows out, for a test that begins again many times."""
    with engine.begin() as connection:
        for table in reversed(Base.metadata.sorted_tables):
            connection.execute(table.delete())


Pages = tuple[tuple[Table, list[dict[str, object]]], ...]


def pages_of(engine: Engine) -> Pages:
    """All rows, to be put back later."""
    with engine.connect() as connection:
        return tuple(
            (table, [dict(row) for row in connection.execute(select(table)).mappings()])
            for table in Base.metadata.sorted_tables
        )


def put_back(engine: Engine, pages: Pages) -> None:
    """These rows and no others."""
    empty(engine)
    with engine.begin() as connection:
        for table, rows in pages:
            if rows:
                connection.execute(insert(table), rows)
