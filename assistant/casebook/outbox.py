"""Texts on their way to an address: checked again when they are sent, and seen twice at most once."""

from datetime import datetime, timedelta

from sqlalchemy import ColumnElement, and_, exists, or_, select, update
from sqlalchemy.orm import Session, aliased

from assistant.casebook.kept import Parcel, kept_as
from assistant.casebook.tables import CaseRow, OutboxRow
from assistant.conversation.ids import CaseId

LEASE = timedelta(minutes=2)
"""A sender that has not come back by then is taken for dead, and what became of its text for unknown."""
MOST_ATTEMPTS = 2
"""An unknown outcome is tried once more: at most one visible duplicate."""


def put_out(
    session: Session,
    *,
    case_id: CaseId | None,
    sequence: int | None,
    text_id: str | None,
    channel: str,
    address_id: str,
    made_at: datetime,
    due_after: datetime,
    voice: str,
    version: int,
    safety: bool,
    names_room: bool,
    despite_optout: bool,
) -> int:
    """A text to be sent; its number, which rises."""
    row = OutboxRow(
        case_id=case_id,
        sequence=sequence,
        text_id=text_id,
        channel=channel,
        address_id=address_id,
        made_at=made_at,
        due_after=due_after,
        voice=voice,
        version=version,
        safety=safety,
        names_room=names_room,
        despite_optout=despite_optout,
        state="ready",
    )
    session.add(row)
    session.flush()
    return row.id


def withdraw_unspoken(session: Session, case_id: str, voice: str) -> None:
    """Somebody else speaks now: what another voice has not yet said is withdrawn, but for danger."""
    session.execute(
        update(OutboxRow)
        .where(
            OutboxRow.case_id == case_id,
            OutboxRow.state == "ready",
            OutboxRow.voice != voice,
            OutboxRow.safety.is_(False),
        )
        .values(state="withdrawn")
    )


def withdraw_all_to(session: Session, address_id: str) -> None:
    """They opted out: nothing that waits is sent."""
    session.execute(
        update(OutboxRow)
        .where(
            OutboxRow.address_id == address_id,
            OutboxRow.state == "ready",
            OutboxRow.despite_optout.is_(False),
        )
        .values(state="withdrawn")
    )


def claim(session: Session, now: datetime) -> Parcel | None:
    """The next text to send, ours until its lease ends; None: nothing is due.

    A text waits for the earlier ones of its case. One whose sender died is claimed again, once.
    """
    query = (
        select(OutboxRow)
        .where(*_due(now))
        .order_by(OutboxRow.id)
        .limit(1)
        .with_for_update(skip_locked=True, of=OutboxRow)
    )
    row = session.scalar(query)
    if row is None:
        return None
    row.state, row.lease_until, row.attempts = "sending", now + LEASE, row.attempts + 1
    session.flush()
    return kept_as(Parcel, row)


def _due(now: datetime) -> tuple[ColumnElement[bool], ColumnElement[bool]]:
    """Ready or abandoned, and no earlier text to the same address is still under way."""
    earlier = aliased(OutboxRow)
    ready = and_(OutboxRow.state == "ready", OutboxRow.due_after <= now)
    abandoned = and_(OutboxRow.state == "sending", OutboxRow.lease_until < now)
    blocked = exists().where(
        earlier.address_id == OutboxRow.address_id,
        earlier.id < OutboxRow.id,
        or_(earlier.state == "sending", and_(earlier.state == "ready", earlier.due_after <= now)),
    )
    return or_(ready, abandoned), ~blocked


def finish(
    session: Session,
    parcel: Parcel,
    state: str,
    *,
    at: datetime | None = None,
    provider_id: str | None = None,
    refusal: str | None = None,
) -> None:
    """What became of a claimed text: sent, refused, withdrawn, unknown."""
    values = {
        "state": state,
        "sent_at": at,
        "provider_id": provider_id,
        "refusal": refusal,
        "lease_until": None,
    }
    mine = and_(OutboxRow.id == parcel.id, OutboxRow.attempts == parcel.attempts)
    session.execute(update(OutboxRow).where(mine).values(values))


def withdrawn_sequences(session: Session, case_id: str) -> frozenset[int]:
    """Places in the log whose words were never sent."""
    query = select(OutboxRow.sequence).where(OutboxRow.case_id == case_id, OutboxRow.state == "withdrawn")
    return frozenset(sequence for sequence in session.scalars(query) if sequence is not None)


def parcels_of_case(session: Session, case_id: str) -> tuple[Parcel, ...]:
    """All texts of a case, in order."""
    query = select(OutboxRow).where(OutboxRow.case_id == case_id).order_by(OutboxRow.id)
    return tuple(kept_as(Parcel, row) for row in session.scalars(query))


def parcel(session: Session, outbox_id: int) -> Parcel:
    """One text by its number."""
    return kept_as(Parcel, session.get_one(OutboxRow, outbox_id))


def has_moved_on(session: Session, parcel_: Parcel) -> bool:
    """The customer wrote since a text was put off to a later hour, which made it stale."""
    if parcel_.case_id is None or parcel_.due_after <= parcel_.made_at:
        return False
    heard = session.scalar(select(CaseRow.heard_sequence).where(CaseRow.id == parcel_.case_id))
    return heard is not None and heard > parcel_.version


def possible_duplicates(session: Session) -> int:
    """Texts that were tried twice, since nobody knew what became of the first try."""
    return len(session.scalars(select(OutboxRow.id).where(OutboxRow.attempts >= MOST_ATTEMPTS)).all())
