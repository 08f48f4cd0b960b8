"""What a telephone line brings besides words: photos, what is counted against a limit, and codes that carry a case over."""

from datetime import datetime

from sqlalchemy import ForeignKey
from sqlalchemy.orm import Mapped, mapped_column

from assistant.casebook.tables import Base


class PhotoRow(Base):
    """A picture that came with a message; the picture itself is a file, named by the id."""

    __tablename__ = "photo"
    id: Mapped[str] = mapped_column(primary_key=True)
    message_id: Mapped[str] = mapped_column(index=True)
    number: Mapped[int]
    """Its place among the message's pictures, from 1."""
    state: Mapped[str] = mapped_column(index=True)
    """waiting (with the provider) · kept · lost · erased (its file is still to go)."""
    origin: Mapped[str | None]
    """Where the provider has it; None once it is gone from there, or was never there."""
    due_after: Mapped[datetime]
    """When to try again to fetch it, or to have the provider forget it."""
    attempts: Mapped[int] = mapped_column(default=0)
    why: Mapped[str | None]
    """Why it was lost."""
    size_bytes: Mapped[int | None]


class MeterRow(Base):
    """How much of something happened in a stretch of time; several processes count in one row."""

    __tablename__ = "meter"
    name: Mapped[str] = mapped_column(primary_key=True)
    """What is counted and of whom; an address stands here as its keyed digest."""
    since: Mapped[datetime] = mapped_column(primary_key=True)
    used: Mapped[int]
    told: Mapped[bool] = mapped_column(default=False)
    """Whoever it is about was told that it is too much."""


class CodeRow(Base):
    """A short code that carries a case from a page to a phone or back; only its keyed digest is kept."""

    __tablename__ = "code"
    digest: Mapped[str] = mapped_column(primary_key=True)
    to: Mapped[str]
    """phone · page."""
    case_id: Mapped[str] = mapped_column(ForeignKey("case.id"), index=True)
    until: Mapped[datetime]
    used_at: Mapped[datetime | None]
