"""The unit that a room needs, and the coldest that a unit can hold it."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final, Literal

from scipy.optimize import brentq

from assistant.engineering.capacity import LEAST_OUTDOOR_C, delivered_cooling
from assistant.engineering.errors import OutOfRangeError, in_range
from assistant.engineering.footing import Footing, Range

RUN_SHARE: Final = 16.0 / 24.0
"""A unit that thaws in its rests cools 16 hours a day (AE-103 R3; AIRAH vol. 2, ch. 6)."""

FLOOR_C: Final = 2.0
"""Below it a room unit no longer melts its coil within a bearable rest (1-3 °C; common practice, no source)."""

WARMEST_C: Final = 25.0
AMPLE: Final = 0.8
SHORT: Final = 1.0
"""Load over usable cooling: 65-80 % on the design day is good, above 1 it cannot (common practice, no source)."""

Match = Literal["ample", "marginal", "short"]
Limit = Literal["load", "thaw"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """The rating to look for; the range is that of the capacity curve."""

    rated_w: Range
    footing: Footing


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """The coldest room a unit holds, and what stops it there: the heat that comes in, or ice that will not melt."""

    coldest_c: float
    limit: Limit
    footing: Footing


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """How a load sits on a unit: the share of the hours it can cool that the load takes."""

    match: Match
    used_share: Range


def unit_for(mean_load_w: float, room_c: float, outdoor_c: float, *, run_share: float = RUN_SHARE) -> Need:
    """The rating that carries a day's mean load in the part of the day for which a unit cools.

    Fails with `OutOfRangeError` for rooms below `FLOOR_C`: a room unit holds none of those.

    >>> 2.0 < unit_for(1000.0, 4.0, 35.0).rated_w.middle / 1000.0 < 2.6
    True
    """
    in_range("mean load", mean_load_w, 10.0, 20_000.0, "W")
    in_range("run share", run_share, 0.2, 1.0)
    in_range(
        "room temperature",
        room_c,
        FLOOR_C,
        WARMEST_C,
        "°C",
        mend="raise the target or choose a refrigeration unit",
    )
    ratio = delivered_cooling(3517.0, room_c, outdoor_c).ratio
    needed_w = mean_load_w / run_share
    return Need(
        rated_w=Range(low=needed_w / ratio.high, middle=needed_w / ratio.middle, high=needed_w / ratio.low),
        footing=_footing(("mean_load_w", mean_load_w), room_c, outdoor_c, run_share),
    )


def unit_fit(
    mean_load_w: float, rated_w: float, room_c: float, outdoor_c: float, *, run_share: float = RUN_SHARE
) -> Fit:
    """Whether a unit is ample, marginal or short for a load.

    >>> unit_fit(600.0, 3517.0, 4.0, 35.0).match, unit_fit(2000.0, 3517.0, 4.0, 35.0).match
    ('ample', 'short')
    """
    cooling_w = delivered_cooling(rated_w, room_c, outdoor_c).cooling_w
    in_range("mean load", mean_load_w, 0.0, 50_000.0, "W")
    low, middle, high = (
        mean_load_w / (run_share * w) for w in (cooling_w.high, cooling_w.middle, cooling_w.low)
    )
    match: Match = "short" if middle > SHORT else "ample" if middle <= AMPLE else "marginal"
    return Fit(match=match, used_share=Range(low=low, middle=middle, high=high))


def coldest_room(
    load_w: Callable[[float], float], rated_w: float, outdoor_c: float, *, run_share: float = RUN_SHARE
) -> Reach:
    """Where a room settles: its load at that temperature is what the unit gives there, hour for hour.

    `load_w` is the mean load at a room temperature; it falls as the room warms.
    Fails with `OutOfRangeError` where even at 25 °C the load is more than the unit gives.

    >>> leaky = coldest_room(lambda room_c: 60.0 * (35.0 - room_c), 3517.0, 35.0)
    >>> 8.0 < leaky.coldest_c < 12.0, leaky.limit
    (True, 'load')
    """

    def short_w(room_c: float) -> float:
        return load_w(room_c) - run_share * delivered_cooling(rated_w, room_c, outdoor_c).cooling_w.middle

    footing = _footing(("rated_w", rated_w), FLOOR_C, outdoor_c, run_share)
    if short_w(FLOOR_C) <= 0.0:
        return Reach(coldest_c=FLOOR_C, limit="thaw", footing=footing)
    if short_w(WARMEST_C) > 0.0:
        raise OutOfRangeError(
            f"the load at {WARMEST_C:g} °C is {load_w(WARMEST_C):.0f} W, more than this unit gives; "
            "check the rating, the room's size and the insulation"
        )
    return Reach(
        coldest_c=float(brentq(short_w, FLOOR_C, WARMEST_C, xtol=1e-4)), limit="load", footing=footing
    )


def _footing(first: tuple[str, float], room_c: float, outdoor_c: float, run_share: float) -> Footing:
    cool = f"; capacity as at {LEAST_OUTDOOR_C:g} °C outdoors" if outdoor_c < LEAST_OUTDOOR_C else ""
    return Footing(
        inputs=(first, ("room_c", room_c), ("outdoor_c", outdoor_c), ("run_share", run_share)),
        holds=f"room air conditioner with a clean coil and all its airflow, day means{cool}",
        source="DOE-2 cooling coil curve, EnergyPlus Engineering Reference; run hours AE-103 R3",
    )
