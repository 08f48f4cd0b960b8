"""How long product keeps: Q10, hours to a limit after an outage, and what being warm has cost.

Only quality. Whether food that was too warm may be used is the inspector's to say; unknown hours count as too many,
and no number here ever means that food is safe.
"""

import math
from dataclasses import dataclass
from typing import Final, Literal

from assistant.engineering.commodities import RATES_AT_C, Commodity
from assistant.engineering.errors import OutOfRangeError, in_range
from assistant.engineering.footing import Range

USUAL_Q10: Final = Range(low=2.0, middle=2.5, high=3.0)
"""Factor of ageing per 10 K (ASHRAE Handbook - Refrigeration, HB66: 2-3)."""

AIR_KJ_M3K: Final = 1.29
Clock = Literal["within", "over", "unknown_counts_as_over"]


def q10(slow_rate: float, quick_rate: float, difference_k: float) -> float:
    """How much quicker per 10 K, from two rates.

    Fails with `OutOfRangeError` on rates that do not rise with temperature: no Q10 fits them.

    >>> round(q10(10.0, 25.0, 10.0), 2)
    2.5
    """
    in_range("temperature difference", difference_k, 1.0, 40.0, "K")
    in_range("slower rate", slow_rate, 1e-6, 1e6)
    in_range(
        "quicker rate",
        quick_rate,
        slow_rate,
        1e6,
        mend="these rates fall with temperature; use the usual 2-3",
    )
    return math.pow(quick_rate / slow_rate, 10.0 / difference_k)


def q10_of(stored: Commodity) -> float:
    """Q10 of a row between its coldest and warmest rate.

    Fails with `OutOfRangeError` on fewer than two rates, or on rates that fall on the way (carrots, garlic).

    >>> from assistant.engineering.commodities import commodity
    >>> 2.0 < q10_of(commodity("broccoli")) < 4.0
    True
    """
    held = [(c, rate) for c, rate in zip(RATES_AT_C, stored.co2_mg_kg_h, strict=True) if rate is not None]
    rates = [rate for _, rate in held]
    if len(held) <= 1 or rates != sorted(rates):
        raise OutOfRangeError(f"the rates held for {stored.name} fit no Q10; use the usual 2-3")
    return q10(rates[0], rates[-1], held[-1][0] - held[0][0])


def days_lost(hours_warm: float, warm_c: float, usual_c: float, q10_range: Range = USUAL_Q10) -> Range:
    """Days of storage life that hours at `warm_c` used up, beyond those that would have passed anyway.

    >>> lost = days_lost(24.0, 12.0, 2.0)
    >>> lost.low, lost.high
    (1.0, 2.0)
    """
    in_range("hours warm", hours_warm, 0.0, 24.0 * 30.0, "h")
    in_range("usual temperature", usual_c, -5.0, 25.0, "°C")
    in_range(
        "warm temperature", warm_c, usual_c, 45.0, "°C", mend="give the warmer temperature as the warm one"
    )
    low, middle, high = (
        hours_warm / 24.0 * (factor ** ((warm_c - usual_c) / 10.0) - 1.0)
        for factor in (q10_range.low, q10_range.middle, q10_range.high)
    )
    return Range(low=low, middle=middle, high=high)


@dataclass(frozen=True, slots=True, kw_only=True)
class Outage:
    """A room without cooling, doors shut: hours to a limit for the mean of what is in it.

    The air runs ahead of the product and its outside ahead of its core: judge by the product's own temperature.
    """

    hours: float | None
    """None: it never gets there, as the air outside is cooler."""

    tau_h: float
    rises_to_c: float


def outage(
    start_c: float,
    limit_c: float,
    outside_c: float,
    *,
    ua_w_k: float,
    volume_m3: float,
    stored_kg: float = 0.0,
    stored_kj_kgk: float = 3.8,
    walls_kj_k: float = 65.0,
    respiration_w: float = 0.0,
) -> Outage:
    """Hours until air and product together reach `limit_c`: one store that leaks, C dT/dt = UA (T_out - T) + W.

    `walls_kj_k` is the skin of walls and floor that follows (common practice, no source: 30-400).
    Fails with `OutOfRangeError` on a room that no cold room is.

    >>> full = outage(3.0, 5.0, 30.0, ua_w_k=10.0, volume_m3=10.0, stored_kg=2000.0)
    >>> bare = outage(3.0, 5.0, 30.0, ua_w_k=10.0, volume_m3=10.0)
    >>> round(full.hours or 0.0), round(60 * (bare.hours or 0.0))
    (16, 10)
    """
    in_range("temperature now", start_c, -30.0, 30.0, "°C")
    in_range("limit", limit_c, start_c, 40.0, "°C", mend="it is above the limit already: count it as over")
    in_range("outdoor temperature", outside_c, -40.0, 50.0, "°C")
    in_range("heat loss", ua_w_k, 0.5, 1000.0, "W/K")
    in_range("room volume", volume_m3, 1.0, 300.0, "m³")
    in_range("mass of product", stored_kg, 0.0, 50_000.0, "kg")
    in_range("specific heat", stored_kj_kgk, 0.5, 4.3, "kJ/kgK")
    in_range("heat of walls", walls_kj_k, 0.0, 5000.0, "kJ/K")
    in_range("respiration", respiration_w, 0.0, 20_000.0, "W")
    tau_h = (AIR_KJ_M3K * volume_m3 + walls_kj_k + stored_kg * stored_kj_kgk) * 1000.0 / ua_w_k / 3600.0
    rises_to_c = outside_c + respiration_w / ua_w_k
    if rises_to_c <= limit_c:
        return Outage(hours=None, tau_h=tau_h, rises_to_c=rises_to_c)
    hours = tau_h * math.log((rises_to_c - start_c) / (rises_to_c - limit_c))
    return Outage(hours=hours, tau_h=tau_h, rises_to_c=rises_to_c)


def food_clock(hours_above: float | None, allowed_h: float) -> Clock:
    """Whether time above a limit is within what a rule allows; hours that nobody knows count as over.

    Which rule, and whether it applies, is that of commodity, stage and place: it comes in as `allowed_h`.

    >>> food_clock(None, 4.0), food_clock(5.0, 4.0), food_clock(1.0, 4.0)
    ('unknown_counts_as_over', 'over', 'within')
    """
    in_range("allowed hours", allowed_h, 0.0, 24.0 * 30.0, "h")
    if hours_above is None:
        return "unknown_counts_as_over"
    return (
        "over" if in_range("hours above the limit", hours_above, 0.0, 10_000.0, "h") > allowed_h else "within"
    )
