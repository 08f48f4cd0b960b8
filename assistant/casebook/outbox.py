"""Texts on their way to an address: checked again when they are sent, and seen twice at most once."""

from datetime import datetime, timedelta
from typing import Final

from sqlalchemy import ColumnElement, and_, exists, or_, select, update
from sqlalchemy.orm import Session, aliased

from assistant.casebook.kept import Parcel, kept_as
from assistant.casebook.tables import CaseRow, OutboxRow
from assistant.conversation.ids import ASSISTANT, CaseId

LEASE = timedelta(minutes=2)
"""A sender that has not come back by then is taken for dead, and what became of its text for unknown."""
LONG_LEASE = timedelta(minutes=5)
"""After a second try: by then a provider's list shows what it took on, so that a third try doubles nothing."""
MOST_ATTEMPTS = 2
"""An unknown outcome is tried once more: at most one visible duplicate. Then only what a list says is surely not sent."""

UNSENT: Final = ("ready", "put_back")
RANK: Final = {
    "accepted": 1, "scheduled": 1, "queued": 1, "sending": 2, "sent": 3,
    "delivered": 4, "undelivered": 4, "failed": 4, "canceled": 4, "read": 5,
}  # fmt: skip
"""How far along a provider's word says that a text is; callbacks come twice and out of order."""


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
    """Somebody else speaks now: what the assistant has not yet said is withdrawn, but for danger.

    What a colleague wrote was sent by a person who meant it: it goes out though they hand back a second later.
    """
    if voice == ASSISTANT:
        return
    session.execute(
        update(OutboxRow)
        .where(
            OutboxRow.case_id == case_id,
            OutboxRow.state.in_(UNSENT),
            OutboxRow.voice == ASSISTANT,
            OutboxRow.safety.is_(False),
        )
        .values(state="withdrawn")
    )


def withdraw_all_to(session: Session, address_id: str) -> None:
    """They opted out, or cannot be reached: nothing that waits is sent."""
    session.execute(
        update(OutboxRow)
        .where(
            OutboxRow.address_id == address_id,
            OutboxRow.state.in_(UNSENT),
            OutboxRow.despite_optout.is_(False),
        )
        .values(state="withdrawn")
    )


def claim(session: Session, now: datetime, *, due_by: datetime | None = None) -> Parcel | None:
    """The next text to send, ours until its lease ends; None: nothing is due, by `due_by` where that is earlier.

    A text waits for the earlier ones of its address. One whose sender died is claimed again, once.
    """
    query = (
        select(OutboxRow)
        .where(*_due(now, due_by or now))
        .order_by(OutboxRow.id)
        .limit(1)
        .with_for_update(skip_locked=True, of=OutboxRow)
    )
    row = session.scalar(query)
    return None if row is None else _claimed(session, row, now)


def claim_for_caller(session: Session, address_id: str, now: datetime) -> tuple[Parcel, ...]:
    """All texts due to an address that is on the line, in order; none while an earlier one is still under way.

    They are ours until their lease ends, as with `claim`; then nobody knows whether the caller took them.
    """
    query = (
        select(OutboxRow)
        .where(OutboxRow.address_id == address_id, OutboxRow.state == "ready", OutboxRow.due_after <= now)
        .order_by(OutboxRow.id)
        .with_for_update(of=OutboxRow)
    )
    rows = session.scalars(query).all()
    # asked after the rows are ours: a sender that held one of them has told by now what it did
    under_way = select(OutboxRow.id).where(
        OutboxRow.address_id == address_id, OutboxRow.state.in_(("sending", "put_back"))
    )
    if session.scalar(under_way.limit(1)) is not None:
        return ()
    return tuple(_claimed(session, row, now) for row in rows)


def _claimed(session: Session, row: OutboxRow, now: datetime) -> Parcel:
    row.attempts += 1
    row.state, row.lease_until = "sending", now + (LEASE if row.attempts < MOST_ATTEMPTS else LONG_LEASE)
    session.flush()
    return kept_as(Parcel, row)


def _due(now: datetime, due_by: datetime) -> tuple[ColumnElement[bool], ColumnElement[bool]]:
    """Ready, put back long enough, or abandoned; and no earlier text to the same address is still under way."""
    earlier = aliased(OutboxRow)
    ready = and_(OutboxRow.state == "ready", OutboxRow.due_after <= due_by)
    again = and_(OutboxRow.state.in_(("sending", "put_back")), OutboxRow.lease_until < now)
    blocked = exists().where(
        earlier.address_id == OutboxRow.address_id,
        earlier.id < OutboxRow.id,
        or_(
            earlier.state.in_(("sending", "put_back")),
            and_(earlier.state == "ready", earlier.due_after <= now),
        ),
    )
    return or_(ready, again), ~blocked


def put_back(session: Session, parcel: Parcel, until: datetime, why: str) -> None:
    """It surely did not go out, and may go later: it keeps its place before the texts that follow it."""
    values = {
        "state": "put_back",
        "lease_until": until,
        "attempts": parcel.attempts - 1,
        "put_backs": parcel.put_backs + 1,
        "refusal": why,
    }
    session.execute(update(OutboxRow).where(_mine(parcel)).values(values))


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
    session.execute(update(OutboxRow).where(_mine(parcel)).values(values))


def _mine(parcel: Parcel) -> ColumnElement[bool]:
    return and_(
        OutboxRow.id == parcel.id, OutboxRow.attempts == parcel.attempts, OutboxRow.state == "sending"
    )


def note_delivery(
    session: Session, outbox_id: int, *, word: str, provider_id: str | None, at: datetime
) -> Parcel | None:
    """What the provider says of a text; None: no such text, or nothing that we did not know.

    It is proof that the text was taken on, whatever became of the answer to our own call.
    """
    row = session.get(OutboxRow, outbox_id, with_for_update=True, populate_existing=True)
    if row is None or RANK.get(word, 0) <= RANK.get(row.delivery or "", 0):
        return None
    row.delivery = word
    row.provider_id = row.provider_id or provider_id
    if row.state in ("sending", "put_back", "unknown"):
        row.state, row.sent_at, row.lease_until = "sent", at, None
    session.flush()
    return kept_as(Parcel, row)


def note_segments(session: Session, outbox_id: int, segments: int) -> None:
    """How many SMS parts the text is handed over in."""
    session.execute(update(OutboxRow).where(OutboxRow.id == outbox_id).values(segments=segments))


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
