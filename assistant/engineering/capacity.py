"""What a room air conditioner of a rating gives in a cold room, and how cold its coil runs.

Rated at 26.7 °C dry and 19.4 °C wet indoors, 35 °C outdoors (AHAM RAC-1; AHRI 210/240, test A). Elsewhere by the
published DOE-2 curve, which ends at a wet bulb of 12.8 °C; a cold room lies below, so there the curve is carried on,
which is said in the result and widens its range. A clean, dry coil with all its airflow.
"""

from dataclasses import dataclass
from typing import Final

from scipy.optimize import brentq

from assistant.engineering.air import Air, moist_air, moist_air_by_wet_bulb
from assistant.engineering.errors import in_range
from assistant.engineering.footing import Footing, Range

RATED_RETURN_C: Final = 26.7
RATED_WET_BULB_C: Final = 19.4444
RATED_OUTDOOR_C: Final = 35.0
LOWEST_PUBLISHED_WET_BULB_C: Final = 12.778
LEAST_OUTDOOR_C: Final = 25.0
"""Below it a capacity that goes on rising is not to be believed (common practice): cooler is not credited."""

CAPACITY_BY_TEMPERATURE: Final = (
    0.942587793,
    0.009543347,
    0.000683770,
    -0.011042676,
    0.000005249,
    -0.000009720,
)
POWER_BY_TEMPERATURE: Final = (0.342414409, 0.034885008, -0.000623700, 0.004977216, 0.000437951, -0.000728028)
"""DOE-2 cooling coil, as in the EnergyPlus Engineering Reference: x the entering wet bulb, y the outdoor air, °C."""

COIL_BELOW_RETURN_K: Final = 18.7
"""Evaporating below return air at rating; it falls with capacity (cycle model on R-32 and R-410A; not a measurement)."""

PUBLISHED_SPREAD: Final = 0.05
CARRIED_ON_SPREAD: Final = 0.15
"""90 % ranges of the capacity ratio within the curve and beyond it (our judgement; no source)."""

USUAL_RH_PCT: Final = 85.0
FROST_BAND_C: Final = (10.0, 16.0)
"""Return air at which a coil's coldest passes begin to frost (common practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Delivered:
    """What the unit gives while it runs; thaw is not deducted here."""

    ratio: Range
    """Of the rated capacity."""

    cooling_w: Range
    coil_c: float
    sensible_share: float
    within_published: bool
    footing: Footing


def delivered_cooling(
    rated_w: float, room_c: float, outdoor_c: float, *, rh_pct: float = USUAL_RH_PCT
) -> Delivered:
    """Cooling of a unit rated `rated_w`, 500 W to 30 kW, in a room of 0 to 35 °C, -10 to 50 °C outdoors.

    Fails with `OutOfRangeError` outside. Below 25 °C outdoors the capacity at 25 °C is given, and the footing says so.

    >>> cold = delivered_cooling(3517.0, 4.0, 35.0)
    >>> round(cold.ratio.middle, 2), round(cold.coil_c), cold.within_published
    (0.6, -7, False)
    """
    in_range("rated capacity", rated_w, 500.0, 30_000.0, "W", mend="12 000 Btu/h are 3517 W")
    room = _room_air(room_c, rh_pct)
    in_range("outdoor temperature", outdoor_c, -10.0, 50.0, "°C")
    ratio = capacity_ratio(room.wet_bulb_c, outdoor_c)
    within = room.wet_bulb_c >= LOWEST_PUBLISHED_WET_BULB_C and outdoor_c >= LEAST_OUTDOOR_C
    spread = PUBLISHED_SPREAD if within else CARRIED_ON_SPREAD
    ratios = Range(low=ratio * (1.0 - spread), middle=ratio, high=ratio * (1.0 + spread))
    coil_c = room_c - COIL_BELOW_RETURN_K * ratio
    return Delivered(
        ratio=ratios,
        cooling_w=Range(low=rated_w * ratios.low, middle=rated_w * ratio, high=rated_w * ratios.high),
        coil_c=coil_c,
        sensible_share=sensible_share(room, coil_c),
        within_published=within,
        footing=_footing(rated_w, room_c, outdoor_c, rh_pct, within=within),
    )


def capacity_ratio(wet_bulb_c: float, outdoor_c: float) -> float:
    """Capacity over rated capacity, DOE-2 curve, outdoors taken as 25 °C where it is cooler.

    >>> round(capacity_ratio(19.4444, 35.0), 3), round(capacity_ratio(15.0, 35.0), 3)
    (1.0, 0.854)
    """
    in_range("wet bulb", wet_bulb_c, -5.0, 30.0, "°C")
    return _curve(CAPACITY_BY_TEMPERATURE, wet_bulb_c, max(outdoor_c, LEAST_OUTDOOR_C))


def power_ratio(wet_bulb_c: float, outdoor_c: float) -> float:
    """Power over rated power: capacity ratio times the ratio of energy input, both DOE-2.

    >>> round(power_ratio(19.4444, 35.0), 2)
    1.0
    """
    outdoor_c = max(outdoor_c, LEAST_OUTDOOR_C)
    return capacity_ratio(wet_bulb_c, outdoor_c) * _curve(POWER_BY_TEMPERATURE, wet_bulb_c, outdoor_c)


def sensible_share(entering: Air, coil_c: float) -> float:
    """The share of the cooling that lowers the temperature; the rest takes out water.

    Air goes from its own state towards saturation at the coil: 1.006 (t1 - t2) / (h1 - h2). A coil above the dew
    point takes out none, and the share is 1.

    >>> round(sensible_share(moist_air(4.0, 85.0), -7.3), 2)
    0.67
    """
    in_range(
        "coil temperature", coil_c, -40.0, entering.air_c - 0.1, "°C", mend="a cooling coil is below its air"
    )
    if coil_c >= entering.dew_point_c:
        return 1.0
    at_coil = moist_air(coil_c, 100.0, entering.pressure_pa)
    return 1.006 * (entering.air_c - coil_c) / (entering.enthalpy_kj_kg - at_coil.enthalpy_kj_kg)


def frosts_below_c(outdoor_c: float, *, rh_pct: float = USUAL_RH_PCT) -> float:
    """The room temperature at which the mean of the coil passes 0 °C; the coldest passes freeze in `FROST_BAND_C`.

    >>> 13.0 < frosts_below_c(35.0) < 16.0
    True
    """
    in_range("outdoor temperature", outdoor_c, -10.0, 50.0, "°C")

    def coil_c(room_c: float) -> float:
        return room_c - COIL_BELOW_RETURN_K * capacity_ratio(_room_air(room_c, rh_pct).wet_bulb_c, outdoor_c)

    return float(brentq(coil_c, 2.0, 30.0, xtol=1e-6))


def split_k(cooling_w: float, sensible: float, airflow_m3_s: float, supply: Air) -> float:
    """Return minus supply temperature: sensible heat over the mass flow and specific heat of the air.

    Fails with `OutOfRangeError` outside 0.02 to 3 m³/s.
    """
    in_range("airflow", airflow_m3_s, 0.02, 3.0, "m³/s")
    return cooling_w * sensible / (1006.0 * supply.density_kg_m3 * airflow_m3_s)


def run_share(load_w: float, usable_w: float) -> float:
    """The part of the time for which the unit must run; above 1 it cannot hold the room.

    >>> run_share(800.0, 1600.0)
    0.5
    """
    in_range("load", load_w, 0.0, 100_000.0, "W")
    return load_w / in_range("usable cooling", usable_w, 1.0, 100_000.0, "W")


def _curve(factors: tuple[float, ...], x: float, y: float) -> float:
    c1, c2, c3, c4, c5, c6 = factors
    return c1 + c2 * x + c3 * x * x + c4 * y + c5 * y * y + c6 * x * y


def _room_air(room_c: float, rh_pct: float) -> Air:
    """At rating the wet bulb is part of the rating; a room warmer than that is no cold room's business."""
    in_range(
        "room temperature", room_c, 0.0, 35.0, "°C", mend="colder rooms need a refrigeration unit's own sheet"
    )
    return (
        moist_air(room_c, rh_pct)
        if room_c < RATED_RETURN_C
        else moist_air_by_wet_bulb(room_c, RATED_WET_BULB_C)
    )


def _footing(rated_w: float, room_c: float, outdoor_c: float, rh_pct: float, *, within: bool) -> Footing:
    beyond = "" if within else "; beyond the published curve, which ends at 12.8 °C wet bulb, 25 °C outdoors"
    return Footing(
        inputs=(("rated_w", rated_w), ("room_c", room_c), ("outdoor_c", outdoor_c), ("rh_pct", rh_pct)),
        holds=f"clean coil, all its airflow, no frost{beyond}",
        source="DOE-2 cooling coil curve, EnergyPlus Engineering Reference",
    )
