"""Hours where the room is: promised times, waking hours, and when people are at the desk."""

from datetime import datetime, time, timedelta
from typing import Final
from zoneinfo import ZoneInfo

from assistant.conversation.case import Case

QUARTER_MIN: Final = 15
WAKING_FROM: Final = time(6, 30)
WAKING_TO: Final = time(21, 30)
"""We promise to ask within these hours only (common practice, no source)."""


def wall_time(due: datetime, zone: str) -> str:
    """The hour on the wall where the room is, to the minute.

    >>> from datetime import UTC
    >>> wall_time(datetime(2026, 7, 14, 21, 0, tzinfo=UTC), "America/New_York")
    '2026-07-14T17:00'
    """
    return due.astimezone(ZoneInfo(zone)).strftime("%Y-%m-%dT%H:%M")


def next_quarter(due: datetime) -> datetime:
    """The next full quarter of an hour: nobody keeps an appointment at 5:07.

    >>> from datetime import UTC
    >>> next_quarter(datetime(2026, 7, 14, 17, 7, 30, tzinfo=UTC)).strftime("%H:%M")
    '17:15'
    """
    floor = due.replace(minute=due.minute - due.minute % QUARTER_MIN, second=0, microsecond=0)
    return floor if floor == due else floor + timedelta(minutes=QUARTER_MIN)


def waking_hour(due: datetime, zone: str) -> datetime:
    """`due`, or the next morning where it falls into the night.

    >>> from datetime import UTC
    >>> late = datetime(2026, 7, 15, 3, 0, tzinfo=UTC)      # 11 pm in New York
    >>> waking_hour(late, "America/New_York").isoformat()
    '2026-07-15T10:30:00+00:00'
    """
    there = due.astimezone(ZoneInfo(zone))
    if WAKING_FROM <= there.time() <= WAKING_TO:
        return due
    morning = there if there.time() < WAKING_FROM else there + timedelta(days=1)
    morning = morning.replace(hour=WAKING_FROM.hour, minute=WAKING_FROM.minute, second=0, microsecond=0)
    return morning.astimezone(due.tzinfo)


def desk_from(case: Case, at: datetime) -> datetime | None:
    """When somebody at the desk next looks; None: now."""
    if case.opened is None:
        return None
    zone = ZoneInfo(case.opened.zone)
    there = at.astimezone(zone)
    opens, closes = (time.fromisoformat(hour) for hour in (case.opened.desk_opens, case.opened.desk_closes))
    if opens <= there.time() < closes:
        return None
    day = there if there.time() < opens else there + timedelta(days=1)
    return day.replace(hour=opens.hour, minute=opens.minute, second=0, microsecond=0).astimezone(at.tzinfo)
