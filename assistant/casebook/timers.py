"""Promised hours."""

from collections.abc import Iterable
from datetime import datetime

from sqlalchemy import delete, select
from sqlalchemy.orm import Session

from assistant.casebook.kept import DueTimer, kept_as
from assistant.casebook.tables import TimerRow
from assistant.conversation.events import Event, TimerDropped, TimerSet


def follow_timers(session: Session, case_id: str, events: Iterable[Event]) -> None:
    """Set and drop timers as the events say, in their order."""
    for event in events:
        match event:
            case TimerSet():
                row = TimerRow(
                    case_id=case_id, name=event.timer, local=event.local, zone=event.zone, due=event.due
                )
                session.merge(row)
            case TimerDropped():
                drop(session, case_id, event.timer)
            case _:
                pass
    session.flush()


def due_timers(session: Session, now: datetime) -> tuple[DueTimer, ...]:
    """Promised hours that have come, the earliest first."""
    query = (
        select(TimerRow).where(TimerRow.due <= now).order_by(TimerRow.due, TimerRow.case_id, TimerRow.name)
    )
    return tuple(kept_as(DueTimer, row) for row in session.scalars(query))


def drop(session: Session, case_id: str, name: str) -> None:
    """The hour is no longer promised."""
    session.flush()
    session.execute(delete(TimerRow).where(TimerRow.case_id == case_id, TimerRow.name == name))
    session.expire_all()


def still_set(session: Session, timer: DueTimer) -> bool:
    """The very hour is still promised: nobody has kept it, or promised another in its place."""
    query = select(TimerRow.due).where(TimerRow.case_id == timer.case_id, TimerRow.name == timer.name)
    return session.scalar(query) == timer.due


def next_due(session: Session, case_id: str) -> datetime | None:
    """The next hour that was promised in a case."""
    query = select(TimerRow.due).where(TimerRow.case_id == case_id).order_by(TimerRow.due)
    return session.scalar(query.limit(1))
