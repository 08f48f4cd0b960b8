"""Probes against printed resistance tables and textbook examples."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.engineering.errors import OutOfRangeError
from assistant.engineering.probes import (
    beta_c,
    beta_error_k,
    ice_point,
    misread_c,
    probe_wiring,
    pt100_c,
    pt100_ohm,
    side_by_side,
    thermistor_c,
    thermistor_ohm,
)

PRINTED = [(-40, 336_103.2), (-20, 97_006.9), (-10, 55_303.9), (-5, 42_316.7), (0, 32_650.9), (1, 31_030.8)]


@pytest.mark.parametrize(("probe_c", "resistance_ohm"), PRINTED)
def test_resistance_as_printed(probe_c: float, resistance_ohm: float) -> None:
    # Campbell Scientific, 109SS probe manual, appendix C (10 kohm NTC, curve 10K3MCD1)
    assert thermistor_c(resistance_ohm) == pytest.approx(probe_c, abs=0.005)
    assert thermistor_ohm(probe_c) == pytest.approx(resistance_ohm, rel=3e-4)


def test_beta_with_its_error() -> None:
    # Doebelin & Manik, Measurement Systems, ex. 8.4: 1000 ohm at 293 K, B 3450, 2500 ± 5 ohm, ± 2 ohm: 271.845 ± 0.061 K
    probe_c = beta_c(2500.0, 1000.0, 293.0 - 273.15, 3450.0)

    assert probe_c + 273.15 == pytest.approx(271.845, abs=0.001)
    error_k = beta_error_k(2500.0, 1000.0, probe_c, 3450.0, error_ohm=5.0, known_error_ohm=2.0)
    assert error_k == pytest.approx(0.061, abs=0.001)


@pytest.mark.parametrize(
    ("probe_c", "resistance_ohm"), [(0, 100.0), (5, 101.953), (25, 109.735), (100, 138.506)]
)
def test_platinum_as_in_its_standard(probe_c: float, resistance_ohm: float) -> None:
    # IEC 60751 (from memory)
    assert pt100_ohm(probe_c) == pytest.approx(resistance_ohm, abs=0.001)
    assert pt100_c(resistance_ohm) == pytest.approx(probe_c, abs=0.005)


def test_platinum_below_freezing() -> None:
    # IEC 60751 table (from memory): -50 C 80.31 ohm
    assert pt100_ohm(-50.0) == pytest.approx(80.31, abs=0.01)


@pytest.mark.parametrize(
    ("series_ohm", "parallel_ohm", "shows_c"),
    [(3000, None, -1.7), (10_000, None, -5.2), (0, 300_000, 2.0), (0, 100_000, 5.6), (0, 30_000, 15.0)],
)
def test_corrosion_reads_cold_and_water_reads_warm(
    series_ohm: float, parallel_ohm: float | None, shows_c: float
) -> None:
    # computed from the printed curve with numpy
    shown_c = misread_c(0.0, series_ohm=series_ohm, parallel_ohm=parallel_ohm)

    assert shown_c == pytest.approx(shows_c, abs=0.3)


@given(probe_c=st.floats(-39, 79))
def test_there_and_back(probe_c: float) -> None:
    for family in ("b3977", "b3950", "b3435"):
        assert thermistor_c(thermistor_ohm(probe_c, family), family) == pytest.approx(probe_c, abs=1e-6)


@given(true_c=st.floats(-5, 30), series_ohm=st.floats(1, 20_000))
def test_a_corroded_plug_never_reads_warm(true_c: float, series_ohm: float) -> None:
    assert misread_c(true_c, series_ohm=series_ohm) < true_c


def test_the_wrong_family_reads_warm() -> None:
    # a B 3435 element at 0 C (28 704 ohm) read by the 3977 K curve shows 2.6 C (computed from both curves)
    assert thermistor_c(thermistor_ohm(0.0, "b3435")) == pytest.approx(2.6, abs=0.1)


def test_two_instruments_give_no_verdict_below_four_degrees() -> None:
    # common practice, no source: 4 F for separate instruments, 2 F for the controller's own two
    assert side_by_side(4.0, 6.0, "separate").agreement == "agree"
    assert side_by_side(4.0, 5.5, "own_probes").agreement == "differ"
    assert not side_by_side(4.0, 9.0, "separate").settles


def test_stated_accuracies_decide_where_they_are_known() -> None:
    assert side_by_side(4.0, 5.0, "separate", accuracies_k=(0.5, 0.5)).agreement == "differ"


def test_ice_settles_which_one_is_off() -> None:
    assert ice_point(1.8, 1.0).settles
    assert ice_point(1.8, 1.0).agreement == "differ"


def test_no_probe_is_said_and_not_guessed() -> None:
    assert [probe_wiring(r) for r in (3.0, 32_650.0, 900_000.0)] == ["short", "plausible", "open"]
    with pytest.raises(OutOfRangeError, match="open or shorted"):
        thermistor_c(3.0)


@pytest.mark.parametrize("reading_c", [-200.0, 500.0, float("nan")])
def test_absurd_readings_are_refused(reading_c: float) -> None:
    with pytest.raises(OutOfRangeError):
        side_by_side(reading_c, 4.0, "separate")
