"""What the desk works with: words to search, how cases ended, parts and whether they are covered."""

import json
import unicodedata

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None

RISING = sa.BigInteger().with_variant(sa.Integer(), "sqlite")


def upgrade() -> None:
    """Make the tables, and fold what was said so far."""
    op.add_column("personal_text", sa.Column("folded", sa.Text(), nullable=True))
    op.create_table(
        "said_text",
        sa.Column("case_id", sa.Text(), nullable=False),
        sa.Column("sequence", sa.Integer(), nullable=False),
        sa.Column("folded", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["case_id"], ["case.id"], name=op.f("fk_said_text_case_id_case")),
        sa.PrimaryKeyConstraint("case_id", "sequence", name=op.f("pk_said_text")),
    )
    op.create_table(
        "closing",
        sa.Column("case_id", sa.Text(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=True),
        sa.Column("cause", sa.Text(), nullable=True),
        sa.Column("is_new", sa.Boolean(), nullable=False),
        sa.Column("fix", sa.Text(), nullable=True),
        sa.Column("held", sa.Boolean(), nullable=True),
        sa.ForeignKeyConstraint(["case_id"], ["case.id"], name=op.f("fk_closing_case_id_case")),
        sa.PrimaryKeyConstraint("case_id", name=op.f("pk_closing")),
    )
    op.create_table(
        "room_part",
        sa.Column("room_id", sa.Text(), nullable=False),
        sa.Column("part", sa.Text(), nullable=False),
        sa.Column("bought_on", sa.Date(), nullable=True),
        sa.Column("proof", sa.Boolean(), nullable=True),
        sa.Column("misused", sa.Boolean(), nullable=True),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.ForeignKeyConstraint(["room_id"], ["room.id"], name=op.f("fk_room_part_room_id_room")),
        sa.PrimaryKeyConstraint("room_id", "part", name=op.f("pk_room_part")),
    )
    op.create_table(
        "part_request",
        sa.Column("id", RISING, nullable=False),
        sa.Column("case_id", sa.Text(), nullable=False),
        sa.Column("part", sa.Text(), nullable=False),
        sa.Column("standing", sa.Text(), nullable=False),
        sa.Column("rule", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("text_id", sa.Text(), nullable=False),
        sa.Column("done_by", sa.Text(), nullable=True),
        sa.Column("done_at", sa.DateTime(timezone=True), nullable=True),
        sa.ForeignKeyConstraint(["case_id"], ["case.id"], name=op.f("fk_part_request_case_id_case")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_part_request")),
    )
    op.create_index(op.f("ix_part_request_case_id"), "part_request", ["case_id"])
    _fold_what_was_said()


def _fold_what_was_said() -> None:
    session = op.get_bind()
    texts = session.execute(sa.text("SELECT kind, owner, text FROM personal_text WHERE kind IN ('message', 'aside', 'room_name')")).all()
    for kind, owner, text in texts:
        session.execute(
            sa.text("UPDATE personal_text SET folded = :folded WHERE kind = :kind AND owner = :owner"),
            {"folded": _folded(text), "kind": kind, "owner": owner},
        )
    said = session.execute(sa.text("SELECT case_id, sequence, body FROM event WHERE kind = 'Said'")).all()
    for case_id, sequence, body in said:
        words = (json.loads(body) if isinstance(body, str) else body)["text"]
        if words:
            session.execute(
                sa.text("INSERT INTO said_text (case_id, sequence, folded) VALUES (:case, :place, :folded)"),
                {"case": case_id, "place": sequence, "folded": _folded(words)},
            )


def _folded(text: str) -> str:
    """As `assistant.casebook.folding.folded` was when this was written."""
    apart = unicodedata.normalize("NFKD", text.casefold())
    return " ".join("".join(letter for letter in apart if not unicodedata.combining(letter)).split())


def downgrade() -> None:
    """Drop them, with everything that is in them."""
    for table in ("part_request", "room_part", "closing", "said_text"):
        op.drop_table(table)
    with op.batch_alter_table("personal_text") as texts:
        texts.drop_column("folded")
