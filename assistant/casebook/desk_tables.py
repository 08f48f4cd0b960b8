"""Tables of the desk: who signs in, what they did and noted, how cases ended, parts, and words to search in."""

from datetime import date, datetime

from sqlalchemy import ForeignKey
from sqlalchemy.orm import Mapped, mapped_column

from assistant.casebook.tables import Base, RisingId


class StaffRow(Base):
    """Somebody who may sign in at the desk."""

    __tablename__ = "staff"
    name: Mapped[str] = mapped_column(primary_key=True)
    """What colleagues and customers see: a first name, or one for the desk."""
    role: Mapped[str]
    """desk · author · lead."""
    secret_hash: Mapped[str]
    since: Mapped[datetime]
    failures: Mapped[int] = mapped_column(default=0, server_default="0")
    """Wrong passwords in a row."""
    shut_until: Mapped[datetime | None]


class StaffSessionRow(Base):
    """A desk that is signed in; its key is known to the browser alone."""

    __tablename__ = "staff_session"
    key_hash: Mapped[str] = mapped_column(primary_key=True)
    name: Mapped[str] = mapped_column(ForeignKey("staff.name"), index=True)
    since: Mapped[datetime]
    seen_at: Mapped[datetime]


class DeedRow(Base):
    """Who at the desk looked at or did what: written once, never changed."""

    __tablename__ = "deed"
    id: Mapped[int] = mapped_column(RisingId, primary_key=True)
    at: Mapped[datetime]
    name: Mapped[str]
    deed: Mapped[str]
    case_id: Mapped[str | None] = mapped_column(index=True)


class AsideRow(Base):
    """A colleague's note beside a case, which no customer sees. Its words are personal text."""

    __tablename__ = "aside"
    id: Mapped[int] = mapped_column(RisingId, primary_key=True)
    case_id: Mapped[str] = mapped_column(ForeignKey("case.id"), index=True)
    name: Mapped[str]
    at: Mapped[datetime]
    text_id: Mapped[str]


class SaidTextRow(Base):
    """What we said, without accents or case, to search in; it holds nothing personal."""

    __tablename__ = "said_text"
    case_id: Mapped[str] = mapped_column(ForeignKey("case.id"), primary_key=True)
    sequence: Mapped[int] = mapped_column(primary_key=True)
    folded: Mapped[str]


class ClosingRow(Base):
    """How a case ended last, worked out from its log: what is learnt from."""

    __tablename__ = "closing"
    case_id: Mapped[str] = mapped_column(ForeignKey("case.id"), primary_key=True)
    at: Mapped[datetime]
    reason: Mapped[str]
    name: Mapped[str | None]
    """The colleague who closed it."""
    cause: Mapped[str | None]
    is_new: Mapped[bool]
    """A cause that the knowledge does not list; its words are personal text."""
    fix: Mapped[str | None]
    held: Mapped[bool | None]
    """None: nobody knows yet."""


class RoomPartRow(Base):
    """What is known of a part of a room's equipment that may be covered."""

    __tablename__ = "room_part"
    room_id: Mapped[str] = mapped_column(ForeignKey("room.id"), primary_key=True)
    part: Mapped[str] = mapped_column(primary_key=True)
    bought_on: Mapped[date | None]
    proof: Mapped[bool | None]
    misused: Mapped[bool | None]
    """Opened, flooded, or wired otherwise than its sheet says."""
    name: Mapped[str]
    at: Mapped[datetime]


class PartRequestRow(Base):
    """A part that somebody is to send; the note with it is personal text."""

    __tablename__ = "part_request"
    id: Mapped[int] = mapped_column(RisingId, primary_key=True)
    case_id: Mapped[str] = mapped_column(ForeignKey("case.id"), index=True)
    part: Mapped[str]
    standing: Mapped[str]
    """in · out · unknown, as it was when it was asked for."""
    rule: Mapped[str]
    name: Mapped[str]
    at: Mapped[datetime]
    text_id: Mapped[str]
    done_by: Mapped[str | None]
    done_at: Mapped[datetime | None]
