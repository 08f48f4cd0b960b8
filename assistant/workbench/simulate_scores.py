"""How honest beliefs are: proper scores, calibration, and what a score is made of.

Brier = mean (p − y)²          log = mean − log2 p(what was so)
BS    = reliability − resolution + uncertainty          Murphy, J. Appl. Meteor. 12 (1973) 595-600
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from assistant.drawing import Bin
from kb.compiling import Floats


@dataclass(frozen=True, slots=True, kw_only=True)
class Partition:
    """Murphy's three parts; exact only where all forecasts of a bin are equal."""

    reliability: float
    resolution: float
    uncertainty: float


def brier(p: Floats, y: Floats) -> float:
    """Mean squared error of forecasts; several classes in the last axis are summed.

    >>> round(brier(np.array([0.1, 0.9, 0.8, 0.3]), np.array([0, 1, 1, 0])), 4)
    0.0375
    """
    squares = (np.asarray(p) - np.asarray(y)) ** 2
    return float(squares.mean() if squares.ndim == 1 else squares.sum(axis=1).mean())


def log_score_bits(p_of_truth: Floats) -> float:
    """Mean surprise at what was so, in bits; nought for a reader who was always sure and right."""
    return float(-np.log2(p_of_truth).mean())


def reliability(p: Floats, y: Floats, bins: int = 10) -> tuple[Bin, ...]:
    """Equal-width bins that hold anything, from 0 to 1; an inner edge belongs to the bin above."""
    at = np.minimum((np.asarray(p) * bins + 1e-12).astype(np.int64), bins - 1)
    return tuple(
        Bin(forecast=float(p[at == b].mean()), observed=float(y[at == b].mean()), count=int((at == b).sum()))
        for b in range(bins)
        if (at == b).any()
    )


def calibration_error(bins: Sequence[Bin]) -> float:
    """Mean distance of the forecast from what came true, weighted by count."""
    total = sum(b.count for b in bins)
    return sum(abs(b.forecast - b.observed) * b.count for b in bins) / total


def partition(p: Floats, y: Floats) -> Partition:
    """Murphy's partition over the distinct forecasts."""
    values, at = np.unique(p, return_inverse=True)
    count = np.bincount(at)
    observed = np.bincount(at, weights=y) / count
    base = float(np.mean(y))
    return Partition(
        reliability=float((count * (values - observed) ** 2).sum() / len(p)),
        resolution=float((count * (observed - base) ** 2).sum() / len(p)),
        uncertainty=base * (1.0 - base),
    )
