"""Frost on a coil below freezing, and the time that melting it takes out of the day."""

from dataclasses import dataclass
from typing import Final

from assistant.engineering.air import moist_air
from assistant.engineering.errors import OutOfRangeError, in_range

FROST_KJ_KG: Final = 2835.0
"""Given up by vapour that becomes ice (ASHRAE Fundamentals, ch. 1)."""

MELTING_KJ_KG: Final = 334.0
WARMTH_USED: Final = 0.8
"""Of the difference between room air and melting ice (common practice, no source)."""

AIR_KJ_KGK: Final = 1.006
LEAST_REST_MIN: Final = 3.0
"""A compressor's own restart delay, 3-5 min (common practice, no source)."""

USUAL_AIRFLOW_M3_S: Final = 0.142
"""300 cfm: a room unit of 12 000 Btu/h (common practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Thaw:
    """A run and the rest that clears its frost."""

    frost_kg: float
    rest_min: float
    lost_share: float
    """Of the time, from 0 to 1; the unit cools only in what is left."""


def frost_kg(cooling_w: float, sensible: float, run_min: float) -> float:
    """Ice gathered in a run, the latent part of the cooling over the heat that a kilogram gives up.

    >>> round(frost_kg(2100.0, 0.85, 15.0), 2), round(frost_kg(2100.0, 0.65, 15.0), 2)
    (0.1, 0.23)
    """
    in_range("cooling", cooling_w, 0.0, 30_000.0, "W")
    in_range("sensible share", sensible, 0.2, 1.0)
    in_range("minutes of a run", run_min, 0.0, 24.0 * 60.0, "min")
    return cooling_w * (1.0 - sensible) * run_min * 60.0 / (1000.0 * FROST_KJ_KG)


def melting_min_per_kg(
    room_c: float, airflow_m3_s: float = USUAL_AIRFLOW_M3_S, *, rh_pct: float = 85.0, fan_w: float = 0.0
) -> float:
    """Minutes for which room air must blow over a kilogram of ice on the coil.

    Fails with `OutOfRangeError` where the wet bulb is not above 0 °C: there it dries off slowly and does not melt.

    >>> round(melting_min_per_kg(4.0)), round(melting_min_per_kg(2.0))
    (10, 19)
    """
    in_range("airflow", airflow_m3_s, 0.02, 3.0, "m³/s")
    in_range("fan power", fan_w, 0.0, 2000.0, "W")
    room = moist_air(in_range("room temperature", room_c, -5.0, 30.0, "°C"), rh_pct)
    if room.wet_bulb_c <= 0.0:
        raise OutOfRangeError(
            f"air of {room_c:g} °C and {rh_pct:g} % has its wet bulb at {room.wet_bulb_c:.1f} °C: ice does not melt in it; "
            "let the room warm up, or thaw with the unit off and the door open"
        )
    melts_w = 1000.0 * AIR_KJ_KGK * WARMTH_USED * room_c * room.density_kg_m3 * airflow_m3_s + fan_w
    return 1000.0 * MELTING_KJ_KG / melts_w / 60.0


def thaw_after_run(
    cooling_w: float,
    sensible: float,
    room_c: float,
    *,
    run_min: float = 15.0,
    airflow_m3_s: float = USUAL_AIRFLOW_M3_S,
    rh_pct: float = 85.0,
    fan_w: float = 0.0,
) -> Thaw:
    """The rest that a run of `run_min` costs: to melt its frost, and never under the restart delay.

    >>> round(thaw_after_run(2100.0, 0.65, 4.0).lost_share, 2), round(thaw_after_run(2100.0, 0.65, 1.0).lost_share, 2)
    (0.17, 0.37)
    """
    gathered_kg = frost_kg(
        cooling_w, sensible, in_range("minutes of a run", run_min, 1.0, 24.0 * 60.0, "min")
    )
    melt_min = gathered_kg * melting_min_per_kg(room_c, airflow_m3_s, rh_pct=rh_pct, fan_w=fan_w)
    rest_min = max(LEAST_REST_MIN, melt_min)
    return Thaw(frost_kg=gathered_kg, rest_min=rest_min, lost_share=rest_min / (run_min + rest_min))
