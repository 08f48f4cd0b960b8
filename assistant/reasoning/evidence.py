"""From what was said to likelihoods: λ over the true states of one finding.

    λ(answer) = p(answer | words) / base(answer)          a doubtful reading is virtual evidence (Pearl 1988)
    P(words | s) = Σ_answer P(answer | s) λ(answer)       through the check's reliability
    P(a1, a2 | s) = P(a1 | s) · (ρ [a2 = a1] + (1 − ρ) P(a2 | s))     the same check again copies with ρ = .5

`base` is even over the states: the reading gives its posterior as if all options were equally likely.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from kb.compiling import COMPLAINED, NOT_MENTIONED, Compiled, Floats, Node, Shows, finding_node, symptom_node
from kb.ids import CheckId, FindingId, FixId, StateId, SymptomId
from kb.likelihood import HOW_RIGHT
from kb.schema import HowStrongly

VOLUNTEERED: Final[HowStrongly] = "usually"
"""How far something is trusted that came through no check."""
COPIES: Final = 0.5
"""ρ: with this probability the same question gets the same answer only because it was given before."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Evidence:
    """One thing learnt; "don't know" is no evidence.

    `likelihood` is p(state | words), a posterior of the reading or of a sum: any positive scale, missing states nought.
    """

    about: Node
    """`finding:filter` or `symptom:too_warm`; `found` and `complained` write it."""
    likelihood: Mapping[StateId, float]
    check: CheckId | None = None
    """The check through which it came, for its reliability; None: volunteered, believed as `VOLUNTEERED`."""
    computed: bool = False
    """From a sum with its interval: no channel of words on top."""
    at_minutes: float = 0.0
    """Time within the case."""
    epoch: int = 0
    """Fixes and big changes before it."""
    repeat: bool = False
    """The same thing told again by the same person; a check that is asked twice is one without saying so."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FixTried:
    """A fix that was done. What was learnt in a later epoch than `epoch` was learnt after it."""

    fix: FixId
    epoch: int
    worked: float | None = None
    """p(data | worked) / (p(data | worked) + p(data | not)); .5 says nothing; None: nothing seen yet."""
    moved: float | None = None
    """The same of a cure beside which something else is still at work, against no cure at all: a room that fell and
    stopped short of its target tells of the first. None: nothing seen of that."""


def found(
    finding: FindingId,
    likelihood: Mapping[StateId, float],
    *,
    check: CheckId | None = None,
    computed: bool = False,
    at_minutes: float = 0.0,
    epoch: int = 0,
    repeat: bool = False,
) -> Evidence:
    """Evidence about a finding.

    >>> found(FindingId("filter"), {StateId("clogged"): 1.0}).about
    'finding:filter'
    """
    return Evidence(
        about=finding_node(finding),
        likelihood=likelihood,
        check=check,
        computed=computed,
        at_minutes=at_minutes,
        epoch=epoch,
        repeat=repeat,
    )


def complained(symptom: SymptomId, confidence: float = 1.0, *, epoch: int = 0) -> Evidence:
    """Evidence of a complaint, read with `confidence`; that nobody complained is never evidence.

    >>> complained(SymptomId("too_warm"), 0.75).likelihood
    {'complained': 0.75, 'not_mentioned': 0.25}
    """
    read = {COMPLAINED: confidence, NOT_MENTIONED: 1.0 - confidence}
    return Evidence(about=symptom_node(symptom), likelihood=read, computed=True, epoch=epoch)


def channel(states: int, people_are_right: HowStrongly) -> Floats:
    """(states, answers) P(answer | true state): right as often as the word says, wrong answers alike.

    >>> channel(3, "nearly always").round(2).tolist()
    [[0.97, 0.02, 0.02], [0.02, 0.97, 0.02], [0.02, 0.02, 0.97]]
    """
    if states == 1:
        return np.ones((1, 1))
    right = HOW_RIGHT[people_are_right]
    wrong = (1.0 - right) / (states - 1)
    return np.full((states, states), wrong) + (right - wrong) * np.eye(states)


def channel_of(compiled: Compiled, evidence: Evidence, states: int) -> Floats:
    """(states, answers) the channel through which these words came."""
    check = None if evidence.check is None else compiled.knowledge.checks.get(evidence.check)
    return channel(states, VOLUNTEERED if check is None else check.people_are_right)


def read_lambda(shows: Shows, evidence: Evidence) -> Floats:
    """(answers,) λ = p(answer | words) / base, base even; only ratios count, so the largest is 1."""
    unknown = sorted(set(evidence.likelihood) - set(shows.states))
    if unknown:
        raise ValueError(f"evidence about `{evidence.about}` names states it lacks: {', '.join(unknown)}")
    read = np.array([evidence.likelihood.get(state, 0.0) for state in shows.states], dtype=np.float64)
    if not read.max() > 0.0:
        raise ValueError(f"evidence about `{evidence.about}` gives no state any weight")
    return np.asarray(read / read.max(), dtype=np.float64)


def by_state(compiled: Compiled, shows: Shows, evidence: Sequence[Evidence]) -> Floats:
    """(states,) P(everything learnt of one finding at one time | true state), up to scale.

    Different ways to learn it are independent, the same way again is not; a sum done again replaces the one before.
    """
    told = np.ones(len(shows.states))
    sums = sorted((e for e in evidence if e.computed), key=_in_time)
    if sums:
        told *= read_lambda(shows, sums[-1])
    words = sorted((e for e in evidence if not e.computed), key=_in_time)
    for way in _ways(words):
        told *= chained(
            [read_lambda(shows, e) for e in way], [channel_of(compiled, e, len(shows.states)) for e in way]
        )
    return np.asarray(told / told.max(), dtype=np.float64)


def chained(answers: Sequence[Floats], channels: Sequence[Floats], copies: float = COPIES) -> Floats:
    """(states,) P(a1, a2, … | s): each answer copies the one before with probability `copies`, else is given afresh.

    `answers` are λ over the answers, `channels` are P(answer | state). One answer alone: its channel @ λ.
    """
    ahead = np.ones_like(channels[0])  # (state, answer) P(all later answers | state, this answer)
    for heard, through in zip(answers[:0:-1], channels[:0:-1], strict=True):
        later = heard * ahead
        ahead = copies * later + (1.0 - copies) * (through * later).sum(axis=1, keepdims=True)
    return np.asarray((channels[0] * answers[0] * ahead).sum(axis=1), dtype=np.float64)


def _ways(words: Sequence[Evidence]) -> list[list[Evidence]]:
    """Words that hang together: those through one check; all of them once something is marked as told again."""
    ways: dict[CheckId | None, list[Evidence]] = {}
    again = any(e.repeat for e in words)
    for e in words:
        ways.setdefault(None if again else e.check, []).append(e)
    return list(ways.values())


def _in_time(evidence: Evidence) -> tuple[float, str, tuple[tuple[StateId, float], ...]]:
    return (evidence.at_minutes, evidence.check or "", tuple(sorted(evidence.likelihood.items())))
