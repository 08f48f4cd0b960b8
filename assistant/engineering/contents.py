"""Heat of what is in the room: product being cooled, product that breathes, people, lights, motors."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final, Literal

from assistant.engineering.errors import in_range, row_of

HOUR_S: Final = 3600.0
DAY_H: Final = 24.0
MW_PER_MG_CO2: Final = 2.972
"""Heat of respiration per mg CO2/kg·h: 10.7 J/mg (ASHRAE Handbook - Refrigeration, thermal properties of foods)."""

SHORT_STAY: Final = 1.25
"""People who come and go bring outdoor warmth along (ASHRAE Handbook - Refrigeration; from memory)."""

CUT_FLOWERS_W_M2: Final = 63.0
"""480 Btu a day and square foot of floor (AE-103 R3, table 10)."""

Place = Literal["motor_and_load_inside", "load_inside", "motor_inside"]
MOTOR_W_PER_HP: Final[Mapping[Place, tuple[float, float, float]]] = MappingProxyType(
    {
        "motor_and_load_inside": (1246.0, 1084.0, 865.0),
        "load_inside": (746.0, 746.0, 746.0),
        "motor_inside": (498.0, 337.0, 117.0),
    }
)
"""Per rated hp: up to 1/2, up to 3, up to 20 hp (AE-103 R3 table 16, Btu/h there). Measured watts are better."""

MOTOR_SIZES_HP: Final = (0.5, 3.0, 20.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Chill:
    """Heat to take out of a batch, by stage, and the mean power over the hours allowed."""

    above_kj: float
    freezing_kj: float
    below_kj: float
    mean_w: float


def water_heat_kj_kgk(water_share: float) -> float:
    """Specific heat above freezing of a food of `water_share` (0.3 to 1) water: 3.35 w + 0.84.

    Siebel (1892), as in ASHRAE Handbook - Refrigeration, thermal properties of foods. Moist foods only.

    >>> round(water_heat_kj_kgk(0.9), 2)
    3.85
    """
    return 3.35 * in_range("share of water", water_share, 0.3, 1.0) + 0.84


def chill(
    mass_kg: float,
    from_c: float,
    to_c: float,
    hours: float,
    *,
    above_kj_kgk: float,
    freezes_c: float = -1.6,
    freezing_kj_kg: float | None = None,
    below_kj_kgk: float | None = None,
) -> Chill:
    """Heat to cool `mass_kg` within `hours`; below `freezes_c` it must freeze first.

    Fails with `OutOfRangeError` where it is to warm up, or to freeze without the two figures that takes.
    Source: Refrigeration Manual Part 3 (AE-103 R3); m c (t1 - t2), m h, m c (tf - t3).

    >>> round(chill(400.0, 34.0, 4.0, 24.0, above_kj_kgk=3.22).mean_w)
    447
    """
    in_range("mass of product", mass_kg, 0.0, 50_000.0, "kg")
    in_range("product temperature", from_c, -40.0, 95.0, "°C")
    in_range("final temperature", to_c, -40.0, from_c, "°C", mend="product that comes in is not warmed here")
    in_range("hours allowed", hours, 0.25, 24.0 * 14.0, "h")
    in_range("specific heat", above_kj_kgk, 0.5, 4.3, "kJ/kgK")
    above_kj = mass_kg * above_kj_kgk * max(0.0, from_c - max(to_c, min(freezes_c, from_c)))
    freezing_kj = below_kj = 0.0
    if to_c < freezes_c:
        mend = "give the heat of freezing and the specific heat below, or keep it above freezing"
        latent_kj_kg = in_range("heat of freezing", _or_nan(freezing_kj_kg), 0.0, 340.0, "kJ/kg", mend=mend)
        cold_kj_kgk = in_range(
            "specific heat below freezing", _or_nan(below_kj_kgk), 0.5, 3.0, "kJ/kgK", mend=mend
        )
        freezing_kj = mass_kg * latent_kj_kg if from_c > freezes_c else 0.0
        below_kj = mass_kg * cold_kj_kgk * (min(freezes_c, from_c) - to_c)
    mean_w = 1000.0 * (above_kj + freezing_kj + below_kj) / (HOUR_S * hours)
    return Chill(above_kj=above_kj, freezing_kj=freezing_kj, below_kj=below_kj, mean_w=mean_w)


def _or_nan(value: float | None) -> float:
    return math.nan if value is None else value


def respiration_w(mass_kg: float, heat_mw_kg: float) -> float:
    """Heat of live produce, `heat_mw_kg` from 0 to 2000.

    >>> round(respiration_w(1000.0, 18.0))
    18
    """
    in_range("heat of respiration", heat_mw_kg, 0.0, 2000.0, "mW/kg")
    return in_range("mass of product", mass_kg, 0.0, 50_000.0, "kg") * heat_mw_kg / 1000.0


def people_w(people: float, hours_a_day: float, room_c: float, *, short_stays: bool = False) -> float:
    """Mean heat of people over the day: 272 - 6 t watts each while inside.

    Source: ASHRAE Handbook - Refrigeration, refrigerated-facility loads.

    >>> round(people_w(1, 24.0, 4.0))
    248
    """
    in_range("people in the room", people, 0.0, 50.0)
    in_range("hours a day", hours_a_day, 0.0, DAY_H, "h")
    in_range("room temperature", room_c, -40.0, 30.0, "°C")
    return people * (272.0 - 6.0 * room_c) * (SHORT_STAY if short_stays else 1.0) * hours_a_day / DAY_H


def electric_w(power_w: float, hours_a_day: float) -> float:
    """Mean heat of lights, fans and the like: all that they draw inside ends as heat.

    >>> round(electric_w(400.0, 10.0), 1)
    166.7
    """
    in_range("electric power", power_w, 0.0, 20_000.0, "W")
    return power_w * in_range("hours a day", hours_a_day, 0.0, DAY_H, "h") / DAY_H


def motor_w(rated_hp: float, hours_a_day: float, place: Place = "motor_and_load_inside") -> float:
    """Mean heat of a motor by its rated horsepower, 0.05 to 20.

    >>> round(motor_w(0.25, 24.0))
    312
    """
    in_range("motor", rated_hp, 0.05, 20.0, "hp")
    size = next(place for place, most_hp in enumerate(MOTOR_SIZES_HP) if rated_hp <= most_hp)
    return electric_w(rated_hp * row_of("motor placed", place, MOTOR_W_PER_HP)[size], hours_a_day)
