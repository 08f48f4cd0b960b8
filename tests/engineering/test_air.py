"""Moist air against ASHRAE's printed values and against CoolProp, which solves other equations."""

import pytest
from CoolProp.HumidAirProp import HAPropsSI
from hypothesis import given
from hypothesis import strategies as st

from assistant.engineering.air import moist_air, moist_air_by_wet_bulb, pressure_at_height_pa, saturation_pa
from assistant.engineering.errors import OutOfRangeError
from assistant.engineering.surfaces import outer_wall, touched_surface


@pytest.mark.parametrize(
    ("at_c", "pressure_pa"), [(-20, 103.24), (-5, 401.74), (5, 872.6), (25, 3169.7), (50, 12351.3)]
)
def test_vapour_pressure_as_printed(at_c: float, pressure_pa: float) -> None:
    # ASHRAE Handbook - Fundamentals 2017, ch. 1 table 3
    assert saturation_pa(at_c) == pytest.approx(pressure_pa, rel=3e-4)


def test_state_by_wet_bulb_as_in_the_handbooks_first_example() -> None:
    # ASHRAE Fundamentals 2017 ch. 1 example 1: 40 C dry, 20 C wet: W 0.0065, 14 %, dew 7 C, h 56.7, v 0.896
    state = moist_air_by_wet_bulb(40.0, 20.0)

    assert state.water_kg_kg == pytest.approx(0.0065, abs=1e-4)
    assert state.rh_pct == pytest.approx(14.0, abs=1.0)
    assert state.dew_point_c == pytest.approx(7.0, abs=0.5)
    assert state.enthalpy_kj_kg == pytest.approx(56.7, abs=0.1)
    assert state.volume_m3_kg == pytest.approx(0.896, rel=0.01)


def test_height_as_printed() -> None:
    # ASHRAE Fundamentals 2017 ch. 1 table 1: 500 m 95.461 kPa; 1000 m 89.875 kPa
    assert pressure_at_height_pa(500.0) == pytest.approx(95_461.0, rel=1e-4)
    assert pressure_at_height_pa(1000.0) == pytest.approx(89_875.0, rel=1e-4)


@pytest.mark.parametrize(
    ("air_c", "rh_pct"), [(-5, 90), (0.5, 90), (2, 60), (4, 85), (10, 80), (20, 50), (35, 40)]
)
def test_humid_air_agrees_with_coolprop(air_c: float, rh_pct: float) -> None:
    state = moist_air(air_c, rh_pct)
    at = ("T", air_c + 273.15, "R", rh_pct / 100.0, "P", 101_325.0)

    assert state.water_kg_kg == pytest.approx(HAPropsSI("W", *at), rel=0.006)
    assert state.enthalpy_kj_kg == pytest.approx(HAPropsSI("H", *at) / 1000.0, abs=0.3)
    assert state.dew_point_c == pytest.approx(HAPropsSI("D", *at) - 273.15, abs=0.1)
    assert state.wet_bulb_c == pytest.approx(HAPropsSI("B", *at) - 273.15, abs=0.1)


def test_below_freezing_it_is_the_frost_point() -> None:
    # computed with psychrolib and CoolProp: 2 C 60 % has its frost point at -4.38 C, its dew point at -4.95 C
    assert moist_air(2.0, 60.0).dew_point_c == pytest.approx(-4.38, abs=0.05)


@given(air_c=st.floats(-10, 45), rh_pct=st.floats(5, 99), more_pct=st.floats(0, 50))
def test_wetter_air_lets_go_sooner(air_c: float, rh_pct: float, more_pct: float) -> None:
    drier, wetter = moist_air(air_c, rh_pct), moist_air(air_c, min(100.0, rh_pct + more_pct))

    assert drier.dew_point_c <= wetter.dew_point_c + 1e-6
    assert drier.dew_point_c <= air_c
    assert drier.enthalpy_kj_kg <= wetter.enthalpy_kj_kg + 1e-9


def test_a_cold_coil_frosts_and_a_good_wall_stays_dry() -> None:
    assert touched_surface(-7.0, moist_air(4.0, 85.0)).wetness == "frosts"
    assert touched_surface(3.0, moist_air(4.0, 70.0)).wetness == "dry"
    assert outer_wall(0.23, 2.0, moist_air(30.0, 80.0)).wetness == "dry"
    assert outer_wall(3.0, 2.0, moist_air(30.0, 80.0)).wetness == "sweats"


@pytest.mark.parametrize(("air_c", "rh_pct"), [(400, 50), (20, 0.5), (20, 130), (float("nan"), 50)])
def test_absurd_air_is_refused(air_c: float, rh_pct: float) -> None:
    with pytest.raises(OutOfRangeError):
        moist_air(air_c, rh_pct)


def test_a_wet_bulb_above_the_dry_one_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match="never the warmer"):
        moist_air_by_wet_bulb(20.0, 21.0)
