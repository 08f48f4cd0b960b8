"""Results of sums as events keep them: names with their units, in one order, so that sheets and pictures find them."""

from collections.abc import Sequence
from datetime import datetime
from typing import Final

from assistant.conversation.sum_events import SumDone
from assistant.engineering import Match, RoomReading, ToldRoom, Trend

TREND_SUM: Final = "trend"
LOAD_SUM: Final = "load_against_capacity"
Pairs = tuple[tuple[str, float], ...]


def trend_done(
    at: datetime, points: Sequence[RoomReading], target_c: float, trend: Trend, expected: Pairs = ()
) -> SumDone:
    """A trend; hours count from the last reading, and readings stand as `at_h.0`, `room_c.0`, `at_h.1` ..."""
    ranges = {"ends_c": trend.ends_c, "tau_h": trend.tau_h, "reaches_in_h": trend.reaches_in_h}
    spread = [
        (f"{name}_{end}", value)
        for name, found in ranges.items()
        if found is not None
        for end, value in (("low", found.low), ("middle", found.middle), ("high", found.high))
    ]
    decides = () if trend.decides_in_h is None else (("decides_in_h", trend.decides_in_h),)
    readings = (
        pair
        for place, point in enumerate(points)
        for pair in ((f"at_h.{place}", point.at_h), (f"room_c.{place}", point.room_c))
    )
    return SumDone(
        at=at,
        sum=TREND_SUM,
        inputs=(("target_c", target_c), *readings),
        results=(*trend.shares.items(), *spread, *decides, *expected),
        defaults=trend.footing.defaults,
        verdict=trend.verdict,
    )


def match_done(at: datetime, told: ToldRoom, rated_w: float, match: Match) -> SumDone:
    """A unit against the heat of its room."""
    return SumDone(
        at=at,
        sum=LOAD_SUM,
        inputs=match_inputs(told, rated_w),
        results=(*((str(state), share) for state, share in match.shares.items()), *match_results(match)),
        defaults=match.defaults,
        verdict=max(match.shares, key=lambda state: (match.shares[state], state)),
    )


def match_inputs(told: ToldRoom, rated_w: float) -> Pairs:
    """What was told of the room and its unit."""
    names = ("long_m", "wide_m", "high_m", "foam_m", "target_c", "outdoor_c", "product_kg", "product_from_c")
    given = ((name, getattr(told, name)) for name in names)
    return (("rated_w", rated_w), *((name, float(value)) for name, value in given if value is not None))


def match_results(match: Match) -> Pairs:
    """What it came to, besides the shares of its states."""
    used, coldest = match.used_share, match.coldest_c
    return (
        ("used_share_low", used.low), ("used_share_middle", used.middle), ("used_share_high", used.high),
        ("coldest_c_low", coldest.low), ("coldest_c_middle", coldest.middle), ("coldest_c_high", coldest.high),
        ("load_w", match.load_w), ("cooling_w", match.cooling_w), ("assumed_outdoor_c", match.outdoor_c),
        *((f"term:{term.name}", term.mean_w) for term in match.terms),
        *((f"worth:{worth.mend}", worth.saves_w) for worth in match.worths),
        *((f"turns:{name}", 1.0) for name in match.turns),
    )  # fmt: skip
