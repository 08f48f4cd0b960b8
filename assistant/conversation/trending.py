"""Where the room is going, from the readings that were told: a soft finding, and one sentence."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from assistant.conversation.case import Case
from assistant.conversation.events import FactLearned, NumberLearned
from assistant.conversation.hours import next_quarter
from assistant.conversation.known import unit_of
from assistant.conversation.room_readings import ROOM, TARGET, course_of
from assistant.conversation.room_sums import expected_fall
from assistant.conversation.sum_events import SumDone
from assistant.conversation.sums_done import TREND_SUM, trend_done
from assistant.conversation.turn import Turn
from assistant.engineering import READING_SIGMA_K, RoomReading, Trend, shares_of_bands, trend_of
from assistant.wording import degrees, hour_words
from kb.ids import FindingId, QuantityId, StateId

TREND: Final = FindingId("trend")
FEWEST: Final = 2
SHORTEST: Final = timedelta(minutes=15)
COLDEST_TARGET_C: Final = -5.0
WARMEST_TARGET_C: Final = 20.0
"""A target outside is asked about by its own finding."""

STATE_OF: Final = {"on_its_way": "falling", "will_stall": "standing", "rising": "rising"}
"""What each heading means for the finding: a room that stalls on its way down no longer falls by tomorrow."""

LEAST_SHARE: Final = 0.02
"""The curves are an idealisation: nothing that they exclude is excluded (our judgement)."""

VERDICT_OF: Final = {
    "trend_on_its_way": "on_its_way",
    "trend_between": "on_its_way",
    "trend_stall": "will_stall",
    "trend_rising": "rising",
}
LATELY: Final = timedelta(hours=6)
MOVES_K: Final = 1.1
"""Two degrees F are a move (common practice, no source)."""

WIDE: Final = timedelta(hours=2)
AHEAD_H: Final = 12.0
EXPECTED_POINTS: Final = 24
ASK_IN: Final = timedelta(hours=3)
"""Where no hour within two days would decide it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Course:
    """Readings of one course, and where they lead."""

    readings: tuple[NumberLearned, ...]
    target_c: float
    trend: Trend


def course_now(case: Case, at: datetime) -> Course | None:
    """The course of the room; None while there are too few readings, or no target."""
    readings, target = course_of(case, at), case.latest_number(TARGET)
    if target is None or not COLDEST_TARGET_C <= target.si <= WARMEST_TARGET_C:
        return None
    if len(readings) < FEWEST or readings[-1].read_at - readings[0].read_at < SHORTEST:
        return None
    return Course(readings=readings, target_c=target.si, trend=trend_of(_points(readings), target.si))


def _points(readings: Sequence[NumberLearned]) -> list[RoomReading]:
    last = readings[-1].read_at
    return [RoomReading(at_h=(one.read_at - last) / timedelta(hours=1), room_c=one.si) for one in readings]


def learn_trend(turn: Turn, fresh: frozenset[QuantityId]) -> None:
    """Work the trend out anew when a reading or the target is new; what it says becomes the finding.

    While a fix waits for its proof the readings are that proof, and are not counted a second time.
    """
    if not fresh & {ROOM, TARGET} or proves_a_fix(turn.case):
        return
    course = course_now(turn.case, turn.at)
    if course is None:
        return
    turn.add(
        trend_done(turn.at, _points(course.readings), course.target_c, course.trend, _expected(turn, course))
    )
    if TREND not in turn.knowledge.findings:
        return
    shares = _shares(course)
    likeliest = max(shares, key=lambda state: (shares[state], state))
    turn.add(
        FactLearned(
            at=turn.at,
            finding=TREND,
            state=StateId(likeliest),
            likelihood=tuple((StateId(state), share) for state, share in shares.items()),
            confidence=shares[likeliest],
            source="sum",
            epoch=turn.case.epoch,
            replaces=True,
        )
    )


def _shares(course: Course) -> dict[str, float]:
    """Where it leads, once that is decided; before, only which way it has gone in the last hours."""
    if course.trend.verdict == "too_early":
        shares = dict(_way_lately(course.readings))
    else:
        shares = {STATE_OF[heading]: share for heading, share in course.trend.shares.items()}
    whole = sum(share + LEAST_SHARE for share in shares.values())
    return {state: (share + LEAST_SHARE) / whole for state, share in shares.items()}


def _way_lately(readings: Sequence[NumberLearned]) -> Mapping[str, float]:
    last = readings[-1]
    since = next(one for one in readings if last.read_at - one.read_at <= LATELY or one is readings[-2])
    sigma_k = math.hypot(READING_SIGMA_K, READING_SIGMA_K)
    return shares_of_bands(
        last.si - since.si, sigma_k, [-MOVES_K, MOVES_K], ["falling", "standing", "rising"]
    )


def proves_a_fix(case: Case) -> bool:
    """A fix is done and not judged: the room's numbers are its proof."""
    fix = case.fixes[-1] if case.fixes else None
    return fix is not None and fix.done_at is not None and fix.worked is None


def _expected(turn: Turn, course: Course) -> tuple[tuple[str, float], ...]:
    """How this room should have come down from its first reading, where size and rating are known: for the picture."""
    first = course.readings[0]
    fall = expected_fall(turn, first.si)
    if fall is None:
        return ()
    hours = (course.readings[-1].read_at - first.read_at) / timedelta(hours=1)
    points = [
        (at_h - hours, air_c)
        for at_h, air_c in zip(fall.hours, fall.air_c, strict=True)
        if at_h <= hours + AHEAD_H
    ]
    step = max(1, len(points) // EXPECTED_POINTS)
    return tuple(
        pair
        for place, (at_h, air_c) in enumerate(points[::step])
        for pair in ((f"expected_h.{place}", at_h), (f"expected_c.{place}", air_c))
    )


def news_of_trend(turn: Turn) -> SumDone | None:
    """The trend, where this turn worked it out."""
    done = [event for event in turn.events if isinstance(event, SumDone) and event.sum == TREND_SUM]
    return done[-1] if done else None


def say_verdict(turn: Turn, done: SumDone) -> datetime | None:
    """One sentence; the hour at which another number is wanted, None where the verdict stands."""
    unit, found = unit_of(turn.case), dict(done.results)
    readings = course_of(turn.case, turn.at)
    match done.verdict:
        case "on_its_way":
            return _say_arrival(turn, done, readings[-1].read_at)
        case "will_stall":
            target = degrees(dict(done.inputs)["target_c"], unit)
            turn.say("trend_stall", end=degrees(found["ends_c_middle"], unit), target=target)
            return None
        case "rising":
            turn.say("trend_rising")
            return None
        case _:
            wait = timedelta(hours=found["decides_in_h"]) if "decides_in_h" in found else ASK_IN
            due = next_quarter(max(readings[-1].read_at + wait, turn.at + SHORTEST))
            sentence = "trend_early" if "decides_in_h" in found else "trend_open"
            turn.say(sentence, count=str(len(readings)), hour=_hour(turn, due))
            return due


def _say_arrival(turn: Turn, done: SumDone, last: datetime) -> datetime:
    found, unit = dict(done.results), unit_of(turn.case)
    soonest, likely, latest = (
        next_quarter(max(last + timedelta(hours=found[f"reaches_in_h_{end}"]), turn.at))
        for end in ("low", "middle", "high")
    )
    target = degrees(dict(done.inputs)["target_c"], unit)
    if latest - soonest > WIDE:
        turn.say("trend_between", target=target, soonest=_hour(turn, soonest), latest=_hour(turn, latest))
    else:
        turn.say("trend_on_its_way", target=target, hour=_hour(turn, likely))
    return likely


def _hour(turn: Turn, due: datetime) -> str:
    return hour_words(due, turn.at, turn.zone, turn.language)


def tell_trend(turn: Turn) -> None:
    """The verdict in passing, while the search goes on: when it is a new one, or several numbers came at once."""
    done = news_of_trend(turn)
    if done is None:
        return
    several = sum(isinstance(e, NumberLearned) and e.quantity == ROOM for e in turn.events) > 1
    if done.verdict != "too_early":
        if _told_last(turn) != done.verdict:
            say_verdict(turn, done)
    elif several and not turn.has_said("trend_early"):
        say_verdict(turn, done)


def _told_last(turn: Turn) -> str | None:
    """The verdict that was said last, or is about to be."""
    said = [*(sentence for sentence, _ in turn.case.said), *(piece.sentence for piece in turn.pieces)]
    return next((VERDICT_OF[sentence] for sentence in reversed(said) if sentence in VERDICT_OF), None)
