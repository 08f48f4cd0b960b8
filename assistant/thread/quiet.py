"""Quiet hours: when a text that nobody asked for may arrive, wherever its number may be."""

from collections.abc import Sequence
from datetime import datetime, time, timedelta
from typing import Final
from zoneinfo import ZoneInfo

OPENS: Final = time(8, 0)
CLOSES: Final = time(20, 0)
"""47 CFR 64.1200(c)(1) has 8 am to 9 pm at the called party's place; some states end at 8 pm (from memory)."""
QUARTER: Final = timedelta(minutes=15)


def first_polite(at: datetime, zones: Sequence[str]) -> datetime:
    """`at`, or the next quarter of an hour at which it is day in all the zones at once.

    Where the zones have no hour in common, the first one counts: it is the likeliest.

    >>> from datetime import UTC
    >>> late = datetime(2026, 7, 15, 1, 30, tzinfo=UTC)     # 8:30 pm in Chicago, 7:30 pm in Denver
    >>> first_polite(late, ("America/Chicago", "America/Denver")).isoformat()
    '2026-07-15T14:00:00+00:00'
    """
    return _first(at, zones) or _first(at, zones[:1]) or at


def _first(at: datetime, zones: Sequence[str]) -> datetime | None:
    if _is_day(at, zones):
        return at
    quarter = at.replace(minute=at.minute - at.minute % 15, second=0, microsecond=0)
    later = (quarter + n * QUARTER for n in range(1, 2 * 24 * 4 + 1))
    return next((one for one in later if _is_day(one, zones)), None)


def _is_day(at: datetime, zones: Sequence[str]) -> bool:
    return all(OPENS <= at.astimezone(ZoneInfo(zone)).time() < CLOSES for zone in zones)
