"""Photos, limits and codes; how far a yes reaches; SMS parts of a text."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None

TIME = sa.DateTime(timezone=True)


def upgrade() -> None:
    """Make the tables and add the columns."""
    op.create_table(
        "photo",
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("message_id", sa.Text(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("state", sa.Text(), nullable=False),
        sa.Column("origin", sa.Text(), nullable=True),
        sa.Column("due_after", TIME, nullable=False),
        sa.Column("attempts", sa.Integer(), nullable=False),
        sa.Column("why", sa.Text(), nullable=True),
        sa.Column("size_bytes", sa.Integer(), nullable=True),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_photo")),
    )
    op.create_index(op.f("ix_photo_message_id"), "photo", ["message_id"])
    op.create_index(op.f("ix_photo_state"), "photo", ["state"])
    op.create_table(
        "meter",
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("since", TIME, nullable=False),
        sa.Column("used", sa.Integer(), nullable=False),
        sa.Column("told", sa.Boolean(), nullable=False),
        sa.PrimaryKeyConstraint("name", "since", name=op.f("pk_meter")),
    )
    op.create_table(
        "code",
        sa.Column("digest", sa.Text(), nullable=False),
        sa.Column("to", sa.Text(), nullable=False),
        sa.Column("case_id", sa.Text(), nullable=False),
        sa.Column("until", TIME, nullable=False),
        sa.Column("used_at", TIME, nullable=True),
        sa.ForeignKeyConstraint(["case_id"], ["case.id"], name=op.f("fk_code_case_id_case")),
        sa.PrimaryKeyConstraint("digest", name=op.f("pk_code")),
    )
    op.create_index(op.f("ix_code_case_id"), "code", ["case_id"])
    with op.batch_alter_table("consent") as table:
        table.add_column(sa.Column("scope", sa.Text(), nullable=False, server_default="texts"))
        table.add_column(sa.Column("message_id", sa.Text(), nullable=True))
    with op.batch_alter_table("case") as table:
        table.add_column(sa.Column("photo_since", TIME, nullable=True))
    with op.batch_alter_table("inbox") as table:
        table.add_column(sa.Column("photos", sa.Integer(), nullable=False, server_default="0"))
        table.add_column(sa.Column("carrier_word", sa.Text(), nullable=True))
    with op.batch_alter_table("outbox") as table:
        table.add_column(sa.Column("segments", sa.Integer(), nullable=True))


def downgrade() -> None:
    """Drop them, with everything that is in them."""
    for table, columns in (
        ("outbox", ("segments",)),
        ("inbox", ("carrier_word", "photos")),
        ("case", ("photo_since",)),
        ("consent", ("message_id", "scope")),
    ):
        with op.batch_alter_table(table) as altered:
            for column in columns:
                altered.drop_column(column)
    for table in ("code", "meter", "photo"):
        op.drop_table(table)
