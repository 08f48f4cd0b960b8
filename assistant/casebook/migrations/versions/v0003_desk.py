"""Who signs in at the desk, what they did, and their asides."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None

RISING = sa.BigInteger().with_variant(sa.Integer(), "sqlite")


def upgrade() -> None:
    """Make the tables."""
    op.create_table(
        "staff",
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("role", sa.Text(), nullable=False),
        sa.Column("secret_hash", sa.Text(), nullable=False),
        sa.Column("since", sa.DateTime(timezone=True), nullable=False),
        sa.Column("failures", sa.Integer(), nullable=False, server_default="0"),
        sa.Column("shut_until", sa.DateTime(timezone=True), nullable=True),
        sa.PrimaryKeyConstraint("name", name=op.f("pk_staff")),
    )
    op.create_table(
        "staff_session",
        sa.Column("key_hash", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("since", sa.DateTime(timezone=True), nullable=False),
        sa.Column("seen_at", sa.DateTime(timezone=True), nullable=False),
        sa.ForeignKeyConstraint(["name"], ["staff.name"], name=op.f("fk_staff_session_name_staff")),
        sa.PrimaryKeyConstraint("key_hash", name=op.f("pk_staff_session")),
    )
    op.create_index(op.f("ix_staff_session_name"), "staff_session", ["name"])
    op.create_table(
        "deed",
        sa.Column("id", RISING, nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("deed", sa.Text(), nullable=False),
        sa.Column("case_id", sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_deed")),
    )
    op.create_index(op.f("ix_deed_case_id"), "deed", ["case_id"])
    op.create_table(
        "aside",
        sa.Column("id", RISING, nullable=False),
        sa.Column("case_id", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("text_id", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["case_id"], ["case.id"], name=op.f("fk_aside_case_id_case")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_aside")),
    )
    op.create_index(op.f("ix_aside_case_id"), "aside", ["case_id"])


def downgrade() -> None:
    """Drop them, with everything that is in them."""
    for table in ("aside", "deed", "staff_session", "staff"):
        op.drop_table(table)
