"""How a room of air, product and walls comes down: the curve, the hour of arrival with its doubt, the stall.

Two heat stores, air with the inner skin of the room, and product, joined by the product's own slowness:

    C_air dT/dt = UA (T_out - T) + gains - cooling(T) + K (P - T)
    C_product dP/dt = K (T - P) + respiration          K = C_product ln 2 / half-cooling time

The unit runs flat out for the share of the time that thaw leaves it, until the control holds the target.
"""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from scipy.integrate import solve_ivp

from assistant.engineering.capacity import USUAL_RH_PCT, delivered_cooling
from assistant.engineering.errors import in_range
from assistant.engineering.footing import Footing
from assistant.engineering.sizing import RUN_SHARE

AIR_KJ_M3K: Final = 1.29
SKIN_KJ_M2K: Final = 8.0
"""Inner skin, floor finish and shelves that follow the air (common practice, no source: 5-15)."""

USUAL_HALF_COOLING_H: Final = 6.0
"""Room cooling of boxed produce: 7/8 in 24-72 h is 3 half-cooling times of 8-24 h; loose stock is quicker (c. p.)."""

WARM_RH_PCT: Final = 50.0
KNOTS_C: Final = np.array([0.0, 2.5, 5.0, 7.5, 10.0, 15.0, 20.0, 26.0, 35.0])
"""Room temperatures at which capacity is worked out; straight lines between them."""

SECONDS_H: Final = 3600.0
LONGEST_H: Final = 96.0
STEP_H: Final = 0.25
STALLS_BELOW_K_H: Final = 0.05
"""A fall slower than this is a stall."""

DOUBT: Final = ((1.15, 0.85), (1.0, 1.0), (0.85, 1.15))
"""Cooling and heat gain each 15 % better, as told, and worse: the 90 % range of the hour (our judgement)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ColdRoom:
    """The room, its stock and its unit. `ua_w_k` is walls and air together, `gains_w` people, lights, fans."""

    volume_m3: float
    inner_m2: float
    ua_w_k: float
    gains_w: float
    rated_w: float
    outdoor_c: float
    air_start_c: float
    product_kg: float = 0.0
    product_kj_kgk: float = 3.8
    product_start_c: float | None = None
    respiration_w: float = 0.0
    half_cooling_h: float = USUAL_HALF_COOLING_H
    run_share: float = RUN_SHARE


@dataclass(frozen=True, slots=True, kw_only=True)
class PullDown:
    """The expected curve each quarter of an hour, and the hour of arrival; None where it never gets there."""

    hours: tuple[float, ...]
    air_c: tuple[float, ...]
    product_c: tuple[float, ...]
    reaches_h: float | None
    reaches_sooner_h: float | None
    reaches_later_h: float | None
    stalls_c: float | None
    """Where the air settles, if that is above the target."""

    footing: Footing


def expected_pull_down(room: ColdRoom, target_c: float) -> PullDown:
    """The curve from now to `target_c` (1 to 20 °C), at most 96 hours ahead.

    Fails with `OutOfRangeError` on a room that no cold room is.

    >>> empty = ColdRoom(volume_m3=20.0, inner_m2=46.0, ua_w_k=16.0, gains_w=50.0, rated_w=3517.0,
    ...                  outdoor_c=30.0, air_start_c=25.0)
    >>> found = expected_pull_down(empty, 4.0)
    >>> found.reaches_h is not None and found.reaches_h < 3.0
    True
    """
    _checked(room, target_c)
    best, told, worst = (_course(room, target_c, cooling, gain) for cooling, gain in DOUBT)
    hours, air_c, product_c = told
    reaches_h = _reaches_h(told, target_c)
    return PullDown(
        hours=tuple(hours.tolist()),
        air_c=tuple(air_c.tolist()),
        product_c=tuple(product_c.tolist()),
        reaches_h=reaches_h,
        reaches_sooner_h=_reaches_h(best, target_c),
        reaches_later_h=_reaches_h(worst, target_c),
        stalls_c=float(air_c[-1]) if reaches_h is None and _stands(told) else None,
        footing=_footing(room, target_c),
    )


def _checked(room: ColdRoom, target_c: float) -> None:
    in_range("target temperature", target_c, 1.0, 20.0, "°C")
    in_range("room volume", room.volume_m3, 2.0, 300.0, "m³")
    in_range("inner surface", room.inner_m2, 5.0, 500.0, "m²")
    in_range("heat loss", room.ua_w_k, 0.5, 1000.0, "W/K")
    in_range("gains", room.gains_w, 0.0, 20_000.0, "W")
    in_range("respiration", room.respiration_w, 0.0, 20_000.0, "W")
    in_range("air at the start", room.air_start_c, -5.0, 35.0, "°C")
    in_range("mass of product", room.product_kg, 0.0, 50_000.0, "kg")
    in_range("specific heat", room.product_kj_kgk, 0.5, 4.3, "kJ/kgK")
    in_range("half-cooling time", room.half_cooling_h, 0.1, 72.0, "h")
    in_range("run share", room.run_share, 0.1, 1.0)
    if room.product_start_c is not None:
        in_range("product at the start", room.product_start_c, -2.0, 40.0, "°C")


_Course = tuple["np.ndarray[tuple[int], np.dtype[np.float64]]", ...]


def _course(room: ColdRoom, target_c: float, cooling: float, gain: float) -> _Course:
    air_kj_k = AIR_KJ_M3K * room.volume_m3 + SKIN_KJ_M2K * room.inner_m2
    product_kj_k = room.product_kg * room.product_kj_kgk
    link_w_k = 1000.0 * product_kj_k * math.log(2.0) / (room.half_cooling_h * SECONDS_H)
    knots_w = np.array([_cooling_w(room, float(c)) for c in KNOTS_C])

    def slopes(_: float, state: "np.ndarray[tuple[int], np.dtype[np.float64]]") -> list[float]:
        air_c, product_c = float(state[0]), float(state[1])
        gains_w = gain * (room.ua_w_k * (room.outdoor_c - air_c) + room.gains_w)
        flat_out_w = cooling * room.run_share * float(np.interp(air_c, KNOTS_C, knots_w))
        # in the last half degree the control takes off what is not needed, so that the room holds its target
        asked = min(1.0, max(0.0, (air_c - target_c + 0.25) / 0.5))
        into_air_w = gains_w - asked * flat_out_w + link_w_k * (product_c - air_c)
        into_product_w = link_w_k * (air_c - product_c) + gain * room.respiration_w
        product_k_h = into_product_w * SECONDS_H / (1000.0 * product_kj_k) if product_kj_k else 0.0
        return [into_air_w * SECONDS_H / (1000.0 * air_kj_k), product_k_h]

    start_c = room.air_start_c if room.product_start_c is None else room.product_start_c
    hours = np.arange(0.0, LONGEST_H + STEP_H, STEP_H)
    solved = solve_ivp(
        slopes,
        (0.0, LONGEST_H),
        [room.air_start_c, start_c],
        method="LSODA",
        t_eval=hours,
        rtol=1e-6,
        atol=1e-6,
    )
    return solved.t, solved.y[0], solved.y[1]


def _cooling_w(room: ColdRoom, air_c: float) -> float:
    """A warm room is as damp as the air outdoors, a cold one as damp as its wet coil leaves it."""
    rh_pct = float(np.interp(air_c, (10.0, 25.0), (USUAL_RH_PCT, WARM_RH_PCT)))
    return delivered_cooling(room.rated_w, air_c, room.outdoor_c, rh_pct=rh_pct).cooling_w.middle


def _reaches_h(course: _Course, target_c: float) -> float | None:
    hours, air_c, _ = course
    there = np.nonzero(air_c <= target_c + 0.3)[0]
    return float(hours[there[0]]) if len(there) else None


def _stands(course: _Course) -> bool:
    hours, air_c, _ = course
    return abs(float(air_c[-1] - air_c[-9])) / float(hours[-1] - hours[-9]) < STALLS_BELOW_K_H


def _footing(room: ColdRoom, target_c: float) -> Footing:
    usual = ColdRoom.__dataclass_fields__
    optional = ("product_start_c", "half_cooling_h", "run_share")
    return Footing(
        inputs=(
            ("target_c", target_c),
            ("volume_m3", room.volume_m3),
            ("inner_m2", room.inner_m2),
            ("ua_w_k", room.ua_w_k),
            ("gains_w", room.gains_w),
            ("rated_w", room.rated_w),
            ("outdoor_c", room.outdoor_c),
            ("air_start_c", room.air_start_c),
            ("product_kg", room.product_kg),
        ),
        defaults=tuple(name for name in optional if getattr(room, name) == usual[name].default),
        holds="doors shut, a clean coil; air and product each of one temperature; outdoors as now",
        source="heat balance of two stores (Incropera, ch. 5); half-cooling: ASHRAE Refrigeration, precooling",
    )
