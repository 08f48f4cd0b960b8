"""Bringing a database up to today's tables, from wherever it stands; the steps are in `migrations/versions`."""

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Final

from alembic.autogenerate import compare_metadata
from alembic.config import Config
from alembic.migration import MigrationContext
from alembic.runtime.environment import EnvironmentContext
from alembic.script import ScriptDirectory
from sqlalchemy import Connection, Engine

from assistant.casebook.tables import Base

STEPS: Final = Path(__file__).parent / "migrations"


def upgrade(engine: Engine, to: str = "head", steps_in: Path = STEPS) -> None:
    """Run every step that the database has not seen; running it again changes nothing."""
    config, steps = _steps(steps_in)

    def wanted(revision: Any, _context: MigrationContext) -> Iterable[Any]:  # Any: alembic's own typing
        return steps._upgrade_revs(to, revision)  # noqa: SLF001 - alembic's commands call it; env.py would be the other way

    with (
        engine.connect() as connection,
        _tables_may_be_rebuilt(connection),
        connection.begin(),
        EnvironmentContext(config, steps, fn=wanted) as environment,
    ):
        environment.configure(connection=connection, target_metadata=Base.metadata, render_as_batch=True)
        environment.run_migrations()


def is_current(engine: Engine) -> bool:
    """The database has seen every step."""
    _, steps = _steps(STEPS)
    with engine.connect() as connection:
        return MigrationContext.configure(connection).get_current_heads() == tuple(steps.get_heads())


def differences(
    connection: Connection,
) -> tuple[Any, ...]:  # Any: alembic describes a difference as nested tuples
    """What the tables and the database disagree about; nothing, after `upgrade`."""
    context = MigrationContext.configure(connection, opts={"compare_type": True})
    return tuple(compare_metadata(context, Base.metadata))


@contextmanager
def _tables_may_be_rebuilt(connection: Connection) -> Iterator[None]:
    """SQLite changes a table by building it anew; with foreign keys on, dropping the old one would take rows along."""
    driver = connection.connection.driver_connection
    if connection.dialect.name != "sqlite" or driver is None:
        yield
        return
    driver.execute(
        "PRAGMA foreign_keys=OFF"
    ).close()  # has no effect once a transaction has begun, hence here
    try:
        yield
        broken = driver.execute("PRAGMA foreign_key_check").fetchall()
    finally:
        driver.execute("PRAGMA foreign_keys=ON").close()
    if broken:
        msg = f"a migration left rows that point nowhere: {broken[:5]}"
        raise ValueError(msg)


def _steps(folder: Path) -> tuple[Config, ScriptDirectory]:
    config = Config()
    config.set_main_option("script_location", str(folder).replace("%", "%%"))
    config.set_main_option("path_separator", "os")
    return config, ScriptDirectory.from_config(config)
