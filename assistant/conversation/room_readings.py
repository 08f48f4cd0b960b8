"""The room's temperatures as they were told, each at the hour at which it was read off."""

import itertools
import re
from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime, timedelta
from typing import Final
from zoneinfo import ZoneInfo

from assistant.conversation.case import Case
from assistant.conversation.events import NumberLearned
from kb.ids import QuantityId

ROOM: Final = QuantityId("room_c")
TARGET: Final = QuantityId("target_c")
CLOCKS_DIFFER: Final = timedelta(minutes=30)
"""An hour so little ahead is now: people round, and clocks differ (common practice, no source)."""

AT_ONCE: Final = timedelta(minutes=10)
"""Two readings so close are one: the later one counts."""

COURSE_LASTS: Final = timedelta(hours=72)
MOST_READINGS: Final = 14
HALF_DAY: Final = timedelta(hours=12)
DAY: Final = timedelta(days=1)
AGAINST_TIME: Final = timedelta(days=30)
LONGEST_AGO: Final = timedelta(days=14)
HOURS: Final = 24
MINUTES: Final = 60
_CLOCK: Final = re.compile(r"^(\d{1,2}):(\d{2})\??$")
_SPAN: Final = re.compile(r"^-P(?:(\d+)W)?(?:([\d.]+)D)?(?:T(?:([\d.]+)H)?(?:([\d.]+)M)?)?$")


def read_off_at(said: Sequence[str | None], now: datetime, zone: str) -> tuple[datetime, ...]:
    """When the numbers of one message were read off, in the order in which they stand there.

    Each is an hour by `is_an_hour`. "14:00" is that hour, "2:00" or "11:00?" that hour in either half of the day, "-PT2H" two hours ago, None is now
    (`assistant.reading.clocktimes`). Nobody tells of hours to come, and a list goes one way: forwards, or back from now. The way that needs less time is meant.

    >>> from datetime import UTC
    >>> evening = datetime(2026, 7, 14, 21, 30, tzinfo=UTC)
    >>> [at.strftime("%d %H:%M") for at in read_off_at(["2:00", "5:15", "8:00", None], evening, "UTC")]
    ['14 14:00', '14 17:15', '14 20:00', '14 21:30']
    >>> [at.strftime("%d %H:%M") for at in read_off_at(["11:00?", "2:00"], evening.replace(hour=3), "UTC")]
    ['13 23:00', '14 02:00']
    """
    forwards = _one_way(tuple(reversed(said)), now, zone)
    backwards = _one_way(said, now, zone)
    return tuple(reversed(forwards)) if _needs(forwards, now) <= _needs(backwards, now) else backwards


def is_an_hour(said: str | None) -> bool:
    """An hour of the clock, or a span of at most `LONGEST_AGO`; anything else was misread, and dates nothing.

    >>> is_an_hour("25:75"), is_an_hour("-PT-3H"), is_an_hour("-PT4000H"), is_an_hour("11:30?"), is_an_hour("-PT2H")
    (False, False, False, True, True)
    """
    if said is None:
        return True
    span = _SPAN.match(said)
    if span is not None:
        return _ago_h(span) <= LONGEST_AGO / timedelta(hours=1)
    clock = _CLOCK.match(said)
    return clock is not None and int(clock.group(1)) <= HOURS and int(clock.group(2)) < MINUTES


def _ago_h(span: re.Match[str]) -> float:
    weeks, days, hours, minutes = (float(part or 0.0) for part in span.groups())
    return 168.0 * weeks + 24.0 * days + hours + minutes / 60.0


def _one_way(said: Sequence[str | None], now: datetime, zone: str) -> tuple[datetime, ...]:
    """Each hour the latest that is not after the one before it."""
    found: list[datetime] = []
    for one in said:
        found.append(_moment(one, found[-1] if found else now, now, zone))
    return tuple(found)


def _moment(said: str | None, not_after: datetime, now: datetime, zone: str) -> datetime:
    if said is None:
        return now
    span = _SPAN.match(said)
    if span is not None:
        return now - timedelta(hours=_ago_h(span))
    hour, _, minute = said.partition(":")
    there = now.astimezone(ZoneInfo(zone))
    on_the_wall = there.replace(hour=int(hour) % 24, minute=int(minute[:2] or 0), second=0, microsecond=0)
    step = HALF_DAY if len(hour) == 1 or said.endswith("?") else DAY
    at = on_the_wall.astimezone(now.tzinfo) + DAY
    while at > not_after + CLOCKS_DIFFER:
        at -= step
    return min(at, not_after)


def _needs(moments: Sequence[datetime], now: datetime) -> timedelta:
    """How far back a list goes; one that turns back on itself is no list."""
    turns = sum(later > earlier for earlier, later in itertools.pairwise(moments))
    return now - min(moments, default=now) + turns * AGAINST_TIME


def course_of(case: Case, at: datetime) -> tuple[NumberLearned, ...]:
    """The readings of one course, in time: since the last fix, of three days at most, the newest `MOST_READINGS`."""
    done = max((fix.done_at for fix in case.fixes if fix.done_at is not None), default=None)
    since = at - COURSE_LASTS if done is None else max(done, at - COURSE_LASTS)
    rooms = sorted(
        (n for n in case.numbers if n.quantity == ROOM and n.read_at >= since), key=lambda n: n.read_at
    )
    return tuple(_apart(rooms))[-MOST_READINGS:]


def _apart(rooms: Iterable[NumberLearned]) -> Iterator[NumberLearned]:
    kept: NumberLearned | None = None
    for one in rooms:
        if kept is not None and one.read_at - kept.read_at > AT_ONCE:
            yield kept
        kept = one
    if kept is not None:
        yield kept
