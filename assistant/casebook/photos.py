"""Pictures that came with messages: where each is, and what became of it. The files themselves are not ours."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from sqlalchemy import and_, delete, select, update
from sqlalchemy.orm import Session

from assistant.casebook.kept import kept_as
from assistant.casebook.line_tables import PhotoRow
from assistant.casebook.tables import InboxRow
from assistant.conversation.ids import CaseId, MessageId

LEASE = timedelta(minutes=2)
"""Who fetches has so long; then another may try."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Photo:
    """A picture as its row has it."""

    id: str
    message_id: MessageId
    number: int
    state: str
    origin: str | None
    attempts: int


def add_photo(
    session: Session, photo_id: str, message_id: MessageId, number: int, origin: str | None, at: datetime
) -> None:
    """A picture that waits at `origin`, or is kept already."""
    state = "kept" if origin is None else "waiting"
    session.add(
        PhotoRow(
            id=photo_id, message_id=message_id, number=number, state=state, origin=origin, due_after=at, attempts=0
        )
    )  # fmt: skip
    session.flush()


def claim(session: Session, now: datetime) -> Photo | None:
    """The next picture to fetch, or to have forgotten by the provider; nobody else's for a while."""
    there = and_(PhotoRow.origin.is_not(None), PhotoRow.due_after <= now)
    wanted = and_(PhotoRow.state.in_(("waiting", "kept", "lost")), there)
    query = select(PhotoRow).where(wanted).order_by(PhotoRow.due_after, PhotoRow.id).limit(1)
    row = session.scalar(query.with_for_update(skip_locked=True))
    if row is None:
        return None
    row.due_after, row.attempts = now + LEASE, row.attempts + 1
    session.flush()
    return kept_as(Photo, row)


def keep(session: Session, photo_id: str, size_bytes: int, at: datetime) -> bool:
    """It is here now; false: it was erased meanwhile."""
    kept = session.execute(
        update(PhotoRow)
        .where(PhotoRow.id == photo_id, PhotoRow.state == "waiting")
        .values(state="kept", size_bytes=size_bytes, due_after=at, attempts=0)
        .returning(PhotoRow.id)
    )
    return kept.first() is not None


def lose(session: Session, photo_id: str, why: str, at: datetime) -> bool:
    """It cannot be had, or is no picture; false: that was known."""
    lost = session.execute(
        update(PhotoRow)
        .where(PhotoRow.id == photo_id, PhotoRow.state == "waiting")
        .values(state="lost", why=why, due_after=at, attempts=0)
        .returning(PhotoRow.id)
    )
    return lost.first() is not None


def note_size(session: Session, photo_id: str, size_bytes: int) -> None:
    """How large it is as it is kept."""
    session.execute(update(PhotoRow).where(PhotoRow.id == photo_id).values(size_bytes=size_bytes))


def put_back(session: Session, photo_id: str, until: datetime) -> None:
    """Try again then."""
    session.execute(update(PhotoRow).where(PhotoRow.id == photo_id).values(due_after=until))


def gone_from_origin(session: Session, photo_id: str) -> None:
    """The provider has it no longer, or will not be asked again."""
    session.execute(update(PhotoRow).where(PhotoRow.id == photo_id).values(origin=None))


def photos_of(session: Session, messages: Sequence[MessageId]) -> Mapping[MessageId, tuple[str, ...]]:
    """The pictures that are here, by their message, in order."""
    query = select(PhotoRow).where(PhotoRow.message_id.in_(messages), PhotoRow.state == "kept")
    found: dict[MessageId, tuple[str, ...]] = {}
    for row in session.scalars(query.order_by(PhotoRow.message_id, PhotoRow.number)):
        message = MessageId(row.message_id)
        found[message] = (*found.get(message, ()), row.id)
    return found


def case_of_photo(session: Session, photo_id: str) -> CaseId | None:
    """The case whose picture it is, while it is here."""
    query = (
        select(InboxRow.case_id)
        .join(PhotoRow, PhotoRow.message_id == InboxRow.message_id)
        .where(PhotoRow.id == photo_id, PhotoRow.state == "kept")
    )
    found = session.scalar(query)
    return None if found is None else CaseId(found)


def case_of_message(session: Session, message_id: MessageId) -> CaseId | None:
    """The case that a message went to."""
    found = session.scalar(select(InboxRow.case_id).where(InboxRow.message_id == message_id))
    return None if found is None else CaseId(found)


def erase_of(session: Session, messages: Sequence[str]) -> int:
    """Mark the pictures of these messages for erasing; how many."""
    marked = session.execute(
        update(PhotoRow)
        .where(PhotoRow.message_id.in_(messages), PhotoRow.state != "erased")
        .values(state="erased")
        .returning(PhotoRow.id)
    )
    return len(marked.all())


def erased(session: Session) -> tuple[Photo, ...]:
    """Pictures whose files are still to go."""
    query = select(PhotoRow).where(PhotoRow.state == "erased").order_by(PhotoRow.id)
    return tuple(kept_as(Photo, row) for row in session.scalars(query))


def drop(session: Session, photo_id: str) -> None:
    """Nothing of it is left."""
    session.execute(delete(PhotoRow).where(PhotoRow.id == photo_id, PhotoRow.state == "erased"))
