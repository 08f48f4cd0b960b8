"""Voltage, circuits, generators and the bill against code tables and worked lessons."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.engineering.errors import OutOfRangeError
from assistant.engineering.power import (
    circuit_fit,
    cop_of_eer,
    fault_costs,
    generator_size,
    monthly_bill,
    voltage_drop,
)

FOOT_M = 0.3048


@pytest.mark.parametrize(
    ("current_a", "feet", "gauge_awg", "supply_v", "lost_v"),
    [
        (20, 100, 12, 120, 7.92),  # tradelicenseprep.com lesson, NEC ch. 9 T8; 7.90 by K = 12.9
        (20, 100, 8, 120, 3.11),  # the same lesson: 3.1 V
        (12, 100, 16, 120, 12.0),  # 2 x 12 x 0.1 x 4.99 (NEC ch. 9 table 8)
        (12, 200, 12, 120, 9.5),  # feeder to a barn, same table
        (20, 300, 10, 120, 14.9),
    ],
)
def test_voltage_lost(current_a: float, feet: float, gauge_awg: int, supply_v: float, lost_v: float) -> None:
    assert voltage_drop(current_a, feet * FOOT_M, gauge_awg, supply_v).lost_v == pytest.approx(
        lost_v, rel=0.01
    )


@pytest.mark.parametrize(("feet", "gauge_awg", "start_v"), [(100, 16, 80), (100, 12, 100), (50, 14, 104)])
def test_voltage_as_the_compressor_starts(feet: float, gauge_awg: int, start_v: float) -> None:
    # 5 x 12 A as a fixed impedance of 2 ohm, computed by hand: 120 x 2 / (2 + R)
    assert voltage_drop(12.0, feet * FOOT_M, gauge_awg, 120.0).at_start_v == pytest.approx(start_v, abs=1.0)


def test_the_share_is_judged_by_the_codes_recommendation() -> None:
    # NEC 210.19 note: 3 %; NEMA MG 1: motors 10 %
    assert voltage_drop(12.0, 10 * FOOT_M, 12, 120.0).verdict == "fine"
    assert voltage_drop(20.0, 100 * FOOT_M, 12, 120.0).verdict == "above_recommended"
    assert voltage_drop(12.0, 150 * FOOT_M, 16, 120.0).verdict == "below_motor_limit"


def test_an_inverter_has_no_start_to_speak_of() -> None:
    assert voltage_drop(8.0, 30.0, 12, 230.0, inverter=True).at_start_v is None
    assert (
        generator_size(8.0, 230.0, inverter=True).starting_kva.high == generator_size(8.0, 230.0).running_kva
    )


@given(current_a=st.floats(0.5, 20), cord_m=st.floats(0, 40), more_m=st.floats(0, 20))
def test_a_longer_cord_never_loses_less(current_a: float, cord_m: float, more_m: float) -> None:
    longer, shorter = (voltage_drop(current_a, length_m, 12, 240.0) for length_m in (cord_m + more_m, cord_m))

    assert longer.lost_v >= shorter.lost_v
    assert longer.at_start_v is not None
    assert longer.at_start_v <= longer.at_unit_v + 1e-9


def test_three_phases_lose_less() -> None:
    ratio = voltage_drop(10, 50, 10, 400, phases=3).lost_v / voltage_drop(10, 50, 10, 400).lost_v
    assert ratio == pytest.approx(3**0.5 / 2)


def test_a_circuit_of_its_own_and_a_shared_one() -> None:
    # NEC 440.62: 80 % alone, 50 % shared
    assert [circuit_fit(a, 15.0, shared=False) for a in (12.0, 12.1)] == ["fits", "too_small"]
    assert [circuit_fit(a, 15.0, shared=True) for a in (7.5, 7.6)] == ["fits", "too_small"]


def test_a_generator_carries_the_second_of_the_start() -> None:
    # 12 A at 120 V: 1.44 kVA; 4-6 times at start (common practice, no source)
    needed = generator_size(12.0, 120.0)

    assert needed.running_kva == pytest.approx(1.44)
    assert (needed.starting_kva.low, needed.starting_kva.high) == pytest.approx((5.76, 8.64))


def test_the_bill() -> None:
    # EER 10 is 2.93 watts of cooling per watt (1 W = 3.412 Btu/h)
    assert cop_of_eer(10.0) == pytest.approx(2.93, abs=0.005)
    assert monthly_bill(1000.0, 1.0, 0.15).kwh == pytest.approx(729.6)
    assert fault_costs(586.0, 2.93, 0.10).kwh == pytest.approx(monthly_bill(200.0, 1.0, 0.10).kwh, rel=1e-3)


@pytest.mark.parametrize(
    ("current_a", "metres", "gauge_awg"), [(-1, 10, 12), (10, -1, 12), (10, 10, 13), (90, 490, 18)]
)
def test_absurd_cables_are_refused(current_a: float, metres: float, gauge_awg: int) -> None:
    with pytest.raises(OutOfRangeError):
        voltage_drop(current_a, metres, gauge_awg, 120.0)
