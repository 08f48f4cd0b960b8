"""Counting against a limit, in the database, since several processes share it; the stretches of time are fixed ones."""

from datetime import UTC, datetime, timedelta

from sqlalchemy import delete, select, update
from sqlalchemy.orm import Session

from assistant.casebook.line_tables import MeterRow

KEPT_FOR = timedelta(days=3)
"""The longest stretch is a day; what is older counts nothing any more."""


def stretch_of(at: datetime, length: timedelta) -> datetime:
    """When the stretch of this length began that holds `at`.

    >>> stretch_of(datetime(2026, 7, 14, 16, 22, tzinfo=UTC), timedelta(minutes=15)).isoformat()
    '2026-07-14T16:15:00+00:00'
    """
    beginning = datetime(2000, 1, 1, tzinfo=UTC)
    return beginning + (at - beginning) // length * length


def count(session: Session, name: str, since: datetime, by: int = 1) -> int:
    """Count on; how much there is now. Fails with `IntegrityError` where another writer has just begun the stretch."""
    counted = session.execute(
        update(MeterRow)
        .where(MeterRow.name == name, MeterRow.since == since)
        .values(used=MeterRow.used + by)
        .returning(MeterRow.used)
        .execution_options(synchronize_session=False)
    ).scalar()
    if counted is not None:
        return counted
    session.add(MeterRow(name=name, since=since, used=by, told=False))
    session.flush()
    session.expire_all()
    return by


def counted(session: Session, name: str, since: datetime) -> int:
    """How much there is."""
    query = select(MeterRow.used).where(MeterRow.name == name, MeterRow.since == since)
    return session.scalar(query) or 0


def tell(session: Session, name: str, since: datetime) -> bool:
    """They are told that it is too much; false: they were before, in this stretch."""
    told = session.execute(
        update(MeterRow)
        .where(MeterRow.name == name, MeterRow.since == since, MeterRow.told.is_(False))
        .values(told=True)
        .returning(MeterRow.name)
        .execution_options(synchronize_session=False)
    )
    return told.first() is not None


def forget_before(session: Session, at: datetime) -> None:
    """Drop what counts nothing any more."""
    session.execute(delete(MeterRow).where(MeterRow.since < at))
