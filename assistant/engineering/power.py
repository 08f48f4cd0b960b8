"""Power: what is lost on the way to the unit, running and starting; shared circuits; generators; what it costs.

It explains why a supply failed. It never approves an extension cord, and what may be connected is the local code's and
the electrician's to say.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final, Literal

from assistant.engineering.errors import in_range, row_of
from assistant.engineering.footing import Range

COPPER_OHM_PER_KM: Final[Mapping[int, float]] = MappingProxyType(
    {18: 26.08, 16: 16.37, 14: 10.30, 12: 6.496, 10: 4.068, 8: 2.552, 6: 1.608}
)
"""Stranded copper at 75 °C, by AWG: NEC (NFPA 70) ch. 9 table 8, ohm per 1000 ft x 3.281 (18, 16, 6 from memory)."""

BRANCH_SHARE: Final = 0.03
TOTAL_SHARE: Final = 0.05
"""Recommended, not required: informational notes to NEC 210.19 and 215.2."""

VOLTAGE_TOLERANCE: Final = 0.10
"""Of nameplate voltage for motors: NEMA MG 1 (from memory)."""

START_TIMES: Final = Range(low=4.0, middle=5.0, high=6.0)
"""Starting over running current of a compressor without inverter (common practice, no source)."""

ALONE_SHARE: Final = 0.8
SHARED_SHARE: Final = 0.5
"""Room air conditioner on cord and plug, share of the circuit: NEC 440.62 (from memory)."""

DAYS_A_MONTH: Final = 30.4
Phases = Literal[1, 3]
Lost = Literal["fine", "above_recommended", "below_motor_limit"]
Circuit = Literal["fits", "too_small"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Drop:
    """Voltage lost in a run of copper, and what is left at the unit while it runs and as it starts."""

    lost_v: float
    lost_share: float
    at_unit_v: float
    at_start_v: float | None
    """None for a unit with an inverter, which starts softly."""

    verdict: Lost


def voltage_drop(
    current_a: float,
    one_way_m: float,
    gauge_awg: int,
    supply_v: float,
    *,
    inverter: bool = False,
    phases: Phases = 1,
    recommended: float = BRANCH_SHARE,
) -> Drop:
    """Voltage over a cable, there and back, resistance only; at start the unit is a fixed impedance at 5 x its current.

    Fails with `OutOfRangeError` outside 0.1-100 A, 0-500 m, 100-480 V, or where the run would lose all of it.
    Source: NEC (NFPA 70) ch. 9 table 8.

    >>> thin = voltage_drop(12.0, 30.48, 16, 120.0)
    >>> round(thin.lost_v, 1), round(thin.at_start_v or 0.0), thin.verdict
    (12.0, 80, 'above_recommended')
    """
    in_range("current", current_a, 0.1, 100.0, "A")
    in_range("length, one way", one_way_m, 0.0, 500.0, "m")
    in_range("supply voltage", supply_v, 100.0, 480.0, "V")
    factor = 2.0 if phases == 1 else 3.0**0.5
    loop_ohm = factor * row_of("gauge", gauge_awg, COPPER_OHM_PER_KM) * one_way_m / 1000.0
    lost_v = in_range(
        "voltage lost", current_a * loop_ohm, 0.0, supply_v, "V", mend="check length, gauge and current"
    )
    starting_ohm = supply_v / (START_TIMES.middle * current_a)
    share = lost_v / supply_v
    verdict: Lost = "fine" if share <= recommended else "above_recommended"
    return Drop(
        lost_v=lost_v,
        lost_share=share,
        at_unit_v=supply_v - lost_v,
        at_start_v=None if inverter else supply_v * starting_ohm / (starting_ohm + loop_ohm),
        verdict="below_motor_limit" if share > VOLTAGE_TOLERANCE else verdict,
    )


def circuit_fit(unit_a: float, breaker_a: float, *, shared: bool) -> Circuit:
    """Whether a unit's rated current is within 80 % of its circuit, 50 % where the circuit feeds anything else.

    >>> circuit_fit(12.0, 15.0, shared=False), circuit_fit(12.0, 15.0, shared=True)
    ('fits', 'too_small')
    """
    in_range("rated current", unit_a, 0.1, 100.0, "A")
    in_range("breaker", breaker_a, 5.0, 200.0, "A")
    return "fits" if unit_a <= breaker_a * (SHARED_SHARE if shared else ALONE_SHARE) else "too_small"


@dataclass(frozen=True, slots=True, kw_only=True)
class Generator:
    """What a generator must carry, in kVA: running, and for the second of the start."""

    running_kva: float
    starting_kva: Range


def generator_size(
    current_a: float, supply_v: float, *, inverter: bool = False, other_kva: float = 0.0
) -> Generator:
    """Size for one unit and whatever else runs with it; a unit with an inverter needs no more to start than to run.

    >>> round(generator_size(12.0, 120.0).running_kva, 2), round(generator_size(12.0, 120.0).starting_kva.high, 1)
    (1.44, 8.6)
    """
    in_range("current", current_a, 0.1, 100.0, "A")
    in_range("supply voltage", supply_v, 100.0, 480.0, "V")
    in_range("other load", other_kva, 0.0, 100.0, "kVA")
    unit_kva = current_a * supply_v / 1000.0
    low, middle, high = (
        (1.0, 1.0, 1.0) if inverter else (START_TIMES.low, START_TIMES.middle, START_TIMES.high)
    )
    return Generator(
        running_kva=unit_kva + other_kva,
        starting_kva=Range(
            low=other_kva + low * unit_kva,
            middle=other_kva + middle * unit_kva,
            high=other_kva + high * unit_kva,
        ),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Bill:
    """Energy and money of a month."""

    kwh: float
    cost: float
    """In the currency of the price."""


def monthly_bill(power_w: float, run_share: float, price_per_kwh: float) -> Bill:
    """What a unit costs a month by its measured watts and the part of the time it runs.

    >>> bill = monthly_bill(1200.0, 0.6, 0.2)
    >>> round(bill.kwh), round(bill.cost)
    (525, 105)
    """
    in_range("power", power_w, 0.0, 20_000.0, "W")
    in_range("run share", run_share, 0.0, 1.0, mend="give the part of the time that it runs, 0 to 1")
    in_range("price", price_per_kwh, 0.0, 10.0, "per kWh")
    kwh = power_w * run_share * 24.0 * DAYS_A_MONTH / 1000.0
    return Bill(kwh=kwh, cost=kwh * price_per_kwh)


def fault_costs(extra_heat_w: float, cop: float, price_per_kwh: float) -> Bill:
    """What a month of extra heat, as through a leaking door, costs at a cooling over power ratio `cop` of 0.8 to 6.

    >>> round(fault_costs(312.0, 2.2, 0.2).cost)
    21
    """
    in_range("extra heat", extra_heat_w, 0.0, 20_000.0, "W")
    return monthly_bill(extra_heat_w / in_range("cooling over power", cop, 0.8, 6.0), 1.0, price_per_kwh)


def cop_of_eer(eer_btu_wh: float) -> float:
    """Cooling over power by an energy efficiency ratio in Btu/W·h, 5 to 20.

    >>> round(cop_of_eer(10.0), 2)
    2.93
    """
    return in_range("energy efficiency ratio", eer_btu_wh, 5.0, 20.0, "Btu/Wh") / 3.412
