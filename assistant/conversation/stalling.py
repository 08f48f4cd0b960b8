"""A fix that helped and was not all: the room fell, and now stands still above its target."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from assistant.conversation.case import FixProgress
from assistant.conversation.events import FixJudged, NumberLearned, TimerDropped
from assistant.conversation.ids import TimerName
from assistant.conversation.known import unit_of
from assistant.conversation.room_readings import ROOM, TARGET
from assistant.conversation.sums import AT_TARGET_K, do_sums
from assistant.conversation.turn import Turn
from assistant.engineering import RoomReading, stopped_short_share, trend_of
from assistant.wording import degrees

MOVES_K: Final = 1.1
"""Two degrees F are a move (common practice, no source)."""

STANDS_FOR: Final = timedelta(hours=2)
"""A room that rests or swings shows the same number twice within this (common practice, no source)."""

FEWEST: Final = 3
VERIFY: Final = TimerName("verify")
SURE: Final = 0.8
"""Four to one that it will not get there: less is asked of a search that goes on than of a verdict that is told."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stall:
    """How surely a room stands still above its target, and that it fell before."""

    stands: float
    moved: float


def stall_of(
    turn: Turn, fix: FixProgress, start: NumberLearned, now: NumberLearned, target_c: float
) -> Stall | None:
    """The stall, where the numbers since the fix tell of one; else None."""
    if now.si - target_c <= AT_TARGET_K or start.si - now.si < MOVES_K:
        return None
    readings = [start, *(one for one in _since(turn, fix, start) if one.read_at <= now.read_at)]
    if len(readings) < FEWEST or now.read_at - _stands_since(readings) < STANDS_FOR:
        return None
    last = now.read_at
    points = [RoomReading(at_h=(one.read_at - last) / timedelta(hours=1), room_c=one.si) for one in readings]
    stands = trend_of(points, target_c).shares["will_stall"]
    if stands < SURE:
        return None
    return Stall(stands=stands, moved=stopped_short_share(now.si, start_c=start.si, target_c=target_c))


def _since(turn: Turn, fix: FixProgress, start: NumberLearned) -> list[NumberLearned]:
    begun = max(start.read_at, fix.done_at or start.read_at)
    rooms = (one for one in turn.case.numbers if one.quantity == ROOM and one.read_at > begun)
    return sorted(rooms, key=lambda one: one.read_at)


def _stands_since(readings: list[NumberLearned]) -> datetime:
    """The first of the last readings that all show about what the newest shows."""
    last, since = readings[-1], readings[-1]
    for one in reversed(readings):
        if abs(one.si - last.si) >= MOVES_K:
            break
        since = one
    return since.read_at


def go_on_from(turn: Turn, fix: FixProgress, stall: Stall, start: NumberLearned, now: NumberLearned) -> None:
    """Say that it helped and was not all; the hour that was promised is no longer needed."""
    turn.add(FixJudged(at=turn.at, fix=fix.fix, worked=1.0 - stall.stands, moved=stall.moved))
    do_sums(turn, frozenset({ROOM, TARGET}))  # they proved the fix; from here they tell of what is left
    unit = unit_of(turn.case)
    turn.say("helped_in_part", before=degrees(start.si, unit), now=degrees(now.si, unit))
    turn.wait_for("nothing")
    if any(timer.timer == VERIFY for timer in turn.case.timers):
        turn.add(TimerDropped(at=turn.at, timer=VERIFY))
