"""A unit in a room as it was told: physical sense at the edges, and that only what could turn the outcome is named."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.engineering import (
    OutOfRangeError,
    ToldRoom,
    match_of,
    told_pull_down,
    told_tau_h,
    ways_of,
)

sides_m = st.floats(1.8, 8.0)
known: dict[str, Any] = {
    "outdoor_c": 35.0,
    "door_use": "usual",
    "product_kg": 0.0,
}  # Any: keywords of several kinds


def told(**more: Any) -> ToldRoom:  # Any: keywords of several kinds
    return ToldRoom(**{"long_m": 3.66, "wide_m": 3.05, "high_m": 2.44, "foam_m": 0.1, **known, **more})


def fits(room: ToldRoom, rated_w: float) -> float:
    shares = match_of(room, rated_w).shares
    return shares["ample"] + shares["marginal"]


@given(long_m=sides_m, wide_m=sides_m, foam_m=st.floats(0.02, 0.2), rated_w=st.floats(1500.0, 9000.0))
def test_shares_are_shares(long_m: float, wide_m: float, foam_m: float, rated_w: float) -> None:
    match = match_of(told(long_m=long_m, wide_m=wide_m, foam_m=foam_m), rated_w)

    assert sum(match.shares.values()) == pytest.approx(1.0)
    assert min(match.shares.values()) >= 0.0
    assert match.coldest_c.low <= match.coldest_c.middle + 1e-6 <= match.coldest_c.high + 2e-6


@given(foam_m=st.floats(0.02, 0.2), more_m=st.floats(0.0, 0.1), rated_w=st.floats(1500.0, 9000.0))
def test_more_foam_never_makes_a_unit_fit_worse(foam_m: float, more_m: float, rated_w: float) -> None:
    assert fits(told(foam_m=foam_m + more_m), rated_w) >= fits(told(foam_m=foam_m), rated_w) - 1e-9


@given(rated_w=st.floats(1500.0, 9000.0), more_w=st.floats(0.0, 3000.0))
def test_a_bigger_unit_never_holds_the_room_less_cold(rated_w: float, more_w: float) -> None:
    assert (
        match_of(told(), rated_w + more_w).coldest_c.middle
        <= match_of(told(), rated_w).coldest_c.middle + 1e-3
    )


@given(target_c=st.floats(2.0, 12.0), warmer_k=st.floats(0.0, 6.0))
def test_a_warmer_target_is_never_harder(target_c: float, warmer_k: float) -> None:
    assert fits(told(target_c=target_c + warmer_k), 2345.0) >= fits(told(target_c=target_c), 2345.0) - 1e-9


def test_thin_walls_big_loads_open_doors_and_small_units_are_told_apart() -> None:
    def likeliest(room: ToldRoom, rated_w: float) -> str:
        shares = match_of(room, rated_w).shares
        return max(shares, key=lambda state: shares[state])

    assert likeliest(told(), 3517.0) == "ample"
    assert likeliest(told(foam_m=None, walls="thin_or_fibrous"), 2345.0) == "short_walls"
    assert likeliest(told(product_kg=2000.0), 3517.0) == "short_product"
    assert likeliest(told(door_use="often_or_propped"), 2345.0) == "short_door"
    assert likeliest(told(long_m=6.0, wide_m=5.0), 3517.0) == "short_unit"


def test_the_product_term_is_the_heat_of_cooling_it() -> None:
    # m c ΔT over a day: 500 kg × 3.8 kJ/kgK × (25 − 3.3) K / 86 400 s = 477 W (ASHRAE Handbook - Refrigeration, product load)
    terms = {term.name: term.mean_w for term in match_of(told(product_kg=500.0), 3517.0).terms}

    assert terms["product"] == pytest.approx(477.2, rel=0.001)


def test_the_wall_term_is_area_times_u_times_difference() -> None:
    # U = 0.026 / 0.1 = 0.26; (2 × (3.66 + 3.05) × 2.44 + 3.66 × 3.05) m² × 0.26 × (35 − 3.3) K = 361.9 W
    terms = {term.name: term.mean_w for term in match_of(told(), 3517.0).terms}

    assert terms["walls"] == pytest.approx(361.9, rel=0.001)


def test_only_a_guess_that_could_turn_the_outcome_is_named() -> None:
    tight = ToldRoom(long_m=2.4, wide_m=2.4, outdoor_c=30.0, door_use="usual", product_kg=0.0)
    close = ToldRoom(long_m=4.3, wide_m=4.9, high_m=2.44, outdoor_c=35.0, door_use="usual", product_kg=0.0)

    assert match_of(tight, 3517.0).turns == ()
    assert match_of(close, 3517.0).turns == ("foam_m",)


def test_no_guess_is_mended() -> None:
    guessed = ToldRoom(long_m=3.66, wide_m=3.05)

    assert match_of(guessed, 2345.0).worths == ()
    assert {
        worth.mend for worth in match_of(told(door_use="often_or_propped", foam_m=0.05), 2345.0).worths
    } == {
        "good_foam",
        "less_door",
    }


@given(long_m=sides_m, wide_m=sides_m)
def test_the_ways_of_a_room_weigh_one(long_m: float, wide_m: float) -> None:
    ways = ways_of(ToldRoom(long_m=long_m, wide_m=wide_m))

    assert sum(way.weight for way in ways) == pytest.approx(1.0)
    assert all(
        {"foam_m", "outdoor_c", "door_often", "product_kg"} == {name for name, _ in way.guessed}
        for way in ways
    )


def test_a_barn_two_inches_wide_is_asked_about() -> None:
    with pytest.raises(OutOfRangeError, match="width is 0"):
        match_of(told(wide_m=0.0508), 3517.0)


def test_a_room_with_warm_product_settles_more_slowly_than_an_empty_one() -> None:
    def tau_h(product_kg: float) -> float:
        found = told_tau_h(told_pull_down(told(target_c=4.0, product_kg=product_kg), 3517.0, 22.0), 4.0)
        assert found is not None
        return found

    assert 0.25 <= tau_h(0.0) < tau_h(200.0) < tau_h(400.0)


def test_a_unit_that_is_too_small_has_no_time_constant() -> None:
    fall = told_pull_down(told(long_m=7.0, wide_m=7.0, target_c=3.0), 2345.0, 22.0)

    assert told_tau_h(fall, 3.0) is None
