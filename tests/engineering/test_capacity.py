"""Capacity against the printed DOE-2 curve; sizes, reach and pull-down against the heat balance itself."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.engineering.air import moist_air
from assistant.engineering.capacity import (
    FROST_BAND_C,
    capacity_ratio,
    delivered_cooling,
    frosts_below_c,
    power_ratio,
    run_share,
    sensible_share,
    split_k,
)
from assistant.engineering.errors import OutOfRangeError
from assistant.engineering.frosting import melting_min_per_kg, thaw_after_run
from assistant.engineering.pull_down import ColdRoom, expected_pull_down
from assistant.engineering.sizing import coldest_room, unit_fit, unit_for

TON_W = 3517.0


@pytest.mark.parametrize(
    ("wet_bulb_c", "outdoor_c", "ratio", "input_ratio"),
    [
        (19.4444, 35, 1.0, 1.0),
        (15, 35, 0.854, 1.054),
        (12.78, 25, 0.900, 0.852),
        (12.78, 46.1, 0.672, 1.418),
        (23.9, 46.1, 1.052, 1.179),
    ],
)
def test_the_published_curve(wet_bulb_c: float, outdoor_c: float, ratio: float, input_ratio: float) -> None:
    # DOE-2 coefficients, EnergyPlus Engineering Reference; values computed from them with numpy
    assert capacity_ratio(wet_bulb_c, outdoor_c) == pytest.approx(ratio, abs=0.002)
    assert power_ratio(wet_bulb_c, outdoor_c) == pytest.approx(ratio * input_ratio, abs=0.003)


@pytest.mark.parametrize(("room_c", "ratio", "coil_c"), [(10, 0.70, -3.1), (4, 0.60, -7.3), (2, 0.57, -8.7)])
def test_carried_on_it_meets_a_vapour_cycle_of_its_own(room_c: float, ratio: float, coil_c: float) -> None:
    # R-32 and R-410A cycle, 8 K superheat, 5 K subcooling, 18.7 K coil difference, computed with CoolProp; a model
    found = delivered_cooling(TON_W, room_c, 35.0)

    assert found.ratio.low <= ratio <= found.ratio.high
    assert found.coil_c == pytest.approx(coil_c, abs=1.5)
    assert not found.within_published


def test_comfort_duty_is_within_the_published_range() -> None:
    assert delivered_cooling(TON_W, 24.0, 35.0, rh_pct=50.0).within_published


def test_cool_nights_are_not_credited() -> None:
    assert delivered_cooling(TON_W, 4.0, 5.0).cooling_w == delivered_cooling(TON_W, 4.0, 25.0).cooling_w
    assert "beyond the published curve" in delivered_cooling(TON_W, 4.0, 5.0).footing.holds


def test_the_coil_begins_to_frost_where_the_trade_says() -> None:
    # common practice, no source: 10-16 C return air
    assert FROST_BAND_C[0] <= frosts_below_c(35.0) <= FROST_BAND_C[1]


def test_a_coil_above_the_dew_point_takes_out_no_water() -> None:
    assert sensible_share(moist_air(4.0, 60.0), 3.0) == 1.0


def test_the_split_of_comfort_duty() -> None:
    # 400 cfm per ton, sensible share 0.75: 20.8 F by q/(1.08 cfm), standard air (ASHRAE)
    assert split_k(TON_W, 0.75, 400 * 0.000471947, moist_air(20.0, 50.0)) * 1.8 == pytest.approx(
        20.8, rel=0.01
    )


@pytest.mark.parametrize(("room_c", "minutes"), [(1, 38), (2, 19), (3, 13), (4, 10), (6, 6.5)])
def test_a_kilogram_of_ice_melts_in_room_air(room_c: float, minutes: float) -> None:
    # 334 kJ/kg, 300 cfm, four fifths of the difference used: computed with numpy
    assert melting_min_per_kg(room_c, rh_pct=95.0) == pytest.approx(minutes, rel=0.05)


@pytest.mark.parametrize(("room_c", "rh_pct"), [(1, 80), (2, 66), (3, 52), (4, 42)])
def test_ice_does_not_melt_in_dry_cold_air(room_c: float, rh_pct: float) -> None:
    # the wet bulb is at 0 C with 84, 70, 56, 46 % (psychrolib, CoolProp)
    with pytest.raises(OutOfRangeError, match="does not melt"):
        melting_min_per_kg(room_c, rh_pct=rh_pct)


def test_thaw_takes_more_of_the_day_near_freezing() -> None:
    lost = [thaw_after_run(2100.0, 0.65, room_c, rh_pct=90.0).lost_share for room_c in (1.0, 2.0, 4.0, 8.0)]

    assert lost == sorted(lost, reverse=True)


def test_a_unit_for_a_cold_room_is_twice_its_load() -> None:
    # rule of the trade: nominal 2-2.5 times the mean load of a day for a 4 C room (0.60 x 16/24 = 0.40)
    assert 2.0 <= unit_for(1000.0, 4.0, 35.0).rated_w.middle / 1000.0 <= 2.6


@given(load_w=st.floats(50, 5000))
def test_the_unit_that_is_needed_just_carries_the_load(load_w: float) -> None:
    needed = unit_for(load_w, 4.0, 35.0).rated_w.middle
    used = unit_fit(load_w, needed, 4.0, 35.0).used_share.middle if 500 <= needed <= 30_000 else 1.0

    assert used == pytest.approx(1.0, rel=1e-6)


@given(ua_w_k=st.floats(5, 60), more_w_k=st.floats(0, 40))
def test_a_leakier_room_never_ends_colder(ua_w_k: float, more_w_k: float) -> None:
    tight = coldest_room(lambda room_c: ua_w_k * (35.0 - room_c), TON_W, 35.0)
    leaky = coldest_room(lambda room_c: (ua_w_k + more_w_k) * (35.0 - room_c), TON_W, 35.0)

    assert leaky.coldest_c >= tight.coldest_c - 1e-3


def test_a_tight_room_ends_at_what_thaw_allows() -> None:
    assert coldest_room(lambda room_c: 10.0 * (35.0 - room_c), TON_W, 35.0).limit == "thaw"


def test_a_load_beyond_the_unit_is_refused_in_words() -> None:
    with pytest.raises(OutOfRangeError, match="more than this unit gives"):
        coldest_room(lambda _: 20_000.0, TON_W, 35.0)


def test_run_share() -> None:
    assert run_share(700.0, 1400.0) == 0.5
    with pytest.raises(OutOfRangeError):
        run_share(700.0, 0.0)


def room(**changes: float) -> ColdRoom:
    usual = {
        "volume_m3": 20.0,
        "inner_m2": 46.0,
        "ua_w_k": 16.0,
        "gains_w": 50.0,
        "rated_w": TON_W,
        "outdoor_c": 30.0,
        "air_start_c": 25.0,
    }
    return ColdRoom(**(usual | changes))


def test_an_empty_room_follows_newtons_law() -> None:
    # closed form of C dT/dt = q0 - q1 T (Incropera, ch. 5) while the capacity is one straight line, 7.5-10 C
    cold = room(air_start_c=10.0, inner_m2=460.0, run_share=1.0)
    low_w, high_w = (delivered_cooling(TON_W, c, 30.0).cooling_w.middle for c in (7.5, 10.0))
    slope = (high_w - low_w) / 2.5
    heat_kj_k = 1.29 * 20.0 + 8.0 * 460.0
    tau_h = heat_kj_k * 1000.0 / (16.0 + slope) / 3600.0
    end_c = (16.0 * 30.0 + 50.0 - (low_w - 7.5 * slope)) / (16.0 + slope)

    found = expected_pull_down(cold, 4.0)

    for hour, air_c in zip(found.hours[:5], found.air_c[:5], strict=True):
        assert air_c == pytest.approx(end_c + (10.0 - end_c) * np.exp(-hour / tau_h), abs=0.01)


def test_warm_stock_makes_it_slow_and_uncertain() -> None:
    empty = expected_pull_down(room(), 4.0)
    stocked = expected_pull_down(room(product_kg=1500.0, product_start_c=25.0), 4.0)

    assert empty.reaches_h is not None
    assert stocked.reaches_h is not None
    assert stocked.reaches_h > 4.0 * empty.reaches_h
    assert stocked.reaches_sooner_h is not None
    assert stocked.reaches_sooner_h < stocked.reaches_h


def test_a_room_beyond_its_unit_stalls_where_load_and_cooling_meet() -> None:
    leaky = room(ua_w_k=80.0)

    found = expected_pull_down(leaky, 3.0)

    assert found.reaches_h is None
    assert found.stalls_c is not None
    meets = coldest_room(lambda room_c: 80.0 * (30.0 - room_c) + 50.0, TON_W, 30.0).coldest_c
    assert found.stalls_c == pytest.approx(meets, abs=0.4)


def test_a_room_at_its_target_stays() -> None:
    found = expected_pull_down(room(air_start_c=4.0), 4.0)

    assert found.reaches_h == 0.0
    assert max(abs(air_c - 4.0) for air_c in found.air_c) < 0.5


@pytest.mark.parametrize(
    "fault", [{"volume_m3": 0.0}, {"ua_w_k": -1.0}, {"air_start_c": 90.0}, {"rated_w": 12.0}]
)
def test_absurd_rooms_are_refused(fault: dict[str, float]) -> None:
    with pytest.raises(OutOfRangeError):
        expected_pull_down(room(**fault), 4.0)
