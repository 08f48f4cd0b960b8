"""Moist air: what a cold room's air holds, and at what temperature it lets it go.

The formulas are those of ASHRAE Handbook - Fundamentals 2017, ch. 1, as PsychroLib 2.5.0 computes them.
"""

from dataclasses import dataclass
from typing import Final

import psychrolib  # type: ignore[import-untyped]  # it ships no types

from assistant.engineering.errors import in_range

SEA_LEVEL_PA: Final = 101_325.0
PERCENT: Final = 100.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Air:
    """A state of moist air, everything per kg of dry air where air is the measure."""

    air_c: float
    rh_pct: float
    pressure_pa: float
    water_kg_kg: float
    enthalpy_kj_kg: float
    volume_m3_kg: float
    density_kg_m3: float
    """Of the moist air."""

    dew_point_c: float
    """The frost point (over ice) where it lies below 0 °C."""

    wet_bulb_c: float


def moist_air(air_c: float, rh_pct: float, pressure_pa: float = SEA_LEVEL_PA) -> Air:
    """The state of air at `air_c` and `rh_pct`.

    Fails with `OutOfRangeError` outside -40 to 60 °C, 1 to 100 %, 60 to 110 kPa.
    Source: ASHRAE Handbook - Fundamentals 2017, ch. 1.

    >>> state = moist_air(4.0, 85.0)
    >>> round(state.enthalpy_kj_kg, 2), round(state.dew_point_c, 1)
    (14.74, 1.7)
    """
    in_range("air temperature", air_c, -40.0, 60.0, "°C")
    in_range("relative humidity", rh_pct, 1.0, PERCENT, "%", mend="give it in percent, 1 to 100")
    in_range("air pressure", pressure_pa, 60_000.0, 110_000.0, "Pa")
    psychrolib.SetUnitSystem(psychrolib.SI)
    share = rh_pct / PERCENT
    water_kg_kg = psychrolib.GetHumRatioFromRelHum(air_c, share, pressure_pa)
    return Air(
        air_c=air_c,
        rh_pct=rh_pct,
        pressure_pa=pressure_pa,
        water_kg_kg=water_kg_kg,
        enthalpy_kj_kg=psychrolib.GetMoistAirEnthalpy(air_c, water_kg_kg) / 1000.0,
        volume_m3_kg=psychrolib.GetMoistAirVolume(air_c, water_kg_kg, pressure_pa),
        density_kg_m3=psychrolib.GetMoistAirDensity(air_c, water_kg_kg, pressure_pa),
        dew_point_c=min(psychrolib.GetTDewPointFromRelHum(air_c, share), air_c),
        wet_bulb_c=psychrolib.GetTWetBulbFromRelHum(air_c, share, pressure_pa),
    )


def moist_air_by_wet_bulb(air_c: float, wet_bulb_c: float, pressure_pa: float = SEA_LEVEL_PA) -> Air:
    """The state of air by its dry and wet bulb.

    Fails with `OutOfRangeError` where the wet bulb is above the dry one, or so low that the air would hold no water.

    >>> round(moist_air_by_wet_bulb(40.0, 20.0).rh_pct)
    14
    """
    in_range("air temperature", air_c, -40.0, 60.0, "°C")
    in_range(
        "wet bulb temperature", wet_bulb_c, -40.0, air_c, "°C", mend="a wet bulb is never the warmer one"
    )
    psychrolib.SetUnitSystem(psychrolib.SI)
    rh_pct = PERCENT * psychrolib.GetRelHumFromTWetBulb(air_c, wet_bulb_c, pressure_pa)
    return moist_air(air_c, min(rh_pct, PERCENT), pressure_pa)


def saturation_pa(surface_c: float) -> float:
    """Vapour pressure over ice (below 0 °C) or water.

    >>> round(saturation_pa(25.0), 1)
    3169.2
    """
    in_range("temperature", surface_c, -100.0, 100.0, "°C")
    psychrolib.SetUnitSystem(psychrolib.SI)
    return float(psychrolib.GetSatVapPres(surface_c))


def pressure_at_height_pa(height_m: float) -> float:
    """Usual air pressure at a height above the sea, -100 to 4000 m.

    >>> round(pressure_at_height_pa(1000.0))
    89875
    """
    in_range("height above the sea", height_m, -100.0, 4000.0, "m")
    psychrolib.SetUnitSystem(psychrolib.SI)
    return float(psychrolib.GetStandardAtmPressure(height_m))
