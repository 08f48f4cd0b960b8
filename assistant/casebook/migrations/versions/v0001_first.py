"""The first tables."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make all tables."""
    op.create_table(
        "address",
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("channel", sa.Text(), nullable=False),
        sa.Column("digest", sa.Text(), nullable=False),
        sa.Column("zone", sa.Text(), nullable=False),
        sa.Column("region", sa.Text(), nullable=False),
        sa.Column("language", sa.Text(), nullable=True),
        sa.Column("begun_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("held_inbox_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("offered_cases", sa.JSON(), nullable=True),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_address")),
        sa.UniqueConstraint("channel", "digest", name=op.f("uq_address_channel_digest")),
    )
    op.create_table(
        "clock",
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("ahead_s", sa.Double(), nullable=False),
        sa.PrimaryKeyConstraint("name", name=op.f("pk_clock")),
    )
    op.create_table(
        "edition",
        sa.Column("edition", sa.Text(), nullable=False),
        sa.Column("files", sa.LargeBinary(), nullable=False),
        sa.Column("kept_at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("edition", name=op.f("pk_edition")),
    )
    op.create_table(
        "person",
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("language", sa.Text(), nullable=True),
        sa.Column("begun_at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_person")),
    )
    op.create_table(
        "consent",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("address_id", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("source", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["address_id"], ["address.id"], name=op.f("fk_consent_address_id_address")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_consent")),
    )
    op.create_index(op.f("ix_consent_address_id"), "consent", ["address_id"], unique=False)
    op.create_table(
        "person_address",
        sa.Column("person_id", sa.Text(), nullable=False),
        sa.Column("address_id", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["address_id"], ["address.id"], name=op.f("fk_person_address_address_id_address")
        ),
        sa.ForeignKeyConstraint(
            ["person_id"], ["person.id"], name=op.f("fk_person_address_person_id_person")
        ),
        sa.PrimaryKeyConstraint("person_id", "address_id", name=op.f("pk_person_address")),
    )
    op.create_table(
        "personal_text",
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("owner", sa.Text(), nullable=False),
        sa.Column("person_id", sa.Text(), nullable=True),
        sa.Column("text", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_personal_text_person_id_person")),
        sa.PrimaryKeyConstraint("kind", "owner", name=op.f("pk_personal_text")),
    )
    op.create_index("ix_personal_text_person_id", "personal_text", ["person_id"], unique=False)
    op.create_table(
        "room",
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("person_id", sa.Text(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_room_person_id_person")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_room")),
        sa.UniqueConstraint("person_id", "number", name=op.f("uq_room_person_id_number")),
    )
    op.create_table(
        "case",
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("person_id", sa.Text(), nullable=False),
        sa.Column("room_id", sa.Text(), nullable=False),
        sa.Column("sender", sa.Text(), nullable=False),
        sa.Column("client_id", sa.Text(), nullable=False),
        sa.Column("content_digest", sa.Text(), nullable=False),
        sa.Column("token_hash", sa.Text(), nullable=False),
        sa.Column("channel", sa.Text(), nullable=False),
        sa.Column("address_id", sa.Text(), nullable=True),
        sa.Column("zone", sa.Text(), nullable=False),
        sa.Column("region", sa.Text(), nullable=False),
        sa.Column("language", sa.Text(), nullable=True),
        sa.Column("greet", sa.Boolean(), nullable=False),
        sa.Column("carried", sa.JSON(), nullable=False),
        sa.Column("opened_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("begun_until", sa.Integer(), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("heard_sequence", sa.Integer(), nullable=False),
        sa.Column("state", sa.Text(), nullable=False),
        sa.Column("voice", sa.Text(), nullable=False),
        sa.Column("edition", sa.Text(), nullable=True),
        sa.Column("asks", sa.Text(), nullable=True),
        sa.Column("asked_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("why", sa.Text(), nullable=True),
        sa.Column("urgency", sa.Text(), nullable=True),
        sa.Column("needs_since", sa.DateTime(timezone=True), nullable=True),
        sa.Column("cause", sa.Text(), nullable=True),
        sa.Column("cause_probability", sa.Double(), nullable=True),
        sa.Column("last_heard_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("last_said_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("phone_now_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("fault", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(["address_id"], ["address.id"], name=op.f("fk_case_address_id_address")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_case_person_id_person")),
        sa.ForeignKeyConstraint(["room_id"], ["room.id"], name=op.f("fk_case_room_id_room")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_case")),
        sa.UniqueConstraint("sender", "client_id", name=op.f("uq_case_sender_client_id")),
    )
    op.create_index(op.f("ix_case_person_id"), "case", ["person_id"], unique=False)
    op.create_index("ix_case_state_needs_since", "case", ["state", "needs_since"], unique=False)
    op.create_table(
        "event",
        sa.Column("case_id", sa.Text(), nullable=False),
        sa.Column("sequence", sa.Integer(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("body", sa.JSON(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("edition", sa.Text(), nullable=False),
        sa.Column("program", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["case_id"], ["case.id"], name=op.f("fk_event_case_id_case")),
        sa.PrimaryKeyConstraint("case_id", "sequence", name=op.f("pk_event")),
    )
    op.create_table(
        "inbox",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("sender", sa.Text(), nullable=False),
        sa.Column("client_id", sa.Text(), nullable=False),
        sa.Column("message_id", sa.Text(), nullable=False),
        sa.Column("content_digest", sa.Text(), nullable=False),
        sa.Column("case_id", sa.Text(), nullable=True),
        sa.Column("address_id", sa.Text(), nullable=True),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("state", sa.Text(), nullable=False),
        sa.Column("answer_from", sa.Integer(), nullable=True),
        sa.Column("answer_until", sa.Integer(), nullable=True),
        sa.Column("answer_state", sa.Text(), nullable=True),
        sa.Column("reply_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("sorts_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.ForeignKeyConstraint(["address_id"], ["address.id"], name=op.f("fk_inbox_address_id_address")),
        sa.ForeignKeyConstraint(["case_id"], ["case.id"], name=op.f("fk_inbox_case_id_case")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_inbox")),
        sa.UniqueConstraint("message_id", name=op.f("uq_inbox_message_id")),
        sa.UniqueConstraint("sender", "client_id", name=op.f("uq_inbox_sender_client_id")),
    )
    op.create_index(op.f("ix_inbox_address_id"), "inbox", ["address_id"], unique=False)
    op.create_index(op.f("ix_inbox_case_id"), "inbox", ["case_id"], unique=False)
    op.create_index("ix_inbox_state_id", "inbox", ["state", "id"], unique=False)
    op.create_table(
        "outbox",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("case_id", sa.Text(), nullable=True),
        sa.Column("sequence", sa.Integer(), nullable=True),
        sa.Column("text_id", sa.Text(), nullable=True),
        sa.Column("channel", sa.Text(), nullable=False),
        sa.Column("address_id", sa.Text(), nullable=False),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("due_after", sa.DateTime(timezone=True), nullable=False),
        sa.Column("voice", sa.Text(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("safety", sa.Boolean(), nullable=False),
        sa.Column("names_room", sa.Boolean(), nullable=False),
        sa.Column("despite_optout", sa.Boolean(), nullable=False),
        sa.Column("state", sa.Text(), nullable=False),
        sa.Column("attempts", sa.Integer(), nullable=False),
        sa.Column("lease_until", sa.DateTime(timezone=True), nullable=True),
        sa.Column("sent_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("provider_id", sa.Text(), nullable=True),
        sa.Column("refusal", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(["address_id"], ["address.id"], name=op.f("fk_outbox_address_id_address")),
        sa.ForeignKeyConstraint(["case_id"], ["case.id"], name=op.f("fk_outbox_case_id_case")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_outbox")),
        sa.UniqueConstraint("case_id", "sequence", name=op.f("uq_outbox_case_id_sequence")),
    )
    op.create_index("ix_outbox_state_due_after", "outbox", ["state", "due_after"], unique=False)
    op.create_table(
        "timer",
        sa.Column("case_id", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("local", sa.Text(), nullable=False),
        sa.Column("zone", sa.Text(), nullable=False),
        sa.Column("due", sa.DateTime(timezone=True), nullable=False),
        sa.ForeignKeyConstraint(["case_id"], ["case.id"], name=op.f("fk_timer_case_id_case")),
        sa.PrimaryKeyConstraint("case_id", "name", name=op.f("pk_timer")),
    )
    op.create_index(op.f("ix_timer_due"), "timer", ["due"], unique=False)


def downgrade() -> None:
    """Drop them, with everything that is in them."""
    op.drop_index(op.f("ix_timer_due"), table_name="timer")
    op.drop_table("timer")
    op.drop_index("ix_outbox_state_due_after", table_name="outbox")
    op.drop_table("outbox")
    op.drop_index("ix_inbox_state_id", table_name="inbox")
    op.drop_index(op.f("ix_inbox_case_id"), table_name="inbox")
    op.drop_index(op.f("ix_inbox_address_id"), table_name="inbox")
    op.drop_table("inbox")
    op.drop_table("event")
    op.drop_index("ix_case_state_needs_since", table_name="case")
    op.drop_index(op.f("ix_case_person_id"), table_name="case")
    op.drop_table("case")
    op.drop_table("room")
    op.drop_index("ix_personal_text_person_id", table_name="personal_text")
    op.drop_table("personal_text")
    op.drop_table("person_address")
    op.drop_index(op.f("ix_consent_address_id"), table_name="consent")
    op.drop_table("consent")
    op.drop_table("person")
    op.drop_table("edition")
    op.drop_table("clock")
    op.drop_table("address")
