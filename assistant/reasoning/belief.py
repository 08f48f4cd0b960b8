"""Belief: what is still wrong now, after all that was said and every fix that was tried.

    w_h ∝ P(h) · Π_items of epoch 0 P(item | h)
    then for each fix done:  h → h less the causes that it cured, with P(works | cause); its result as soft evidence
    and the items of the next epoch, on what is left

This forward pass sums over all ways in which the hidden "did it work" of each fix can have gone.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from assistant.reasoning.evidence import Evidence, FixTried
from assistant.reasoning.hypotheses import MENDED, Hypotheses, hypotheses_of
from assistant.reasoning.items import Item, items_of
from kb.compiling import Compiled, Floats, Ints
from kb.ids import CauseId, FixId
from kb.likelihood import HOW_STRONGLY

HEAVY_SHARE: Final = 0.999
"""Gains on remedies use the heaviest hypotheses, which hold at least this share of belief."""
LEAST_DOUBT: Final = 0.02
"""No number seen after a fix proves that it worked, or that it did not."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Belief:
    """Probabilities of what is at work now, over all hypotheses and by cause."""

    hypotheses: Hypotheses
    items: tuple[Item, ...]
    tried: tuple[FixTried, ...]
    weights: Floats
    """(hypotheses,) sums to 1."""
    probability: Floats
    """(causes,) P(cause is at work now), alone or beside another; in the order of `causes`."""
    nothing_wrong: float
    """All kinds of nothing wrong together."""
    something_else: float
    mended: float
    """P(nothing at work any more): what was wrong has been cured."""
    entropy_bits: float
    log2_evidence: float
    """log2 P(e) up to the scale of each item's likelihood."""
    heavy: Ints
    """The heaviest hypotheses, chosen as a set, in order of row."""
    dropped: float
    """The belief outside `heavy`: no gain can be wrong by more than this share of what is left to learn."""

    @property
    def causes(self) -> tuple[CauseId, ...]:
        """All causes, in order."""
        return self.hypotheses.compiled.causes

    def of(self, cause: CauseId) -> float:
        """P(this cause is at work now)."""
        return float(self.probability[self.causes.index(cause)])

    def top(self, n: int) -> tuple[tuple[CauseId, float], ...]:
        """The `n` likeliest causes with their probabilities; ties within 1e-9 by id."""
        order = sorted(
            range(len(self.causes)), key=lambda c: (-round(float(self.probability[c]), 9), self.causes[c])
        )
        return tuple((self.causes[c], float(self.probability[c])) for c in order[:n])


def weigh(compiled: Compiled, evidence: Sequence[Evidence], tried: Sequence[FixTried] = ()) -> Belief:
    """What is believed now; the order of `evidence` never matters.

    Fails with `KeyError` on a finding that the edition lacks, with `ValueError` on a state that its finding lacks.
    """
    return weigh_on(hypotheses_of(compiled), evidence, tried)


def weigh_on(hypotheses: Hypotheses, evidence: Sequence[Evidence], tried: Sequence[FixTried] = ()) -> Belief:
    """As `weigh`, over hypotheses that are already made."""
    items = items_of(hypotheses, evidence)
    done = tuple(sorted(tried, key=lambda fix: (fix.epoch, fix.fix)))
    weights, log2_evidence = _forward(hypotheses, items, done)
    return _belief(hypotheses, items, done, weights, log2_evidence)


def cure(compiled: Compiled, fix: FixId) -> Floats:
    """(causes,) P(the fix cures the cause); nought where the cause does not list it, and for an explanation."""
    node = compiled.knowledge.fixes.get(fix)
    cures = np.zeros(len(compiled.causes))
    if node is None or node.who == "nobody":
        return cures
    for place, cause in enumerate(compiled.knowledge.causes.values()):
        if fix in cause.fixes:
            cures[place] = HOW_STRONGLY[node.works_for.get(cause.cause, node.works)]
    return cures


def _forward(
    hypotheses: Hypotheses, items: Sequence[Item], tried: Sequence[FixTried]
) -> tuple[Floats, float]:
    weights, log2_evidence = hypotheses.prior, 0.0
    epochs = sorted({item.epoch for item in items} | {fix.epoch for fix in tried})
    for epoch in epochs:
        for item in items:
            if item.epoch == epoch:
                weights, log2_evidence = _times(weights, item.likelihood, log2_evidence)
        for fix in tried:
            if fix.epoch == epoch:
                stayed, came = cured(hypotheses, weights, cure(hypotheses.compiled, fix.fix))
                weights, log2_evidence = _times(
                    stayed * _result(hypotheses, fix, moved=False)
                    + came * _result(hypotheses, fix, moved=True),
                    np.ones(len(hypotheses)),
                    log2_evidence,
                )
    return weights, log2_evidence


def _times(weights: Floats, likelihood: Floats, log2_evidence: float) -> tuple[Floats, float]:
    product = weights * likelihood
    total = product.sum()  # renormalised each time: three hundred findings do not underflow
    return product / total, log2_evidence + float(np.log2(total))


def cured(hypotheses: Hypotheses, weights: Floats, cures: Floats) -> tuple[Floats, Floats]:
    """(hypotheses,) belief after a fix, as what stayed as it was and what a cure made of others.

    Each hypothesis passes its share on to itself less what was cured.
    """
    cures = np.append(cures, 0.0)  # nobody cannot be cured
    a, b = hypotheses.first, hypotheses.second
    q_a, q_b = cures[a], cures[b]
    pairs = slice(hypotheses.nobody + 2, None)
    stayed = weights * (1.0 - q_a) * (1.0 - q_b)
    lost_a, lost_b = weights * q_a * (1.0 - q_b), weights * (1.0 - q_a) * q_b
    n = len(hypotheses)
    came = np.bincount(b[pairs] + 1, weights=lost_a[pairs], minlength=n)  # a cured: b alone is left
    came += np.bincount(a[pairs] + 1, weights=lost_b[pairs], minlength=n)
    came[MENDED] += (weights * q_a * q_b)[pairs].sum() + lost_a[: hypotheses.nobody + 2].sum()
    return np.asarray(stayed, dtype=np.float64), np.asarray(came, dtype=np.float64)


def _result(hypotheses: Hypotheses, fix: FixTried, *, moved: bool) -> Floats:
    """(hypotheses,) P(what was seen after the fix | h), up to scale: nothing left to mend makes the room recover.

    Where something is left, rooms in which something was cured (`moved`) may have moved, the others not.
    """
    if fix.worked is None:
        return np.ones(len(hypotheses))
    worked = min(max(fix.worked, LEAST_DOUBT), 1.0 - LEAST_DOUBT)
    seen = 0.5 if fix.moved is None else min(max(fix.moved, LEAST_DOUBT), 1.0 - LEAST_DOUBT)
    result = np.full(len(hypotheses), (1.0 - worked) * 2.0 * (seen if moved else 1.0 - seen))
    normal = np.flatnonzero(hypotheses.compiled.normal)
    result[[MENDED, *(hypotheses.alone(int(place)) for place in normal)]] = worked
    return result


def _belief(
    hypotheses: Hypotheses,
    items: tuple[Item, ...],
    tried: tuple[FixTried, ...],
    weights: Floats,
    log2_evidence: float,
) -> Belief:
    n = hypotheses.nobody
    by_cause: Floats = np.bincount(hypotheses.first, weights=weights, minlength=n + 1).astype(np.float64)
    by_cause += np.bincount(hypotheses.second, weights=weights, minlength=n + 1)
    live = weights[weights > 0.0]
    heavy = heavy_rows(weights, HEAVY_SHARE)
    return Belief(
        hypotheses=hypotheses,
        items=items,
        tried=tried,
        weights=weights,
        probability=by_cause[:n],
        nothing_wrong=float(weights[1 : n + 1][hypotheses.compiled.normal].sum()),
        something_else=float(weights[hypotheses.something_else]),
        mended=float(weights[MENDED]),
        entropy_bits=float(-(live * np.log2(live)).sum()),
        log2_evidence=log2_evidence,
        heavy=heavy,
        dropped=float(max(0.0, 1.0 - weights[heavy].sum())),
    )


def heavy_rows(weights: Floats, share: float) -> Ints:
    """Rows that together hold at least `share` of all weight: all but those too light to make up the rest together.

    Chosen as a set: no row depends on the order of others, and equals stay or go together.

    >>> heavy_rows(np.array([0.02, 0.60, 0.38]), 0.90).tolist()     # the rest is 0.10 in all, 0.033 a row
    [1, 2]
    """
    lightest = (1.0 - share) * weights.sum() / len(weights)
    return np.flatnonzero(weights > lightest).astype(np.int64)


def heaviest(weights: Floats, most: int) -> Ints:
    """The heaviest rows, no more than `most`, in order of row; of equals the first ones.

    >>> heaviest(np.array([0.1, 0.3, 0.3, 0.3]), 2).tolist()
    [1, 2]
    """
    if len(weights) <= most:
        return np.flatnonzero(weights > 0.0).astype(np.int64)
    least = np.partition(weights, -most)[-most]
    above = np.flatnonzero(weights > least)
    equal = np.flatnonzero((weights == least) & (weights > 0.0))
    return np.sort(np.concatenate([above, equal[: most - len(above)]])).astype(np.int64)
