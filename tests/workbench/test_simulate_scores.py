"""Scores and calibration against published examples (reference cases E1-E5)."""

import numpy as np
import pytest

from assistant.workbench.simulate_scores import (
    brier,
    calibration_error,
    log_score_bits,
    partition,
    reliability,
)


def test_brier_and_log_scores_are_those_of_the_published_example() -> None:
    # E1; printed in a general-purpose library's documentation: .0375, .21616 nat
    assert brier(np.array([0.1, 0.9, 0.8, 0.3]), np.array([0, 1, 1, 0])) == pytest.approx(0.0375, abs=1e-12)
    assert log_score_bits(np.array([0.9, 0.9, 0.8, 0.65])) * np.log(2) == pytest.approx(0.21616187, abs=1e-8)


def test_calibration_error_is_that_of_the_published_example() -> None:
    # E2; printed in a general-purpose library's documentation: .2900 with two equal-width bins
    bins = reliability(np.array([0.25, 0.25, 0.55, 0.75, 0.75]), np.array([0, 0, 1, 1, 1]), 2)

    assert calibration_error(bins) == pytest.approx(0.29, abs=1e-12)


def test_a_reliability_diagram_plots_mean_forecasts_not_middles_of_bins() -> None:
    # E3; printed in a general-purpose library's documentation: observed (0, .5, 1), mean forecast (.2, .525, .85)
    y = np.array([0, 0, 0, 0, 1, 1, 1, 1, 1])
    p = np.array([0.1, 0.2, 0.3, 0.4, 0.65, 0.7, 0.8, 0.9, 1.0])

    bins = reliability(p, y, 3)

    assert [b.observed for b in bins] == pytest.approx([0, 0.5, 1])
    assert [b.forecast for b in bins] == pytest.approx([0.2, 0.525, 0.85])


def test_murphys_partition_adds_up() -> None:
    # E4; Murphy, J. Appl. Meteor. 12 (1973): forecast .2: 5 cases 1 event; .5: 4 cases 3; .8: 6 cases 4. By hand, exact.
    p = np.array([0.2] * 5 + [0.5] * 4 + [0.8] * 6)
    y = np.array([1, 0, 0, 0, 0, 1, 1, 1, 0, 1, 1, 1, 1, 0, 0], dtype=np.float64)

    parts = partition(p, y)

    assert (parts.reliability, parts.resolution, parts.uncertainty) == pytest.approx(
        (107 / 4500, 17 / 300, 56 / 225)
    )
    assert parts.reliability - parts.resolution + parts.uncertainty == pytest.approx(brier(p, y), abs=1e-12)
    assert brier(p, y) == pytest.approx(27 / 125, abs=1e-12)


def test_the_whole_belief_is_scored_not_only_its_leader() -> None:
    # E5, by hand: Brier summed over classes .435, log score 1.14336672 bit
    p = np.array([[0.7, 0.2, 0.1], [0.2, 0.5, 0.3], [0.1, 0.3, 0.6], [0.4, 0.4, 0.2]])
    truth = np.array([0, 1, 2, 2])

    assert brier(p, np.eye(3)[truth]) == pytest.approx(0.435, abs=1e-12)
    assert log_score_bits(p[np.arange(4), truth]) == pytest.approx(1.14336672, abs=1e-8)
