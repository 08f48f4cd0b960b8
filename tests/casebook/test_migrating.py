from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import Engine, select, text

from assistant.casebook import Casebook, is_current, load_case, upgrade
from assistant.casebook.migrating import STEPS, differences
from assistant.casebook.tables import Base
from tests.casebook.books import engine_of, pages_of
from tests.casebook.conftest import KINDS
from tests.helpline.fakes import NOON, TEXAS, Post, after, small_helpline

NEXT_STEP = '''
"""A further step, which builds a table with rows anew."""
import sqlalchemy as sa
from alembic import op

revision, down_revision, branch_labels, depends_on = "9999", "{last}", None, None


def upgrade() -> None:
    with op.batch_alter_table("case") as table:
        table.add_column(sa.Column("further", sa.Text(), nullable=False, server_default="x"))
        table.alter_column("token_hash", new_column_name="hash_of_token")
'''


@pytest.fixture(params=KINDS)
def bare(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Engine]:
    with engine_of(str(request.param), tmp_path) as engine:
        yield engine


def test_the_steps_make_exactly_the_tables(bare: Engine) -> None:
    assert not is_current(bare)

    upgrade(bare)

    assert is_current(bare)
    with bare.connect() as connection:
        assert differences(connection) == ()


def test_upgrading_a_database_with_rows_keeps_them(bare: Engine) -> None:
    upgrade(bare)
    helpline = small_helpline(Casebook(bare), Post())
    case = helpline.receive_from("sms", TEXAS, "ask me later", "s1", NOON).case
    helpline.run_due(after(5))
    before = pages_of(bare)
    with Casebook(bare).reading() as session:
        folded = load_case(session, str(case))

    upgrade(bare)

    assert pages_of(bare) == before
    with Casebook(bare).reading() as session:
        assert load_case(session, str(case)) == folded


def test_a_step_that_rebuilds_a_table_takes_no_row_along(bare: Engine, tmp_path: Path) -> None:
    versions = tmp_path / "steps" / "versions"
    versions.mkdir(parents=True)
    for step in (STEPS / "versions").glob("v*.py"):
        (versions / step.name).write_text(step.read_text())
    last = max(versions.glob("v*.py")).name[1:5]
    (versions / "v9999_further.py").write_text(NEXT_STEP.format(last=last))
    upgrade(bare)
    small_helpline(Casebook(bare)).open_case(client_id="c1", at=NOON, text="too warm")
    before = {table.name: len(rows) for table, rows in pages_of(bare)}

    upgrade(bare, steps_in=tmp_path / "steps")

    with bare.connect() as connection:
        counts = {
            table.name: len(connection.execute(select(text("1")).select_from(table)).all())
            for table in Base.metadata.sorted_tables
        }
        assert counts == before
        assert connection.execute(text('SELECT further FROM "case"')).scalar() == "x"


def test_foreign_keys_are_watched_again_after_an_upgrade(tmp_path: Path) -> None:
    with engine_of("sqlite", tmp_path) as engine:
        upgrade(engine)
        with engine.connect() as connection:
            assert connection.exec_driver_sql("PRAGMA foreign_keys").scalar() == 1
