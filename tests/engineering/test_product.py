"""Product, water and the air to breathe, against handbook rows and CoolProp's densities."""

import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st

from assistant.engineering.air import moist_air
from assistant.engineering.commodities import advised_target_c, all_commodities, commodity, respiration_mw_kg
from assistant.engineering.errors import OutOfRangeError
from assistant.engineering.gases import (
    CO2_KG_M3,
    carbon_dioxide,
    charge_in_room,
    from_ferment_kg,
    hours_to_work_limit,
)
from assistant.engineering.infiltration import Door
from assistant.engineering.keeping import days_lost, food_clock, outage, q10, q10_of
from assistant.engineering.water import brought_by_m3, brought_by_opening, ice_a_day_kg


def test_every_row_hangs_together() -> None:
    for row in all_commodities().values():
        assert row.store_from_c <= row.store_to_c, row.name
        assert row.freezes_c is None or row.freezes_c <= row.store_from_c, row.name
        assert row.chills_below_c is None or row.chills_below_c <= row.store_to_c, row.name
        assert row.source, row.name


@pytest.mark.parametrize(
    ("name", "heat_btu_lb_f", "freezes_f"),
    [("apples_not_chilling_sensitive", 0.86, 29.3), ("broccoli", 0.92, 30.9)],
)
def test_rows_as_printed(name: str, heat_btu_lb_f: float, freezes_f: float) -> None:
    # Refrigeration Manual Part 3 (AE-103 R3) table 10
    row = commodity(name)

    assert row.heat_kj_kgk == pytest.approx(heat_btu_lb_f * 4.1868, rel=0.01)
    assert row.freezes_c == pytest.approx((freezes_f - 32) / 1.8, abs=0.1)


@pytest.mark.parametrize("name", ["apples_not_chilling_sensitive", "broccoli", "cabbage_late", "spinach"])
def test_moist_foods_follow_siebel(name: str) -> None:
    # Siebel (1892), as in ASHRAE Refrigeration, thermal properties of foods: c = 3.35 w + 0.84
    row = commodity(name)

    assert row.water_pct is not None
    assert row.heat_kj_kgk == pytest.approx(3.35 * row.water_pct / 100 + 0.84, rel=0.03)


@pytest.mark.parametrize(("at_c", "heat_mw_kg"), [(0, 15.8), (5, 30.2), (10, 50.7), (15, 78.3), (20, 113.5)])
def test_cabbage_breathes_like_the_correlation(at_c: float, heat_mw_kg: float) -> None:
    # Becker and Fricke 1996, R = 6.0803e-4 (1.8 t + 32)^2.6183 mg/kg·h (coefficients from memory), 10.7 J/mg
    assert respiration_mw_kg(commodity("cabbage_late"), at_c) == pytest.approx(heat_mw_kg, rel=0.12)


def test_heat_of_respiration_is_that_of_its_carbon_dioxide() -> None:
    # HB66: 220 Btu a day and ton per mg CO2/kg·h = 2.96 mW/kg
    row = commodity("broccoli")

    assert respiration_mw_kg(row, 0.0) / 21.0 == pytest.approx(220 * 1055.06 / 86.4 / 907.185, rel=0.01)


def test_no_figure_is_said_and_not_guessed() -> None:
    with pytest.raises(OutOfRangeError, match="no rate"):
        respiration_mw_kg(commodity("cut_dahlias"), 4.0)
    with pytest.raises(OutOfRangeError, match="only between known figures"):
        respiration_mw_kg(commodity("strawberries"), 30.0)
    with pytest.raises(OutOfRangeError, match="commodity unobtainium"):
        commodity("unobtainium")


@given(band_k=st.floats(0.1, 6.0))
def test_no_advised_target_lets_the_band_reach_freezing(band_k: float) -> None:
    for row in all_commodities().values():
        if row.freezes_c is not None:
            assert advised_target_c(row, band_k) - band_k / 2 >= row.freezes_c + 0.45


def test_rates_that_fall_fit_no_q10() -> None:
    # HB66 prints carrots 31, 40, then 25 mg/kg·h at 10, 15, 20 C
    with pytest.raises(OutOfRangeError, match="fit no Q10"):
        q10_of(commodity("carrots_topped"))
    assert q10(20.0, 50.0, 10.0) == pytest.approx(2.5)


def test_ten_degrees_for_a_day_cost_two_to_three_days_in_all() -> None:
    # Q10 2-3 (HB66): a day at 10 K more uses up two to three days, one of which would have passed anyway
    lost = days_lost(24.0, 12.0, 2.0)

    assert (1.0 + lost.low, 1.0 + lost.high) == pytest.approx((2.0, 3.0))


@pytest.mark.parametrize(
    ("ua_w_k", "walls_kj_k", "stored_kg", "hours"),
    [(27, 80, 0, 4.4 / 60), (10, 80, 0, 12 / 60), (10, 65, 2000, 17)],
)
def test_an_outage(ua_w_k: float, walls_kj_k: float, stored_kg: float, hours: float) -> None:
    # 10 m3, 30 C outside, 3 to 5 C, doors shut: t = tau ln((Ta - T)/(Ta - TL)) (Incropera, ch. 5), worked by hand
    found = outage(3, 5, 30, ua_w_k=ua_w_k, volume_m3=10, stored_kg=stored_kg, walls_kj_k=walls_kj_k)

    assert found.hours == pytest.approx(hours, rel=0.1)


def test_a_cool_night_holds_the_limit() -> None:
    assert outage(3, 5, 4, ua_w_k=10, volume_m3=10).hours is None


def test_hours_that_nobody_knows_count_as_over() -> None:
    assert food_clock(None, 4.0) == "unknown_counts_as_over"


@pytest.mark.parametrize(
    ("charge_kg", "refrigerant", "volume_m3", "of_limit"),
    [(0.5, "R-32", 4, 0.41), (1.0, "R-32", 10, 0.33), (1.3, "R-32", 4, 1.06), (0.15, "R-290", 10, 0.39)],
)
def test_a_charge_in_a_room(charge_kg: float, refrigerant: str, volume_m3: float, of_limit: float) -> None:
    # lower flammable limits of ASHRAE 34 (from memory), by hand: m / (V LFL)
    assert charge_in_room(charge_kg, refrigerant, volume_m3).of_limit == pytest.approx(of_limit, abs=0.01)


def test_a_quarter_of_the_limit_is_the_threshold() -> None:
    needs_m3 = charge_in_room(1.0, "R-32", 10.0).quarter_needs_m3

    assert needs_m3 == pytest.approx(13.0, abs=0.1)
    assert charge_in_room(1.0, "R-32", needs_m3 + 0.1).verdict == "below"


def test_carbon_dioxide_is_as_heavy_as_coolprop_says() -> None:
    assert pytest.approx(PropsSI("D", "T", 277.15, "P", 101_325, "CO2"), rel=0.005) == CO2_KG_M3


@pytest.mark.parametrize(
    ("volume_m3", "layer", "mixed"), [(10, 0.51, 0.40), (20, 0.26, 0.23), (60, 0.09, 0.08)]
)
def test_ten_kilograms_of_dry_ice(volume_m3: float, layer: float, mixed: float) -> None:
    # 5.1 m3 of gas; mixed with the air it pushes out 1 - exp(-v/V), by hand
    found = carbon_dioxide(10.0, volume_m3)

    assert (found.layer_share, found.mixed_share) == pytest.approx((layer, mixed), abs=0.01)
    assert found.breathing == "above_life_limit"


def test_a_third_of_a_bag_is_enough_to_kill_while_oxygen_looks_well() -> None:
    # NIOSH: 40 000 ppm is immediately dangerous; the air then holds 20.1 % of oxygen (by hand)
    found = carbon_dioxide(0.8, 10.0)

    assert found.mixed_share == pytest.approx(0.04, abs=0.001)
    assert found.oxygen_share == pytest.approx(0.201, abs=0.001)


def test_ferment_and_breathing() -> None:
    # C6H12O6 -> 2 C2H5OH + 2 CO2: 0.489 kg per kg; apples 6, broccoli 34 mg/kg·h at 5 C (HB66), a tonne in 20 m3
    assert from_ferment_kg(1.0) == pytest.approx(0.489, abs=0.001)
    assert hours_to_work_limit(1000, 6, 20) == pytest.approx(32, abs=1)
    assert hours_to_work_limit(1000, 34, 20) == pytest.approx(6, abs=0.5)


@given(gas_kg=st.floats(0, 100), more_kg=st.floats(0, 50), volume_m3=st.floats(4, 60))
def test_more_gas_never_means_better_air(gas_kg: float, more_kg: float, volume_m3: float) -> None:
    less, more = carbon_dioxide(gas_kg, volume_m3), carbon_dioxide(gas_kg + more_kg, volume_m3)

    assert more.mixed_share >= less.mixed_share
    assert 0.0 <= more.mixed_share <= more.layer_share + 1e-9 or more.layer_share == 1.0


@pytest.mark.parametrize(
    ("outside", "water_g", "heat_kj"),
    [((20, 60), 5.3, 33), ((25, 70), 11.2, 53), ((30, 60), 13.4, 64), ((35, 40), 11.0, 64)],
)
def test_a_cubic_metre_of_outdoor_air(outside: tuple[float, float], water_g: float, heat_kj: float) -> None:
    # enthalpies and humidity ratios of ASHRAE Fundamentals 2017 ch. 1, computed with psychrolib
    found = brought_by_m3(moist_air(*outside), moist_air(4.0, 85.0))

    assert found.water_g == pytest.approx(water_g, abs=0.1)
    assert found.heat_kj == pytest.approx(heat_kj, abs=1.0)


def test_one_opening_of_a_door() -> None:
    # the door of 0.9 x 2.0 m, 15 s, 30 C 60 %: 93 g of water, 0.45 MJ (computed)
    door = Door(wide_m=0.9, high_m=2.0, passages=60)
    found = brought_by_opening(door, moist_air(30, 60), moist_air(4, 85), 15.0)

    assert found.water_g == pytest.approx(93, abs=2)
    assert found.heat_kj == pytest.approx(450, rel=0.01)
    assert ice_a_day_kg(door, moist_air(30, 60), moist_air(4, 85)) == pytest.approx(
        60 * found.water_g / 1000, rel=0.02
    )
