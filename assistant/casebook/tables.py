"""All tables. What happened is written once; everything else can be worked out again, or is beside the log.

Words, names and numbers of people stand in `personal_text` alone: emptying it for a person leaves no other trace.
"""

from collections.abc import Mapping
from datetime import UTC, datetime
from typing import Any, Final

from sqlalchemy import (
    JSON,
    BigInteger,
    DateTime,
    Dialect,
    ForeignKey,
    Index,
    Integer,
    MetaData,
    Text,
    TypeDecorator,
    UniqueConstraint,
)
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column

NAMES: Final = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s_%(referred_table_name)s",
    "pk": "pk_%(table_name)s",
}
HELD: Final[dict[str, Any]] = {"key_share": True}  # Any: the keywords of SQLAlchemy's ForUpdateArg
"""Held against other holders but not against rows that point here: else a sorted message and an answered one, each with
its own row held and pointing at the other's, would wait for each other for ever (PostgreSQL's FOR NO KEY UPDATE)."""
RisingId: Final = BigInteger().with_variant(Integer(), "sqlite")
"""Only a plain INTEGER key rises by itself on SQLite."""


class Utc(TypeDecorator[datetime]):
    """An aware datetime, kept in UTC; SQLite would drop the zone."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:  # noqa: D102 - SQLAlchemy's seam
        if value is None:
            return None
        if value.tzinfo is None:
            msg = f"a time without a zone reached the casebook: {value.isoformat()}"
            raise ValueError(msg)
        return value.astimezone(UTC)

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:  # noqa: D102 - SQLAlchemy's seam
        if value is None:
            return None
        return value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)


class Base(DeclarativeBase):
    """The one metadata, with named constraints, so that migrations can find them on every database."""

    metadata = MetaData(naming_convention=NAMES)
    type_annotation_map: Mapping[Any, Any] = {  # Any: SQLAlchemy's own typing of the map
        datetime: Utc(),
        str: Text(),
    }


class PersonRow(Base):
    """Somebody who writes to us; not a phone."""

    __tablename__ = "person"
    id: Mapped[str] = mapped_column(primary_key=True)
    language: Mapped[str | None]
    begun_at: Mapped[datetime]


class RoomRow(Base):
    """A cold room; its name in the person's words is personal text."""

    __tablename__ = "room"
    __table_args__ = (UniqueConstraint("person_id", "number"),)
    id: Mapped[str] = mapped_column(primary_key=True)
    person_id: Mapped[str] = mapped_column(ForeignKey("person.id"))
    number: Mapped[int]


class AddressRow(Base):
    """Where texts come from and go to. The number itself is personal text; its keyed digest finds it again."""

    __tablename__ = "address"
    __table_args__ = (UniqueConstraint("channel", "digest"),)
    id: Mapped[str] = mapped_column(primary_key=True)
    channel: Mapped[str]
    digest: Mapped[str]
    zone: Mapped[str]
    region: Mapped[str]
    language: Mapped[str | None]
    begun_at: Mapped[datetime]
    unreachable: Mapped[str | None]
    """Why no text can reach it, in the provider's terms; None: texts arrive as far as we know."""
    held_inbox_id: Mapped[int | None] = mapped_column(RisingId)
    """A bare number that waits for "which room?"."""
    offered_cases: Mapped[list[str] | None] = mapped_column(JSON())
    """The cases that were offered with it, in order."""


class PersonAddressRow(Base):
    """Who writes from where; a number may be shared, and a person may have several."""

    __tablename__ = "person_address"
    person_id: Mapped[str] = mapped_column(ForeignKey("person.id"), primary_key=True)
    address_id: Mapped[str] = mapped_column(ForeignKey("address.id"), primary_key=True)


class ConsentRow(Base):
    """Every yes and no to texts, never changed; the last one of a scope holds. Outlives the person's erasure."""

    __tablename__ = "consent"
    id: Mapped[int] = mapped_column(RisingId, primary_key=True)
    address_id: Mapped[str] = mapped_column(ForeignKey("address.id"), index=True)
    kind: Mapped[str]
    at: Mapped[datetime]
    source: Mapped[str]
    scope: Mapped[str] = mapped_column(default="texts", server_default="texts")
    """texts (all of them) · follow_up · cleaning."""
    message_id: Mapped[str | None]
    """The message that said it; its words are personal text."""


class CaseRow(Base):
    """One case: how it began, how far its log has come, and what the log says now (worked out with every commit)."""

    __tablename__ = "case"
    __table_args__ = (
        UniqueConstraint("sender", "client_id"),
        Index("ix_case_state_needs_since", "state", "needs_since"),
    )
    id: Mapped[str] = mapped_column(primary_key=True)
    person_id: Mapped[str] = mapped_column(ForeignKey("person.id"), index=True)
    room_id: Mapped[str] = mapped_column(ForeignKey("room.id"))
    sender: Mapped[str]
    client_id: Mapped[str]
    content_digest: Mapped[str]
    """Of what was asked for under the client id: other content under it is a conflict."""
    token_hash: Mapped[str]
    channel: Mapped[str]
    address_id: Mapped[str | None] = mapped_column(ForeignKey("address.id"))
    zone: Mapped[str]
    region: Mapped[str]
    language: Mapped[str | None]
    greet: Mapped[bool]
    carried: Mapped[list[list[str]]] = mapped_column(JSON())
    opened_at: Mapped[datetime]

    begun_until: Mapped[int | None]
    """The last event of its opening."""
    version: Mapped[int] = mapped_column(default=0)
    """How many events there are: who decided on an older version decides again."""
    heard_sequence: Mapped[int] = mapped_column(default=0)
    """Where the customer's last message stands in the log."""
    state: Mapped[str] = mapped_column(default="asking")
    voice: Mapped[str] = mapped_column(default="assistant")
    edition: Mapped[str | None]
    asks: Mapped[str | None]
    """`number` or `other` while a question is open."""
    asked_at: Mapped[datetime | None]
    why: Mapped[str | None]
    urgency: Mapped[str | None]
    needs_since: Mapped[datetime | None]
    """Since when a person at the desk is needed."""
    cause: Mapped[str | None]
    cause_probability: Mapped[float | None]
    last_heard_at: Mapped[datetime | None]
    last_said_at: Mapped[datetime | None]
    phone_now_at: Mapped[datetime | None]
    """A danger, or a call for help, from somebody whom we may not text."""
    fault: Mapped[str | None]
    """What failed in deciding, for the desk; never a customer's words."""
    photo_since: Mapped[datetime | None]
    """Since when a photo waits to be looked at by the desk."""


class EventRow(Base):
    """What happened: written once, never changed."""

    __tablename__ = "event"
    case_id: Mapped[str] = mapped_column(ForeignKey("case.id"), primary_key=True)
    sequence: Mapped[int] = mapped_column(primary_key=True)
    """With the case: two writers cannot interleave. Also the id of a message on a page."""
    kind: Mapped[str]
    version: Mapped[int]
    body: Mapped[dict[str, Any]] = mapped_column(JSON())
    at: Mapped[datetime]
    edition: Mapped[str]
    program: Mapped[str]


class InboxRow(Base):
    """A message that we took in, before anything is thought about it. Its words are personal text."""

    __tablename__ = "inbox"
    __table_args__ = (UniqueConstraint("sender", "client_id"), Index("ix_inbox_state_id", "state", "id"))
    id: Mapped[int] = mapped_column(RisingId, primary_key=True)
    sender: Mapped[str]
    """`case:…`, `address:…` or `colleague:…`: client ids are unique with it."""
    client_id: Mapped[str]
    message_id: Mapped[str] = mapped_column(unique=True)
    content_digest: Mapped[str]
    case_id: Mapped[str | None] = mapped_column(ForeignKey("case.id"), index=True)
    address_id: Mapped[str | None] = mapped_column(ForeignKey("address.id"), index=True)
    at: Mapped[datetime]
    state: Mapped[str]
    """waiting · held (until they say which room) · answered · failed · erased."""
    answer_from: Mapped[int | None]
    answer_until: Mapped[int | None]
    """The events that answered it, first and last."""
    answer_state: Mapped[str | None]
    reply_id: Mapped[int | None] = mapped_column(RisingId)
    """The outbox row that answered it, where no case did."""
    sorts_id: Mapped[int | None] = mapped_column(RisingId)
    """The held message whose room it named: what answers that one answers this."""
    photos: Mapped[int] = mapped_column(default=0, server_default="0")
    """How many pictures came with it."""
    carrier_word: Mapped[str | None]
    """stop · start · help: what the carrier itself took it for, and has answered."""


class OutboxRow(Base):
    """A text on its way to an address; what it says stands in the event, or in personal text where no case said it."""

    __tablename__ = "outbox"
    __table_args__ = (
        UniqueConstraint("case_id", "sequence"),
        Index("ix_outbox_state_due_after", "state", "due_after"),
    )
    id: Mapped[int] = mapped_column(RisingId, primary_key=True)
    case_id: Mapped[str | None] = mapped_column(ForeignKey("case.id"))
    sequence: Mapped[int | None]
    text_id: Mapped[str | None]
    """The personal text to send, where no case said it."""
    channel: Mapped[str]
    address_id: Mapped[str] = mapped_column(ForeignKey("address.id"))
    made_at: Mapped[datetime]
    due_after: Mapped[datetime]
    voice: Mapped[str]
    """Who must still hold the floor when it is sent."""
    version: Mapped[int]
    """The case's version that said it; a text put off to the morning is dropped when they wrote since."""
    safety: Mapped[bool]
    """Danger: goes out whoever speaks."""
    names_room: Mapped[bool]
    """Said unasked: with two rooms it names its own."""
    despite_optout: Mapped[bool]
    """The one confirmation after an opt-out."""
    state: Mapped[str]
    """ready · sending · put_back (the provider will take it later) · sent · refused · withdrawn · unknown."""
    attempts: Mapped[int] = mapped_column(default=0)
    """How often it may have gone out; what was surely not sent does not count."""
    lease_until: Mapped[datetime | None]
    sent_at: Mapped[datetime | None]
    provider_id: Mapped[str | None] = mapped_column(index=True)
    refusal: Mapped[str | None]
    put_backs: Mapped[int] = mapped_column(default=0, server_default="0")
    delivery: Mapped[str | None]
    """The provider's last word on it; it never goes back to an earlier one."""
    segments: Mapped[int | None]
    """How many SMS parts it was handed over in; None: it was not."""


class TimerRow(Base):
    """An hour that was promised."""

    __tablename__ = "timer"
    case_id: Mapped[str] = mapped_column(ForeignKey("case.id"), primary_key=True)
    name: Mapped[str] = mapped_column(primary_key=True)
    local: Mapped[str]
    zone: Mapped[str]
    due: Mapped[datetime] = mapped_column(index=True)


class PersonalTextRow(Base):
    """Words, names and numbers of people, beside the log; the only table that an erasure empties."""

    __tablename__ = "personal_text"
    __table_args__ = (Index("ix_personal_text_person_id", "person_id"),)
    kind: Mapped[str] = mapped_column(primary_key=True)
    owner: Mapped[str] = mapped_column(primary_key=True)
    person_id: Mapped[str | None] = mapped_column(ForeignKey("person.id"))
    text: Mapped[str]
    folded: Mapped[str | None]
    """The same without accents or case, to search in."""
