"""Where a room is going, from two to many texted readings: on its way, will stall, rising, or too early to tell.

The verdict comes from `settling_curves`: every curve that the readings leave open votes with its weight. A verdict is
given only when enough of the weight agrees, so few readings over few hours are "too early", and the hour at which the
next readings should decide is worked out by carrying the likelier curve on.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from statistics import NormalDist
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from assistant.engineering.errors import OutOfRangeError, in_range
from assistant.engineering.footing import Footing, Range
from assistant.engineering.settling_curves import Curves, Floats, weighed

Heading = Literal["on_its_way", "will_stall", "rising"]
Verdict = Literal["on_its_way", "will_stall", "rising", "too_early"]

HEADINGS: Final[tuple[Heading, ...]] = ("on_its_way", "will_stall", "rising")
HELD_K: Final = 1.1
"""A room that ends less than 2 F above its target holds it (control band of produce rooms; common practice)."""

RISE_K: Final = 1.0
"""A rise over the readings that noise alone would not make."""

SURE: Final = 0.75
"""Three to one: of made-up rooms whose fate is known, at most one verdict in twenty is then wrong (see the tests)."""

SURE_OF_FEW: Final = 0.95
FEWEST: Final = 2
FEW: Final = 3
"""Three numbers fit any curve, and none is left over to gainsay it."""

CHANGE_CHANCE: Final = 0.1
CHANGES_TRIED: Final = 6
NEGLIGIBLE: Final = 1e-3
FEWEST_AFTER_CHANGE: Final = 3
SLIP_SURE: Final = 0.5
MOST_GROUPS: Final = 60
LONGEST_H: Final = 14.0 * 24.0
AHEAD_H: Final = np.arange(0.0, 96.25, 0.25)
ASK_AGAIN_H: Final = (1.0, 1.5, 2.0, 3.0, 4.0, 6.0, 8.0, 12.0, 16.0, 24.0, 36.0, 48.0)
END_STEPS: Final = np.array([NormalDist().inv_cdf((step + 0.5) / 11.0) for step in range(11)])
START_STEPS: Final = np.array([NormalDist().inv_cdf((step + 0.5) / 5.0) for step in range(5)])
"""Strata of equal weight across a normal spread, in standard deviations."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomReading:
    """One number of the room, `at_h` hours on any clock that all readings share."""

    at_h: float
    room_c: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Trend:
    """Where the room is going; hours count from the last reading, and all of it holds for a day like this one."""

    verdict: Verdict
    shares: Mapping[Heading, float]
    """How likely each heading is; they sum to 1."""

    ends_c: Range
    tau_h: Range
    reaches_in_h: Range | None
    """Until the room is within `HELD_K` of the target; None unless it is on its way. 0: it is there."""

    decides_in_h: float | None
    """Only with `too_early`: when to ask again. None there: two more days of such readings would not decide."""

    slip: int | None
    """Which reading, by its place in time, is most likely a slip of the thumb; it was left out."""

    changed_at_h: float | None
    """Something happened just before this hour of the readings' clock; only later readings count."""

    footing: Footing


@dataclass(frozen=True, slots=True, kw_only=True)
class _Votes:
    """Curves drawn out: each vote is an end, a start and a shape (axis v)."""

    weight: Floats  # (v,)
    ends_c: Floats  # (v,)
    starts_c: Floats  # (v,)
    rise_k: Floats  # (v,)  over the readings that count
    shape: NDArray[np.intp]  # (v,)
    to_go: Floats  # (s, ahead)  of each shape from the last reading on
    slow_tau_h: Floats  # (s,)


def trend_of(readings: Sequence[RoomReading], target_c: float, *, noise_k: float | None = None) -> Trend:
    """Where the room is going, by what its readings leave open.

    `noise_k` is the error of one reading if it is known (a logger in steady air: about 0.2); texted ones need none.
    Fails with `OutOfRangeError` on fewer than two readings, on all at one time, or on numbers no cold room shows.
    Source of the curve: Newton's law of cooling, lumped form (Incropera, Fundamentals of Heat and Mass Transfer, ch. 5).

    >>> falling = [RoomReading(at_h=hour, room_c=c) for hour, c in ((0, 25), (4, 11), (8, 6), (12, 4), (16, 3.5))]
    >>> trend_of(falling, target_c=4.0).verdict
    'on_its_way'
    >>> trend_of(falling[:2], target_c=4.0).verdict
    'too_early'
    """
    if noise_k is not None:
        in_range("error of one reading", noise_k, 0.02, 5.0, "K")
    at_h, room_c = _checked(readings, target_c)
    after_h, grouped_c = _grouped(at_h - at_h[0], room_c)
    regimes = _regimes(after_h, grouped_c, target_c, noise_k)
    votes = _joined([(weight, _votes(curves, after_h[since:])) for weight, since, curves in regimes])
    shares = _shares(votes, target_c)
    verdict = _verdict(shares, len(after_h))
    _, since, curves = max(regimes, key=lambda regime: (regime[0], -regime[1]))
    return Trend(
        verdict=verdict,
        shares=shares,
        ends_c=_range(votes.ends_c, votes.weight),
        tau_h=_range(votes.slow_tau_h[votes.shape], votes.weight),
        reaches_in_h=_reaches_in_h(votes, target_c) if verdict == "on_its_way" else None,
        decides_in_h=_decides_in_h(after_h, grouped_c, votes, shares, target_c, noise_k)
        if verdict == "too_early"
        else None,
        slip=_slip(curves, since) if len(at_h) == len(after_h) else None,
        changed_at_h=float(at_h[0] + after_h[since]) if since else None,
        footing=_footing(at_h, room_c, target_c, noise_k),
    )


def _checked(readings: Sequence[RoomReading], target_c: float) -> tuple[Floats, Floats]:
    in_range("target temperature", target_c, -5.0, 20.0, "°C")
    if len(readings) < FEWEST:
        raise OutOfRangeError("a trend needs at least two readings; text another number in an hour or two")
    ordered = sorted(readings, key=lambda reading: reading.at_h)
    span_h = ordered[-1].at_h - ordered[0].at_h
    in_range(
        "time from first to last reading", span_h, 0.25, LONGEST_H, "h", mend="take the readings hours apart"
    )
    for reading in ordered:
        in_range("room temperature", reading.room_c, -30.0, 60.0, "°C")
    return np.array([r.at_h for r in ordered]), np.array([r.room_c for r in ordered])


def _grouped(after_h: Floats, room_c: Floats) -> tuple[Floats, Floats]:
    """A logger's hundreds, averaged in runs: neighbours tell the same, and a texted error does not average out."""
    if len(after_h) <= MOST_GROUPS:
        return after_h, room_c
    runs = np.array_split(np.arange(len(after_h)), MOST_GROUPS)
    return np.array([after_h[run].mean() for run in runs]), np.array([room_c[run].mean() for run in runs])


def _regimes(
    after_h: Floats, room_c: Floats, target_c: float, noise_k: float | None
) -> list[tuple[float, int, Curves]]:
    """One course throughout, or a new one since some reading; each with its weight, its first reading, its curves."""
    guess_c = target_c + HELD_K  # neither for nor against holding
    whole = weighed(after_h, room_c, end_guess_c=guess_c, noise_k=noise_k)
    tried = range(FEWEST, len(after_h) - FEWEST_AFTER_CHANGE + 1)
    tried = tried[:: math.ceil(len(tried) / CHANGES_TRIED)] if tried else tried
    log_weights, found = [math.log1p(-CHANGE_CHANCE) + whole.log_evidence], [(0, whole)]
    for since in tried:
        before = weighed(after_h[:since], room_c[:since], end_guess_c=guess_c, noise_k=noise_k)
        later = weighed(
            after_h[since:] - after_h[since], room_c[since:], end_guess_c=guess_c, noise_k=noise_k
        )
        chance = math.log(CHANGE_CHANCE / len(tried))
        log_weights.append(chance + before.log_evidence + later.log_evidence)
        found.append((since, later))
    weights = np.exp(np.array(log_weights) - np.logaddexp.reduce(log_weights))
    weights = np.where(weights < NEGLIGIBLE, 0.0, weights)
    return [
        (float(weight), since, curves)
        for weight, (since, curves) in zip(weights / weights.sum(), found, strict=True)
        if weight
    ]


def _votes(curves: Curves, after_h: Floats) -> _Votes:
    span_h = float(after_h[-1] - after_h[0])
    end_sd = np.sqrt(curves.spread_c2[:, 0, 0])  # (c,)
    slope = curves.spread_c2[:, 0, 1] / curves.spread_c2[:, 0, 0]
    start_sd = np.sqrt(np.maximum(curves.spread_c2[:, 1, 1] - slope * curves.spread_c2[:, 0, 1], 0.0))
    off_c = end_sd[:, None] * END_STEPS  # (c, 11)
    ends_c = curves.mean_c[:, 0, None] + off_c
    starts_c = (curves.mean_c[:, 1, None] + slope[:, None] * off_c)[..., None] + start_sd[
        :, None, None
    ] * START_STEPS
    ends_c = np.broadcast_to(ends_c[..., None], starts_c.shape)  # (c, 11, 5)
    to_go = curves.shapes.left_to_go(span_h + AHEAD_H)  # (s, ahead)
    votes_each = len(END_STEPS) * len(START_STEPS)
    return _Votes(
        weight=np.repeat(curves.weight / votes_each, votes_each),
        ends_c=ends_c.ravel(),
        starts_c=starts_c.ravel(),
        rise_k=((ends_c - starts_c) * (1.0 - to_go[curves.shape, 0, None, None])).ravel(),
        shape=np.repeat(curves.shape, votes_each),
        to_go=to_go,
        slow_tau_h=curves.shapes.slow_tau_h,
    )


def _joined(parts: list[tuple[float, _Votes]]) -> _Votes:
    offsets = np.cumsum([0, *(len(votes.slow_tau_h) for _, votes in parts[:-1])])
    return _Votes(
        weight=np.concatenate([weight * votes.weight for weight, votes in parts]),
        ends_c=np.concatenate([votes.ends_c for _, votes in parts]),
        starts_c=np.concatenate([votes.starts_c for _, votes in parts]),
        rise_k=np.concatenate([votes.rise_k for _, votes in parts]),
        shape=np.concatenate(
            [votes.shape + offset for offset, (_, votes) in zip(offsets, parts, strict=True)]
        ),
        to_go=np.concatenate([votes.to_go for _, votes in parts]),
        slow_tau_h=np.concatenate([votes.slow_tau_h for _, votes in parts]),
    )


def _shares(votes: _Votes, target_c: float) -> Mapping[Heading, float]:
    holds = votes.ends_c <= target_c + HELD_K
    rises = ~holds & (votes.rise_k > RISE_K)
    on_its_way = float(votes.weight[holds].sum())
    rising = float(votes.weight[rises].sum())
    return {"on_its_way": on_its_way, "will_stall": max(0.0, 1.0 - on_its_way - rising), "rising": rising}


def _verdict(shares: Mapping[Heading, float], readings: int) -> Verdict:
    sure = SURE if readings > FEW else SURE_OF_FEW
    if shares["on_its_way"] >= sure:
        return "on_its_way"
    if 1.0 - shares["on_its_way"] >= sure:  # that it will not get there may be sure before how it fails is
        return "rising" if shares["rising"] > shares["will_stall"] else "will_stall"
    return "too_early"


def _reaches_in_h(votes: _Votes, target_c: float) -> Range:
    goal_c = target_c + HELD_K
    holds = votes.ends_c <= goal_c
    ends_c, starts_c, shape = votes.ends_c[holds], votes.starts_c[holds], votes.shape[holds]
    fall_k = np.maximum(starts_c - ends_c, 1e-9)
    needed = (goal_c - ends_c) / fall_k  # (v,)  what may be left to go at the goal
    # each row of `gone` rises from 0 to 1; shifted by its number, all rows make one rising line to search
    gone = np.arange(len(votes.to_go))[:, None] + 1.0 - votes.to_go  # (s, ahead)
    place = np.searchsorted(gone.ravel(), shape + 1.0 - np.minimum(needed, 1.0)) - shape * len(AHEAD_H)
    hours = AHEAD_H[np.clip(place, 0, len(AHEAD_H) - 1)]
    return _range(np.where(starts_c <= goal_c, 0.0, hours), votes.weight[holds])


def _range(values: Floats, weight: Floats) -> Range:
    order = np.argsort(values, kind="stable")
    below = np.cumsum(weight[order]) / weight.sum()
    low, middle, high = (float(values[order][np.searchsorted(below, share)]) for share in (0.05, 0.5, 0.95))
    return Range(low=low, middle=middle, high=high)


def _slip(curves: Curves, since: int) -> int | None:
    slips = sorted({int(slip) for slip in curves.slip} - {-1})
    return next(
        (slip + since for slip in slips if curves.weight[curves.slip == slip].sum() > SLIP_SURE), None
    )


def _decides_in_h(
    after_h: Floats,
    room_c: Floats,
    votes: _Votes,
    shares: Mapping[Heading, float],
    target_c: float,
    noise_k: float | None,
) -> float | None:
    """The first hour of `ASK_AGAIN_H` at which readings along the likelier curve would give a verdict."""
    likelier = max(HEADINGS, key=lambda heading: shares[heading])
    holds = (votes.ends_c <= target_c + HELD_K) == (likelier == "on_its_way")
    weight = votes.weight[holds] / votes.weight[holds].sum()
    fall_k = np.bincount(
        votes.shape[holds],
        weights=weight * (votes.starts_c - votes.ends_c)[holds],
        minlength=len(votes.slow_tau_h),
    )
    ahead_c = float(weight @ votes.ends_c[holds]) + fall_k @ votes.to_go  # (ahead,)  the likelier curve
    gap_h = min(max(float(np.median(np.diff(after_h))), 1.0), 4.0)

    def decides(wait_h: float) -> bool:
        more_h = np.unique(np.append(np.arange(gap_h, wait_h, gap_h), wait_h))
        more_c = np.interp(more_h, AHEAD_H, ahead_c)
        then_h = np.append(after_h, after_h[-1] + more_h)
        curves = weighed(then_h, np.append(room_c, more_c), end_guess_c=target_c + HELD_K, noise_k=noise_k)
        return _verdict(_shares(_votes(curves, then_h), target_c), len(then_h)) != "too_early"

    return next((wait_h for wait_h in ASK_AGAIN_H if decides(wait_h)), None)


def _footing(at_h: Floats, room_c: Floats, target_c: float, noise_k: float | None) -> Footing:
    pairs = tuple((f"room_c at {hour:g} h", float(c)) for hour, c in zip(at_h, room_c, strict=True))
    given = () if noise_k is None else (("noise_k", noise_k),)
    return Footing(
        inputs=(("target_c", target_c), *given, *pairs),
        defaults=() if given else ("noise_k",),
        holds="for a day like this one: weather, doors and load as they were during the readings",
        source="Newton's law of cooling, lumped form: Incropera, Fundamentals of Heat and Mass Transfer, ch. 5",
    )
