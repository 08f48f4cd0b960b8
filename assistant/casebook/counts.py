"""What was counted, for operations: worked out from the rows themselves, so that all processes tell the same."""

from datetime import datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from assistant.casebook.line_tables import PhotoRow
from assistant.casebook.outbox import MOST_ATTEMPTS
from assistant.casebook.tables import ConsentRow, InboxRow, OutboxRow

Counted = tuple[tuple[tuple[str, str], ...], float]
"""Labels, and how much."""


def texts_out(session: Session) -> tuple[Counted, ...]:
    """Texts by what became of them, and for those refused by why."""
    query = select(OutboxRow.state, OutboxRow.refusal, func.count()).group_by(
        OutboxRow.state, OutboxRow.refusal
    )
    return tuple(
        ((("state", state), ("why", why or "")), float(count))
        for state, why, count in session.execute(query.order_by(OutboxRow.state, OutboxRow.refusal))
    )


def parts_out(session: Session) -> float:
    """SMS parts handed over."""
    return float(session.scalar(select(func.sum(OutboxRow.segments))) or 0)


def possible_duplicates(session: Session) -> float:
    """Texts that were tried twice, since nobody knew what became of the first try."""
    query = select(func.count()).select_from(OutboxRow).where(OutboxRow.attempts >= MOST_ATTEMPTS)
    return float(session.scalar(query) or 0)


def messages_in(session: Session) -> tuple[Counted, ...]:
    """Messages by what became of them; `turned_away:…` names the limit."""
    query = select(InboxRow.state, func.count()).group_by(InboxRow.state).order_by(InboxRow.state)
    return tuple(((("state", state),), float(count)) for state, count in session.execute(query))


def photos(session: Session) -> tuple[Counted, ...]:
    """Photos by where they are."""
    query = select(PhotoRow.state, func.count()).group_by(PhotoRow.state).order_by(PhotoRow.state)
    return tuple(((("state", state),), float(count)) for state, count in session.execute(query))


def consents(session: Session) -> tuple[Counted, ...]:
    """Yes and no to texts, by where it came from."""
    columns = (ConsentRow.kind, ConsentRow.scope, ConsentRow.source)
    query = select(*columns, func.count()).group_by(*columns).order_by(*columns)
    return tuple(
        ((("kind", kind), ("scope", scope), ("source", source)), float(count))
        for kind, scope, source, count in session.execute(query)
    )


def oldest_ready_s(session: Session, now: datetime) -> float:
    """How long the text has waited that is due the longest."""
    waiting = OutboxRow.state.in_(("ready", "put_back"))
    oldest = session.scalar(select(func.min(OutboxRow.due_after)).where(waiting))
    return max(0.0, (now - oldest).total_seconds()) if oldest is not None else 0.0
