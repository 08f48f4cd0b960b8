"""Gases in a closed room: refrigerant against its flammable limit, carbon dioxide against what people bear.

Planning figures. Where a leak or gas is suspected nobody goes in to measure: out, door open, call from outside.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final, Literal

from assistant.engineering.errors import in_range, row_of

Charge = Literal["below", "above"]
Breathing = Literal["below_work_limit", "above_work_limit", "above_short_limit", "above_life_limit"]

FLAMMABLE_KG_M3: Final[Mapping[str, float]] = MappingProxyType(
    {"R-32": 0.307, "R-454B": 0.30, "R-290": 0.038}
)
"""Lower flammable limits: ASHRAE 34 (from memory)."""

QUARTER: Final = 0.25
"""Our threshold for asking a licensed installer (common practice, no source)."""

CO2_KG_M3: Final = 1.95
"""At 4 °C and sea level."""

FERMENT_KG_KG: Final = 88.0 / 180.0
"""CO2 per kg of sugar: C6H12O6 gives two of ethanol and two of CO2."""

WORK_LIMIT: Final = 0.005
SHORT_LIMIT: Final = 0.03
LIFE_LIMIT: Final = 0.04
"""Carbon dioxide: OSHA 8 h limit, ACGIH/NIOSH short-term limit, NIOSH danger to life (from memory)."""

OXYGEN: Final = 0.2095


@dataclass(frozen=True, slots=True, kw_only=True)
class ChargeInRoom:
    """A whole charge let out and fully mixed; it is heavier than air, so the floor is worse than the mean."""

    of_limit: float
    """1 is the flammable limit itself."""

    verdict: Charge
    quarter_needs_m3: float


def charge_in_room(charge_kg: float, refrigerant: str, volume_m3: float) -> ChargeInRoom:
    """A refrigerant charge against a quarter of its lower flammable limit, gross room volume.

    Fails with `OutOfRangeError` outside 0.01-20 kg, 1-300 m³, and for a refrigerant that the table lacks.

    >>> found = charge_in_room(1.0, "R-32", 10.0)
    >>> round(found.of_limit, 2), found.verdict
    (0.33, 'above')
    """
    limit_kg_m3 = row_of("refrigerant", refrigerant, FLAMMABLE_KG_M3)
    in_range("charge", charge_kg, 0.01, 20.0, "kg", mend="read the charge off the nameplate, in kg")
    in_range("room volume", volume_m3, 1.0, 300.0, "m³")
    of_limit = charge_kg / (volume_m3 * limit_kg_m3)
    return ChargeInRoom(
        of_limit=of_limit,
        verdict="above" if of_limit > QUARTER else "below",
        quarter_needs_m3=charge_kg / (QUARTER * limit_kg_m3),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class CarbonDioxide:
    """Carbon dioxide let out into a closed room: well mixed, and what lies as a layer on the floor."""

    gas_m3: float
    mixed_share: float
    """Of the air, as gas pushes air out."""

    layer_share: float
    """Of the room's volume, if it lies unmixed; at most 1."""

    oxygen_share: float
    breathing: Breathing


def carbon_dioxide(gas_kg: float, volume_m3: float) -> CarbonDioxide:
    """What `gas_kg` of CO2 (dry ice, a cylinder) makes of a closed room's air.

    Fails with `OutOfRangeError` outside 0-500 kg, 1-300 m³. Oxygen is no guide: at the life limit there is 20 % left.

    >>> found = carbon_dioxide(10.0, 20.0)
    >>> round(found.gas_m3, 1), round(found.mixed_share, 2), found.breathing
    (5.1, 0.23, 'above_life_limit')
    """
    in_range("carbon dioxide", gas_kg, 0.0, 500.0, "kg")
    in_range("room volume", volume_m3, 1.0, 300.0, "m³")
    gas_m3 = gas_kg / CO2_KG_M3
    mixed = 1.0 - math.exp(-gas_m3 / volume_m3)
    return CarbonDioxide(
        gas_m3=gas_m3,
        mixed_share=mixed,
        layer_share=min(1.0, gas_m3 / volume_m3),
        oxygen_share=OXYGEN * (1.0 - mixed),
        breathing=_breathing(mixed),
    )


def _breathing(share: float) -> Breathing:
    if share >= LIFE_LIMIT:
        return "above_life_limit"
    if share >= SHORT_LIMIT:
        return "above_short_limit"
    return "above_work_limit" if share >= WORK_LIMIT else "below_work_limit"


def from_ferment_kg(sugar_kg: float) -> float:
    """CO2 of sugar that ferments out, 0 to 1000 kg.

    >>> round(from_ferment_kg(1.0), 2)
    0.49
    """
    return FERMENT_KG_KG * in_range("sugar", sugar_kg, 0.0, 1000.0, "kg")


def hours_to_work_limit(produce_kg: float, mg_co2_kg_h: float, volume_m3: float) -> float:
    """Hours until breathing produce brings an airtight room to the 8 h limit of 5000 ppm.

    >>> round(hours_to_work_limit(1000.0, 6.0, 20.0))
    32
    """
    in_range("mass of produce", produce_kg, 1.0, 50_000.0, "kg")
    in_range("respiration", mg_co2_kg_h, 0.1, 1000.0, "mg/kg·h")
    in_range("room volume", volume_m3, 1.0, 300.0, "m³")
    m3_an_hour = produce_kg * mg_co2_kg_h / 1e6 / CO2_KG_M3
    return WORK_LIMIT * volume_m3 / m3_an_hour
