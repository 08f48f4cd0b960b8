"""Who works at the desk: sign-in, sessions, deeds and asides."""

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import delete, select
from sqlalchemy.orm import Session

from assistant.casebook import personal
from assistant.casebook.desk_tables import AsideRow, DeedRow, StaffRow, StaffSessionRow
from assistant.casebook.kept import kept_as


@dataclass(frozen=True, slots=True, kw_only=True)
class Colleague:
    """Somebody who may sign in."""

    name: str
    role: str
    secret_hash: str
    failures: int
    shut_until: datetime | None


@dataclass(frozen=True, slots=True, kw_only=True)
class SignedIn:
    """An open session."""

    name: str
    role: str
    since: datetime
    seen_at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Deed:
    """Something looked at or done at the desk."""

    at: datetime
    name: str
    deed: str
    case_id: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Aside:
    """A note beside a case; empty once it is erased."""

    at: datetime
    name: str
    text: str


def put_colleague(session: Session, name: str, role: str, secret_hash: str, at: datetime) -> None:
    """Add somebody, or give them a new secret; their open sessions end."""
    row = session.get(StaffRow, name)
    if row is None:
        session.add(StaffRow(name=name, role=role, secret_hash=secret_hash, since=at, failures=0))
    else:
        row.role, row.secret_hash, row.failures, row.shut_until = role, secret_hash, 0, None
        session.execute(delete(StaffSessionRow).where(StaffSessionRow.name == name))
    session.flush()


def find_colleague(session: Session, name: str) -> Colleague | None:
    """Somebody by name."""
    row = session.get(StaffRow, name)
    return None if row is None else kept_as(Colleague, row)


def names(session: Session) -> tuple[str, ...]:
    """Everybody who may sign in."""
    return tuple(session.scalars(select(StaffRow.name).order_by(StaffRow.name)))


def note_failures(session: Session, name: str, failures: int, shut_until: datetime | None) -> None:
    """How many wrong passwords in a row, and until when none is looked at."""
    row = session.get_one(StaffRow, name)
    row.failures, row.shut_until = failures, shut_until


def open_session(session: Session, key_hash: str, name: str, at: datetime) -> None:
    """Somebody signed in."""
    session.add(StaffSessionRow(key_hash=key_hash, name=name, since=at, seen_at=at))
    session.flush()


def find_session(session: Session, key_hash: str) -> SignedIn | None:
    """The open session behind a key."""
    query = (
        select(StaffSessionRow, StaffRow.role)
        .join(StaffRow, StaffRow.name == StaffSessionRow.name)
        .where(StaffSessionRow.key_hash == key_hash)
    )
    found = session.execute(query).one_or_none()
    return None if found is None else kept_as(SignedIn, found[0], role=found[1])


def note_seen(session: Session, key_hash: str, at: datetime) -> None:
    """The session is in use."""
    row = session.get(StaffSessionRow, key_hash)
    if row is not None:
        row.seen_at = at


def end_session(session: Session, key_hash: str) -> None:
    """Somebody signed out, or the session grew old."""
    session.execute(delete(StaffSessionRow).where(StaffSessionRow.key_hash == key_hash))


def note_deed(session: Session, deed: Deed) -> None:
    """Write down who did what."""
    session.add(DeedRow(at=deed.at, name=deed.name, deed=deed.deed, case_id=deed.case_id))
    session.flush()


def deeds(session: Session, case_id: str) -> tuple[Deed, ...]:
    """What was done about a case, in order."""
    query = select(DeedRow).where(DeedRow.case_id == case_id).order_by(DeedRow.id)
    return tuple(kept_as(Deed, row) for row in session.scalars(query))


def add_aside(
    session: Session, case_id: str, name: str, text: str, text_id: str, person_id: str, at: datetime
) -> None:
    """Keep a note beside a case; the same `text_id` again changes nothing."""
    if personal.text_of(session, personal.ASIDE, text_id) is not None:
        return
    personal.add_text(session, personal.ASIDE, text_id, text, person_id)
    session.add(AsideRow(case_id=case_id, name=name, at=at, text_id=text_id))
    session.flush()


def asides(session: Session, case_id: str) -> tuple[Aside, ...]:
    """The notes beside a case, in order."""
    rows = session.scalars(select(AsideRow).where(AsideRow.case_id == case_id).order_by(AsideRow.id)).all()
    words = personal.texts_of(session, personal.ASIDE, [row.text_id for row in rows])
    return tuple(Aside(at=row.at, name=row.name, text=words.get(row.text_id, "")) for row in rows)
