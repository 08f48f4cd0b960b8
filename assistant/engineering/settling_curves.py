"""Every way in which a room may settle, weighed by the readings: the arithmetic behind the trend.

A room is taken to settle as T(t) = T_end + (T_0 - T_end) e(t). e(t) is one exponential, or a quick one (the air) and a
slow one (the product) in a fixed share; a slow wave of 24 h rides on top, for sun and night. For given time constants
all that is linear, so that the readings turn a normal prior into a normal posterior in closed form (linear Gaussian
model, e.g. Bishop, Pattern Recognition and Machine Learning, section 2.3.3). The time constants, the size of the
reading error and which reading may be a slip of the thumb are no such thing: they are laid out on a grid, and each
point is weighed by how well it foresaw the readings.
"""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

SHORTEST_TAU_H: Final = 0.5
LONGEST_TAU_H: Final = 48.0
TAUS_FOR_TEXTS: Final = 16
TAUS_FOR_LOGGERS: Final = 64
"""How finely the time constants are laid out: exact readings would fall between coarse ones."""

QUICK_SHARES: Final = (0.0, 0.25, 0.5, 0.75)
"""How much of the way the quick part goes: 0 is one time constant."""

TWO_TAUS_ODDS: Final = 0.4
"""Two time constants to one, before any reading (common practice, no source)."""

QUICK_RATIOS: Final = (0.08, 0.25)
"""The quick time constant over the slow one."""

USUAL_TAU_H: Final = 4.0
TAU_SPREAD: Final = math.log(2.2)
"""Rooms of 4-60 m3, empty to stocked, have time constants of 2-9 h, two in three (common practice, no source)."""

SIGMAS_K: Final = (0.45, 0.7, 1.0)
"""Whole degrees F, a saw-tooth of 2-4 F, and a second thermometer or an open door on top."""

DAY_WAVE_K: Final = 0.6
DAY_H: Final = 24.0
SLIP_CHANCE: Final = 0.04
FEWEST_WITH_SLIP: Final = 4
"""Among two or three readings any one could be the slip, and nothing would tell: all are believed."""

SLIP_SPAN_K: Final = 40.0
"""A slip of the thumb may be any number within this span."""

START_SPREAD_K: Final = 15.0
END_SPREAD_K: Final = 8.0
NEGLIGIBLE: Final = 1e-3


@dataclass(frozen=True, slots=True, kw_only=True)
class Shapes:
    """The shapes e(t) that are laid out (axis s), with what is held of them before any reading."""

    slow_tau_h: Floats  # (s,)
    quick_tau_h: Floats  # (s,)
    quick_share: Floats  # (s,)
    log_prior: Floats  # (s,)

    def left_to_go(self, after_h: Floats) -> Floats:
        """e(t) of every shape, (s, times): 1 at the first reading, 0 in the end."""
        slow = np.exp(-after_h / self.slow_tau_h[:, None])
        quick = np.exp(-after_h / self.quick_tau_h[:, None])
        return self.quick_share[:, None] * quick + (1.0 - self.quick_share[:, None]) * slow


@dataclass(frozen=True, slots=True, kw_only=True)
class Curves:
    """Weighed curves (axis c): each a shape e(t) and a normal spread over its end, its start and its day wave."""

    shapes: Shapes
    weight: Floats  # (c,), sums to 1
    shape: NDArray[np.intp]  # (c,)  its row in `shapes`
    slip: NDArray[np.intp]  # (c,)  the reading left out, or -1
    mean_c: Floats  # (c, 4)  end, start, day wave cosine and sine
    spread_c2: Floats  # (c, 4, 4)
    log_evidence: float


def weighed(after_h: Floats, room_c: Floats, *, end_guess_c: float, noise_k: float | None = None) -> Curves:
    """Every curve, weighed by the readings `room_c` at `after_h` (both (r,), hours from the first one on).

    `noise_k` is the reading error where it is known, as of a logger; without it three sizes share the weight.
    `end_guess_c` centres the (wide) prior for where the room ends.
    """
    shapes = _shapes(TAUS_FOR_TEXTS if noise_k is None else TAUS_FOR_LOGGERS)
    sigmas_k = np.array(SIGMAS_K if noise_k is None else (noise_k,))
    to_go = shapes.left_to_go(after_h)
    design = _design(to_go, after_h)  # (s, r, 4)
    prior_mean = np.array([end_guess_c, float(room_c[0]), 0.0, 0.0])
    prior_precision = np.diag([END_SPREAD_K**-2, START_SPREAD_K**-2, DAY_WAVE_K**-2, DAY_WAVE_K**-2])

    kept = _kept(len(after_h))  # (l, r): nothing left out, then each reading in turn
    gram = np.einsum("lr,srij->slij", kept, design[..., :, None] * design[..., None, :])  # (s, l, 4, 4)
    away = room_c - design @ prior_mean  # (s, r)  from the prior's own curve
    pull = np.einsum("lr,sri->sli", kept, design * away[..., None])
    square = np.einsum("lr,sr->sl", kept, away**2)

    noise = sigmas_k[None, :, None] ** 2  # (1, n, 1)
    precision = prior_precision + gram[:, None] / noise[..., None, None]  # (s, n, l, 4, 4)
    spread = np.linalg.inv(precision)
    step = np.einsum("snlij,slj->snli", spread, pull) / noise[..., None]
    gained = np.einsum("sli,snli->snl", pull, step) / noise
    log_size = np.linalg.slogdet(precision)[1] - math.log(np.linalg.det(prior_precision))
    count = kept.sum(axis=1)  # (l,)
    log_fit = -0.5 * (square[:, None] / noise - gained + log_size + count * np.log(2.0 * np.pi * noise))
    log_weight = (
        shapes.log_prior[:, None, None] - math.log(len(sigmas_k)) + log_fit + _log_slip_prior(len(after_h))
    )
    return _strongest(shapes, log_weight, prior_mean + step, spread)


def _shapes(taus: int) -> Shapes:
    quick_ways = len(QUICK_RATIOS) * (len(QUICK_SHARES) - 1)
    rows = [
        (slow, slow * ratio, share, math.log(TWO_TAUS_ODDS / quick_ways) if share else 0.0)
        for slow in np.geomspace(SHORTEST_TAU_H, LONGEST_TAU_H, taus)
        for share in QUICK_SHARES
        for ratio in (QUICK_RATIOS if share else (1.0,))
    ]
    slow, quick, share, log_prior = np.array(rows).T
    log_prior = log_prior - 0.5 * (np.log(slow / USUAL_TAU_H) / TAU_SPREAD) ** 2
    log_prior = log_prior - np.logaddexp.reduce(log_prior)
    return Shapes(slow_tau_h=slow, quick_tau_h=quick, quick_share=share, log_prior=log_prior)


def _design(to_go: Floats, after_h: Floats) -> Floats:
    turn = 2.0 * np.pi * after_h / DAY_H
    waves = np.broadcast_to(np.stack([np.cos(turn), np.sin(turn)], axis=-1), (*to_go.shape, 2))
    return np.concatenate([(1.0 - to_go)[..., None], to_go[..., None], waves], axis=-1)


def _kept(readings: int) -> Floats:
    everything = np.ones((1, readings))
    return everything if readings < FEWEST_WITH_SLIP else np.concatenate([everything, 1.0 - np.eye(readings)])


def _log_slip_prior(readings: int) -> Floats:
    if readings < FEWEST_WITH_SLIP:
        return np.zeros(1)
    none = readings * math.log1p(-SLIP_CHANCE)
    one = math.log(SLIP_CHANCE) + (readings - 1) * math.log1p(-SLIP_CHANCE) - math.log(SLIP_SPAN_K)
    return np.array([none, *(one for _ in range(readings))])


def _strongest(shapes: Shapes, log_weight: Floats, mean: Floats, spread: Floats) -> Curves:
    """Only the curves that carry weight: those a thousand times less likely than the best one are dropped."""
    evidence = float(np.logaddexp.reduce(log_weight, axis=None))
    shape, noise, left_out = np.nonzero(log_weight > log_weight.max() + math.log(NEGLIGIBLE))
    weight = np.exp(log_weight[shape, noise, left_out] - evidence)
    return Curves(
        shapes=shapes,
        weight=weight / weight.sum(),
        shape=shape,
        slip=left_out - 1,
        mean_c=mean[shape, noise, left_out],
        spread_c2=spread[shape, noise, left_out],
        log_evidence=evidence,
    )
