"""What closed cases say about the words that authors wrote: proposals with counts and intervals; nothing changes itself.

    θ | written     ~ Dirichlet(α),  α = 5 · P(s | cause)             a word is as good as five cases
    θ | a case      ~ Dirichlet(α + 1 at the state seen)              where a person confirmed the cause
    θ | a doubt     ~ Σ_k π_k Dirichlet(α + e_k), drawn together again into one Dirichlet with its means and its spread
    propose            where the written value leaves the 95 % interval of what is learnt

Spiegelhalter & Lauritzen, "Sequential updating of conditional probabilities on directed graphical structures",
Networks 20 (1990) 579-605. Counting a doubtful case as a fraction would be too sure of it.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from scipy.special import betaincinv, gammaln

from kb.compiling import Compiled, Floats, Ints, finding_node
from kb.ids import CauseId, FindingId, StateId
from kb.likelihood import HOW_STRONGLY
from kb.schema import HowStrongly

WORD_CASES: Final = 5.0
"""A written word weighs as much as so many cases (ours)."""
MIX_CASES: Final = 50.0
"""How common causes are was written down by people who saw many rooms: as much as so many cases (ours)."""
INTERVAL: Final = 0.95
LEAST_CASES: Final = 3.0
"""Fewer cases than this propose nothing, however surprising they are."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ClosedCase:
    """One case whose end is known."""

    causes: tuple[CauseId, ...]
    """What was at work."""
    sure: float
    """1 where a colleague or the trade confirmed it; P(cause) where only the number came right; 0 counts nothing."""
    seen: Mapping[FindingId, Mapping[StateId, float]]
    """P(true state | what was told), for what was learnt before the first fix."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Interval:
    """A proportion as learnt."""

    mean: float
    sd: float
    low: float
    high: float

    def holds(self, value: float) -> bool:
        """The value is one of those that the cases leave credible."""
        return self.low <= value <= self.high


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposal:
    """A value that closed cases speak against; an author decides."""

    cause: CauseId
    finding: FindingId | None
    """None: it is about how common the cause is."""
    state: StateId | None
    written: float
    learnt: Interval
    cases: float
    """How many closed cases bear on it."""
    count: float
    """In how many of them it was so, doubtful ones with their share."""
    word: HowStrongly | None
    """The word nearest to what was learnt; None for how common."""


def interval(yes: float, no: float, share: float = INTERVAL) -> Interval:
    """The equal-tailed interval of Beta(yes, no), which holds `share` of it.

    Gelman et al., "Bayesian Data Analysis", 3rd ed., §2.4: 437 of 980 births from an even start.

    >>> learnt = interval(438, 544)
    >>> [round(value, 3) for value in (learnt.mean, learnt.low, learnt.high)]
    [0.446, 0.415, 0.477]
    """
    total, tail = yes + no, (1.0 - share) / 2.0
    return Interval(
        mean=yes / total,
        sd=float(np.sqrt(yes * no / (total**2 * (total + 1.0)))),
        low=float(betaincinv(yes, no, tail)),
        high=float(betaincinv(yes, no, 1.0 - tail)),
    )


def intervals(alpha: Floats, share: float = INTERVAL) -> tuple[Interval, ...]:
    """The interval of each state of Dirichlet(alpha): each alone is Beta(α_s, Σα − α_s)."""
    total = float(alpha.sum())
    return tuple(interval(float(one), total - float(one), share) for one in alpha)


def log_evidence_nat(alpha: Floats, counts: Floats) -> float:
    """How well what was believed foresaw the cases: log P(these cases, in their order | Dirichlet(alpha)), in nat."""
    ahead = gammaln(alpha + counts).sum() - gammaln((alpha + counts).sum())
    return float(ahead - gammaln(alpha).sum() + gammaln(alpha.sum()))


def learn(alpha: Floats, seen: Floats) -> Floats:
    """(states,) the Dirichlet after one case that showed state s with probability `seen[s]`.

    What `seen` leaves to 1 is the chance that the case says nothing of this row. Sure cases add 1; of a doubtful one the
    mixture is matched by its means and the sum of its variances.

    >>> learn(np.array([2.0, 2.0]), np.array([1.0, 0.0])).round(9).tolist()
    [3.0, 2.0]
    """
    ways = np.append(seen, max(0.0, 1.0 - float(seen.sum())))
    after = alpha + np.eye(len(alpha) + 1, len(alpha))  # (ways, states); the last row learns nothing
    total = after.sum(axis=1, keepdims=True)
    mean = ways @ (after / total)
    square = ways @ (after * (after + 1.0) / (total * (total + 1.0)))
    strength = float((mean * (1.0 - mean)).sum() / (square - mean**2).sum()) - 1.0
    return np.asarray(mean * strength, dtype=np.float64)


def propose(compiled: Compiled, cases: Sequence[ClosedCase]) -> tuple[Proposal, ...]:
    """Everything that the cases speak against, the clearest first: how strongly causes show, and how common they are."""
    counted = [case for case in cases if case.sure > 0.0 and case.causes]
    found = [*_strengths(compiled, counted), *_how_common(compiled, counted)]
    return tuple(sorted(found, key=_clearest_first))


def _clearest_first(one: Proposal) -> tuple[float, CauseId, str, str]:
    away = abs(one.learnt.mean - one.written) / max(one.learnt.sd, 1e-12)
    return (-round(away, 9), one.cause, one.finding or "", one.state or "")


def _strengths(compiled: Compiled, cases: Sequence[ClosedCase]) -> list[Proposal]:
    """Only cases of one cause say how strongly it shows: of two, nobody knows which of them showed."""
    found: list[Proposal] = []
    for finding in compiled.knowledge.findings:
        shows = compiled.shows[finding_node(finding)]
        for row, place in zip(shows.strength, shows.causes, strict=True):
            cause = compiled.causes[int(place)]
            seen = [
                case.sure * _by_state(shows.states, case.seen[finding])
                for case in cases
                if case.causes == (cause,) and finding in case.seen
            ]
            found += _of_row(cause, finding, shows.states, row, seen)
    return found


def _of_row(
    cause: CauseId, finding: FindingId, states: tuple[StateId, ...], row: Floats, seen: Sequence[Floats]
) -> list[Proposal]:
    alpha = WORD_CASES * row
    for one in seen:
        alpha = learn(alpha, one)
    cases = float(sum(one.sum() for one in seen))
    if cases < LEAST_CASES:
        return []
    return [
        Proposal(
            cause=cause,
            finding=finding,
            state=state,
            written=float(row[s]),
            learnt=learnt,
            cases=cases,
            count=float(sum(one[s] for one in seen)),
            word=nearest_word(learnt.mean),
        )
        for s, (state, learnt) in enumerate(zip(states, intervals(alpha), strict=True))
        if not learnt.holds(float(row[s]))
    ]


def _by_state(states: tuple[StateId, ...], told: Mapping[StateId, float]) -> Floats:
    p = np.array([told.get(state, 0.0) for state in states], dtype=np.float64)
    return np.asarray(p / p.sum(), dtype=np.float64)


def _how_common(compiled: Compiled, cases: Sequence[ClosedCase]) -> list[Proposal]:
    written = compiled.weight * np.diag(compiled.reach)
    written = np.asarray(written / written.sum(), dtype=np.float64)
    place = {cause: i for i, cause in enumerate(compiled.causes)}
    alpha, counts, total = MIX_CASES * written, np.zeros(len(written)), 0.0
    for case in cases:
        at: Ints = np.array([place[cause] for cause in case.causes if cause in place], dtype=np.int64)
        if not len(at):
            continue
        seen = np.zeros(len(written))
        seen[at] = case.sure / len(at)
        alpha, counts, total = learn(alpha, seen), counts + seen, total + case.sure
    return [
        Proposal(
            cause=compiled.causes[c],
            finding=None,
            state=None,
            written=float(written[c]),
            learnt=learnt,
            cases=total,
            count=float(counts[c]),
            word=None,
        )
        for c, learnt in enumerate(intervals(alpha))
        if total >= LEAST_CASES and counts[c] >= LEAST_CASES and not learnt.holds(float(written[c]))
    ]


def nearest_word(p: float) -> HowStrongly:
    """The word whose number is nearest; of two equally near the stronger.

    >>> nearest_word(0.5), nearest_word(0.06)
    ('often', 'almost never')
    """
    return min(HOW_STRONGLY, key=lambda word: (round(abs(HOW_STRONGLY[word] - p), 9), -HOW_STRONGLY[word]))
