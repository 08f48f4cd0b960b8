"""Outdoor air that comes in: by a table of air changes, and by the time that the door stands open."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final, Literal

import numpy as np

from assistant.engineering.air import Air
from assistant.engineering.errors import in_range

Use = Literal["long_storage", "average", "heavy"]
Screen = Literal["none", "strip_curtain", "air_curtain"]

GRAVITY_M_S2: Final = 9.81
DAY_S: Final = 86_400.0
CHANGES_A_DAY: Final = (
    (5.7, 44.0, 33.5),
    (8.5, 34.5, 26.2),
    (11.3, 29.5, 22.5),
    (14.2, 26.0, 20.0),
    (17.0, 23.0, 18.0),
    (22.7, 20.0, 15.3),
    (28.3, 17.5, 13.5),
    (42.5, 14.0, 11.0),
    (56.6, 12.0, 9.3),
    (85.0, 9.5, 7.4),
    (113.0, 8.2, 6.3),
    (142.0, 7.2, 5.6),
    (170.0, 6.5, 5.0),
    (283.2, 4.9, 3.8),
)
"""m³, changes a day above freezing, below it: Refrigeration Manual Part 3 (Emerson AE-103 R3) table 8, from ASHRAE."""

USE_FACTOR: Final[Mapping[Use, float]] = MappingProxyType({"long_storage": 0.6, "average": 1.0, "heavy": 2.0})
"""The footnote of the same table."""

SCREEN_STOPS: Final[Mapping[Screen, float]] = MappingProxyType(
    {"none": 0.0, "strip_curtain": 0.85, "air_curtain": 0.5}
)
"""Strip curtain in service: ASHRAE Handbook - Refrigeration (from memory); air curtain: EnergyPlus reference."""

GOSNEY_OLAMA: Final = 0.221
NEAR_K: Final = 11.0
FLOW_FACTOR_NEAR: Final = 1.1
FLOW_FACTOR_FAR: Final = 0.8
"""Doorway flow factor up to 11 K between the airs, and above (EnergyPlus Engineering Reference)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Door:
    """A doorway and how it is used in a day: passages, seconds open at each, minutes it stands open besides."""

    wide_m: float
    high_m: float
    passages: float
    seconds_each: float = 15.0
    minutes_standing: float = 0.0
    screen: Screen = "none"

    def open_share(self) -> float:
        """The part of a day for which it is open, 0 to 1; fails with `OutOfRangeError` where that is more than a day.

        >>> round(Door(wide_m=0.9, high_m=2.0, passages=60).open_share(), 6)
        0.010417
        """
        in_range("door width", self.wide_m, 0.2, 6.0, "m")
        in_range("door height", self.high_m, 0.2, 6.0, "m")
        in_range("door passages a day", self.passages, 0.0, 5000.0)
        in_range("seconds open each time", self.seconds_each, 0.0, 3600.0, "s")
        in_range("minutes standing open", self.minutes_standing, 0.0, 1440.0, "min")
        share = (self.passages * self.seconds_each + 60.0 * self.minutes_standing) / DAY_S
        return in_range(
            "share of the day with the door open", share, 0.0, 1.0, mend="count the passages of one day"
        )


def changes_a_day(volume_m3: float, *, below_freezing: bool = False, use: Use = "average") -> float:
    """Air changes in 24 h of a room of 4 to 283 m³, log-log between the rows of the table.

    Below 5.7 m³ the first two rows are carried on.

    >>> round(changes_a_day(28.3), 1), round(changes_a_day(28.3, use="heavy"), 1)
    (17.5, 35.0)
    """
    in_range("room volume", volume_m3, 4.0, 283.2, "m³")
    volumes, above, below = np.log(np.array(CHANGES_A_DAY)).T
    changes = below if below_freezing else above
    at = math.log(volume_m3)
    slope = (changes[1] - changes[0]) / (volumes[1] - volumes[0])
    log_changes = (
        changes[0] + slope * (at - volumes[0]) if at < volumes[0] else float(np.interp(at, volumes, changes))
    )
    return math.exp(log_changes) * USE_FACTOR[use]


def heat_by_changes_w(volume_m3: float, changes: float, outside: Air, room: Air) -> float:
    """Mean heat of air that enters `changes` times a day: V n (h_out - h_room) / v_out.

    Fails with `OutOfRangeError` above 200 changes a day.
    """
    in_range("air changes a day", changes, 0.0, 200.0)
    per_m3_kj = (outside.enthalpy_kj_kg - room.enthalpy_kj_kg) / outside.volume_m3_kg
    return 1000.0 * volume_m3 * changes * per_m3_kj / DAY_S


def open_door_m3_s(door: Door, outside: Air, room: Air) -> float:
    """Air exchanged through a door that is fully open, m³/s of room air; 0 if the room is the lighter air.

    Gosney and Olama (1975), as in ASHRAE Handbook - Refrigeration, refrigerated-facility loads. Real doors: ± 30-50 %.
    """
    if outside.density_kg_m3 >= room.density_kg_m3:
        return 0.0
    ratio = outside.density_kg_m3 / room.density_kg_m3
    density_factor: float = (2.0 / (1.0 + (1.0 / ratio) ** (1.0 / 3.0))) ** 1.5
    area_m2 = door.wide_m * door.high_m
    return (
        GOSNEY_OLAMA
        * area_m2
        * math.sqrt(1.0 - ratio)
        * math.sqrt(GRAVITY_M_S2 * door.high_m)
        * density_factor
    )


def open_door_w(door: Door, outside: Air, room: Air) -> float:
    """Heat that comes in while the door is fully open: flow, density and enthalpy difference."""
    drop_kj_kg = outside.enthalpy_kj_kg - room.enthalpy_kj_kg
    return 1000.0 * open_door_m3_s(door, outside, room) * room.density_kg_m3 * drop_kj_kg


def heat_by_door_w(door: Door, outside: Air, room: Air) -> float:
    """Mean heat through a door over its day: what it lets in fully open, times how long, less what a screen stops.

    >>> from assistant.engineering.air import moist_air
    >>> used = Door(wide_m=0.9, high_m=2.0, passages=60)
    >>> round(heat_by_door_w(used, moist_air(30.0, 60.0), moist_air(4.0, 85.0)))
    312
    """
    flow_factor = FLOW_FACTOR_NEAR if outside.air_c - room.air_c <= NEAR_K else FLOW_FACTOR_FAR
    passed = 1.0 - SCREEN_STOPS[door.screen]
    return open_door_w(door, outside, room) * door.open_share() * flow_factor * passed


def door_velocity_m3_s(wide_m: float, high_m: float, difference_k: float) -> float:
    """Air through an open door by the older velocity rule, m³/s.

    100 √(H/7) √(TD/60) feet a minute through half the opening (AE-103 R3, p. 13-1; feet and °F there).

    >>> round(door_velocity_m3_s(4 * 0.3048, 8 * 0.3048, 100 / 1.8), 3)
    1.042
    """
    in_range("temperature difference", difference_k, 0.0, 100.0, "K")
    feet_high = high_m / 0.3048
    m_per_s = 100.0 * math.sqrt(feet_high / 7.0) * math.sqrt(difference_k * 1.8 / 60.0) * 0.3048 / 60.0
    return m_per_s * wide_m * high_m / 2.0
