"""Texts that a webhook carries away, put back for a while, and what the provider said became of them."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the columns."""
    with op.batch_alter_table("outbox") as table:
        table.add_column(sa.Column("put_backs", sa.Integer(), nullable=False, server_default="0"))
        table.add_column(sa.Column("delivery", sa.Text(), nullable=True))
        table.create_index("ix_outbox_provider_id", ["provider_id"])
    with op.batch_alter_table("address") as table:
        table.add_column(sa.Column("unreachable", sa.Text(), nullable=True))


def downgrade() -> None:
    """Drop them, with what is in them."""
    with op.batch_alter_table("address") as table:
        table.drop_column("unreachable")
    with op.batch_alter_table("outbox") as table:
        table.drop_index("ix_outbox_provider_id")
        table.drop_column("delivery")
        table.drop_column("put_backs")
