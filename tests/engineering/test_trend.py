"""The trend against made-up rooms whose fate is known, and against a general-purpose least-squares fit."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import curve_fit

from assistant.engineering.errors import OutOfRangeError
from assistant.engineering.trend import HEADINGS, RoomReading, Trend, trend_of
from tests.engineering.rooms_made_up import MadeUpRoom, rooms

ROOMS = 60


def texted(*room_c: float, every_h: float = 2.0) -> list[RoomReading]:
    return [RoomReading(at_h=every_h * place, room_c=c) for place, c in enumerate(room_c)]


def of(made_up: MadeUpRoom) -> Trend:
    return trend_of(made_up.readings, made_up.target_c)


@pytest.mark.parametrize(("fate", "right"), [("reaches", "on_its_way"), ("stalls", "will_stall")])
def test_six_readings_over_three_time_constants_decide_four_rooms_in_five(fate: str, right: str) -> None:
    found = [of(room) for room in rooms(ROOMS, fate, readings=6, span_taus=3.0)]  # type: ignore[arg-type] # mypy loses the literal

    assert sum(one.verdict != "too_early" for one in found) >= 0.8 * ROOMS
    assert sum(one.verdict not in {right, "too_early"} for one in found) <= 0.05 * ROOMS


@pytest.mark.parametrize(("fate", "right"), [("reaches", "on_its_way"), ("stalls", "will_stall")])
def test_one_slip_of_the_thumb_rarely_turns_a_verdict(fate: str, right: str) -> None:
    found = [of(room) for room in rooms(ROOMS, fate, readings=6, span_taus=3.0, slip_k=10.0)]  # type: ignore[arg-type] # as above

    assert sum(one.verdict not in {right, "too_early"} for one in found) <= 0.05 * ROOMS
    assert sum(one.verdict == right for one in found) >= 0.6 * ROOMS


@pytest.mark.parametrize("fate", ["reaches", "stalls"])
def test_three_readings_inside_three_hours_are_mostly_too_early(fate: str) -> None:
    found = [of(room) for room in rooms(ROOMS, fate, readings=3, span_h=2.5)]  # type: ignore[arg-type] # as above

    early = [one for one in found if one.verdict == "too_early"]
    assert len(early) > 0.6 * ROOMS
    assert all(one.decides_in_h is None or one.decides_in_h >= 1.0 for one in early)


@pytest.mark.parametrize("readings", [3, 6, 10])
def test_nine_intervals_in_ten_hold_the_true_end(readings: int) -> None:
    made_up = list(rooms(ROOMS, "stalls", readings=readings, span_taus=3.0))

    held = sum(one.ends_c.low <= room.ends_c <= one.ends_c.high for room in made_up for one in [of(room)])

    assert held >= 0.88 * ROOMS


def test_least_squares_on_a_loggers_curve_lies_within_the_interval() -> None:
    # worked sample of a single exponential with rounding of 0.1 K; reference: scipy.optimize.curve_fit
    hours = np.array([0.0, 0.5, 1.0, 1.5, 2.0, 3.0, 4.0])
    room_c = np.array([25.0, 22.4, 20.2, 18.1, 16.4, 13.3, 11.1])
    (end_c, _, tau_h), _ = curve_fit(
        lambda t, end, fall, tau: end + fall * np.exp(-t / tau), hours, room_c, (3, 22, 4)
    )

    found = trend_of(
        [RoomReading(at_h=h, room_c=c) for h, c in zip(hours, room_c, strict=True)], 3.0, noise_k=0.1
    )

    assert found.ends_c.low <= end_c <= found.ends_c.high
    assert found.tau_h.low <= tau_h <= found.tau_h.high


def test_the_hour_of_arrival_agrees_with_the_curve() -> None:
    # T = -2 + 22 e^(-t/5): at 5.1 C after 5 ln(22 / 7.1) = 5.65 h, so 1.65 h from the fourth hour on
    logged = [
        RoomReading(at_h=h, room_c=-2.0 + 22.0 * float(np.exp(-h / 5.0))) for h in np.linspace(0.0, 4.0, 17)
    ]

    found = trend_of(logged, 4.0, noise_k=0.1)

    assert found.verdict == "on_its_way"
    assert found.reaches_in_h is not None
    assert found.reaches_in_h.low - 0.26 <= 1.65 <= found.reaches_in_h.high + 0.26


def test_a_room_that_warms_is_rising() -> None:
    assert trend_of(texted(4.0, 6.0, 8.0, 10.0), 3.0).verdict == "rising"


def test_a_room_that_stands_far_above_its_target_will_stall() -> None:
    found = trend_of(texted(10.0, 10.5, 10.0, 10.0, 10.5), 3.0)

    assert found.verdict == "will_stall"
    assert found.ends_c.low <= 10.2 <= found.ends_c.high


def test_a_room_that_is_there_arrives_now() -> None:
    found = trend_of(texted(5.0, 3.5, 3.0, 3.5, 3.0, 3.2), 3.0)

    assert found.verdict == "on_its_way"
    assert found.reaches_in_h is not None
    assert found.reaches_in_h.middle == 0.0


def test_a_slip_is_named_and_left_out() -> None:
    found = trend_of(texted(8.0, 8.0, 8.0, 80 / 1.8 - 32 / 1.8, 8.0, 8.5, 8.0), 3.0)

    assert found.slip == 3
    assert found.ends_c.high < 14.0


def test_only_what_came_after_a_turn_counts() -> None:
    found = trend_of(texted(20.0, 12.0, 8.0, 6.0, 5.0, 8.0, 11.0, 13.0), 3.0)

    assert found.verdict == "rising"
    assert found.changed_at_h is not None


def test_too_early_says_when_to_ask_again() -> None:
    found = trend_of(texted(20.0, 16.0, 13.5, every_h=1.0), 3.0)

    assert found.verdict == "too_early"
    assert found.decides_in_h is not None


def test_a_loggers_hundreds_are_taken() -> None:
    logged = [
        RoomReading(at_h=h, room_c=9.0 + 12.0 * float(np.exp(-h / 4.0))) for h in np.linspace(0.0, 16.0, 400)
    ]

    assert trend_of(logged, 3.0).verdict == "will_stall"


@given(
    room_c=st.lists(st.floats(-5, 40), min_size=2, max_size=5),
    shift_h=st.floats(-50, 50),
    shift_k=st.floats(-3, 3),
)
@settings(max_examples=15, deadline=None)
def test_neither_the_clock_nor_the_zero_matters(room_c: list[float], shift_h: float, shift_k: float) -> None:
    here = trend_of(texted(*room_c), 4.0)
    there = trend_of(
        [RoomReading(at_h=r.at_h + shift_h, room_c=r.room_c + shift_k) for r in reversed(texted(*room_c))],
        4.0 + shift_k,
    )

    assert sum(here.shares.values()) == pytest.approx(1.0)
    assert [there.shares[heading] for heading in HEADINGS] == pytest.approx(
        [here.shares[heading] for heading in HEADINGS], abs=0.02
    )
    assert here.ends_c.low <= here.ends_c.middle <= here.ends_c.high


def test_the_same_readings_give_the_same_trend() -> None:
    readings = texted(20.0, 15.0, 12.0, 10.0, 8.7)

    assert trend_of(readings, 3.0) == trend_of(readings, 3.0)


@pytest.mark.parametrize(
    ("readings", "says"),
    [
        ([], "at least two readings"),
        (texted(5.0), "at least two readings"),
        (texted(5.0, 6.0, every_h=0.0), "hours apart"),
        (texted(5.0, 500.0), "500 °C"),
        (texted(5.0, float("nan")), "nan"),
    ],
)
def test_absurd_readings_are_refused_in_words(readings: list[RoomReading], says: str) -> None:
    with pytest.raises(OutOfRangeError, match=says):
        trend_of(readings, 3.0)


def test_an_absurd_reading_error_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match="error of one reading"):
        trend_of(texted(5.0, 6.0), 3.0, noise_k=0.0)
