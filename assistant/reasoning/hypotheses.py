"""What can be wrong: nothing at work any more, each cause alone, something else, and every compatible pair.

    row 0                nothing at work: mended, or never anything (no belief before the first fix)
    rows 1 … n           each cause alone; a cause of kind `normal` is a kind of nothing wrong
    row n + 1            something else
    rows n + 2 …         pairs of faults that share some equipment, in order

Prior: fixed shares (`kb.compiling.Shares`), within them the weights, P(a alone) ∝ w_a, P(a, b) ∝ w_a w_b.

Something else shows each finding as the average room in trouble does, and no two findings have anything in common:

    P(s | something else) = Σ_listed P(h) P(s | h)        so    P(something else | e) / P(listed | e) = their prior odds · 2^conf(e)

where conf(e) is the published measure of conflict (`conflict`): it wins where the answers fit no listed hypothesis better
than chance would have them.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from assistant.reasoning.gains import LEAST
from assistant.reasoning.together import together
from kb.compiling import Bools, Compiled, Floats, Ints, Node, Shows

MENDED: Final = 0
"""The row of nothing at work."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Shown:
    """How the hypotheses show one finding: a row for each hypothesis that says something about it."""

    shows: Shows
    rows: Ints
    """(told,) the hypotheses that differ from the background."""
    strength: Floats
    """(told, states) P(s | h)."""

    def likelihood(self, hypotheses: int, by_state: Floats) -> Floats:
        """(hypotheses,) P(e | h) = Σ_s P(s | h) λ(s), from `by_state` = λ."""
        every = np.full(hypotheses, self.shows.background @ by_state)
        every[self.rows] = self.strength @ by_state
        return every


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Hypotheses:
    """All hypotheses of one edition."""

    compiled: Compiled
    first: Ints
    """(hypotheses,) place of the first cause; `nobody` where there is none."""
    second: Ints
    """(hypotheses,) place of the second cause of a pair; else `nobody`."""
    prior: Floats
    shown: Mapping[Node, Shown]

    @property
    def nobody(self) -> int:
        """The place that stands for no cause."""
        return len(self.compiled.causes)

    @property
    def something_else(self) -> int:
        """The row of something else."""
        return len(self.compiled.causes) + 1

    def __len__(self) -> int:
        return len(self.first)

    def alone(self, place: int) -> int:
        """The row of one cause alone."""
        return place + 1


@lru_cache(maxsize=8)
def hypotheses_of(compiled: Compiled) -> Hypotheses:
    """The hypotheses of one compiled edition, made once."""
    n = len(compiled.causes)
    a, b = _pairs(compiled)
    first = np.concatenate([[n], np.arange(n), [n], a]).astype(np.int64)
    second = np.concatenate([np.full(n + 2, n), b]).astype(np.int64)
    seen_first = _unless_hidden(compiled, first, second)
    seen_second = _unless_hidden(compiled, second, first)
    prior = _prior(compiled, a, b)
    listed = np.where(np.arange(len(prior)) == n + 1, 0.0, prior)
    listed /= max(float(listed.sum()), LEAST)
    shown = {
        node: _shown(shows, listed, seen_first, seen_second, something_else=n + 1)
        for node, shows in compiled.shows.items()
    }
    return Hypotheses(compiled=compiled, first=first, second=second, prior=prior, shown=shown)


def _pairs(compiled: Compiled) -> tuple[Ints, Ints]:
    faults = ~compiled.normal
    can_be = (compiled.reach > 0.0) & faults[:, None] & faults[None, :]
    if compiled.shares.two_causes <= 0.0:
        can_be = np.zeros_like(can_be)
    a, b = np.nonzero(np.triu(can_be, k=1))
    return a.astype(np.int64), b.astype(np.int64)


def _unless_hidden(compiled: Compiled, cause: Ints, other: Ints) -> Ints:
    """A cause that its companion hides shows nothing: it counts as nobody in every finding."""
    n = len(compiled.causes)
    hides = np.zeros((n + 1, n + 1), dtype=np.bool_)
    hides[:n, :n] = compiled.hides
    return np.where(hides[other, cause], n, cause).astype(np.int64)


def _shown(shows: Shows, listed: Floats, first: Ints, second: Ints, *, something_else: int) -> Shown:
    at = np.zeros(
        something_else, dtype=np.int64
    )  # place of a cause → row of the table, 0 = does not mention it
    at[shows.causes] = np.arange(1, len(shows.causes) + 1)
    a, b = at[first], at[second]
    told: Bools = (a > 0) | (b > 0)
    told[something_else] = True
    rows = np.flatnonzero(told).astype(np.int64)
    strength = together(shows)[a[rows], b[rows]]
    average = listed[rows] @ strength + (1.0 - listed[rows].sum()) * shows.background
    strength[rows == something_else] = average
    return Shown(shows=shows, rows=rows, strength=strength)


def _prior(compiled: Compiled, a: Ints, b: Ints) -> Floats:
    alone = compiled.weight * np.diag(compiled.reach)
    shares = compiled.shares
    parts = [
        np.zeros(1),
        _shared_out(
            1.0 - shares.nothing_wrong - shares.something_else - shares.two_causes, alone * ~compiled.normal
        )
        + _shared_out(shares.nothing_wrong, alone * compiled.normal),
        np.array([shares.something_else]),
        _shared_out(shares.two_causes, compiled.weight[a] * compiled.weight[b] * compiled.reach[a, b]),
    ]
    prior = np.concatenate(parts)
    listed = prior.copy()
    listed[len(compiled.causes) + 1] = 0.0
    if listed.sum() > 0.0:  # a kind without members leaves its share to the other listed ones
        prior *= (1.0 - shares.something_else) / listed.sum()
        prior[len(compiled.causes) + 1] = shares.something_else
    return np.asarray(prior / prior.sum(), dtype=np.float64)


def _shared_out(share: float, weight: Floats) -> Floats:
    return weight * (share / weight.sum()) if weight.sum() > 0.0 else weight
