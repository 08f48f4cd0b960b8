"""Why this question, why this belief: data only, the words are found elsewhere.

for or against, in bits     log2 P(e_i | cause alone) / P(e_i)          they add up: Σ + conf(e) = log2 P(c | e) / P(c)
what a question tells apart  the two causes of different remedy with the largest p_1 p_2 · JS(answers of 1, answers of 2)
"""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Final

import numpy as np

from assistant.reasoning.belief import Belief, weigh
from assistant.reasoning.conflict import conflict_bits
from assistant.reasoning.evidence import Evidence, channel
from assistant.reasoning.gains import entropy_bits
from assistant.reasoning.remedies import remedies_of
from kb.compiling import Compiled, Floats, Node, finding_node
from kb.ids import CauseId, CheckId, FixId, StateId

LEADING: Final = 12
"""Causes that a reason may name."""
SPLITS: Final = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Split:
    """A cause that the question tells from others, with the state that speaks most for it."""

    cause: CauseId
    state: StateId
    probability: float
    """Belief in the cause now."""


@dataclass(frozen=True, slots=True, kw_only=True)
class EvidenceRow:
    """What one thing learnt says for (+) and against (−) each leading cause."""

    about: Node
    state: StateId
    """The likeliest true state, as told."""
    epoch: int
    bits: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class EvidenceTable:
    """For a colleague: the leading causes side by side."""

    causes: tuple[CauseId, ...]
    prior_bits: tuple[float, ...]
    """log2 of each cause's share before anything was said."""
    rows: tuple[EvidenceRow, ...]
    conflict_bits: float
    """Common to all columns: how much less likely the answers are together than one by one."""
    belief: tuple[float, ...]
    """P(cause is at work now)."""


def why_question(
    compiled: Compiled, belief: Belief, check: CheckId, *, fixable: Collection[FixId] | None = None
) -> tuple[Split, ...]:
    """The two or three causes that the question tells apart, the likeliest first; empty where it tells none apart."""
    finding = compiled.knowledge.checks[check].finds
    shows = compiled.shows[finding_node(finding)]
    through = channel(len(shows.states), compiled.knowledge.checks[check].people_are_right)
    row = {int(place): i for i, place in enumerate(shows.causes)}
    top = [(cause, p) for cause, p in belief.top(LEADING) if p > 0.0]
    told = {cause: shows.strength[row[at]] if (at := belief.causes.index(cause)) in row else shows.background
            for cause, _ in top}  # fmt: skip
    apart = _apart(compiled, belief, top, {c: s @ through for c, s in told.items()}, fixable)
    if not apart:
        return ()
    best = max(apart, key=lambda pair: apart[pair])
    named = list(best)
    third = {pair: worth for pair, worth in apart.items() if len(set(pair) & set(named)) == 1}
    state_of = {cause: _speaks_for(told[cause], shows.background) for cause, _ in top}
    for pair in sorted(third, key=lambda pair: (-third[pair], pair)):
        new = next(cause for cause in pair if cause not in named)
        if state_of[new] not in {state_of[cause] for cause in named}:
            named.append(new)
            break
    chances = dict(top)
    splits = [Split(cause=c, state=shows.states[state_of[c]], probability=chances[c]) for c in named[:SPLITS]]
    return tuple(sorted(splits, key=lambda split: (-round(split.probability, 9), split.cause)))


def _apart(
    compiled: Compiled,
    belief: Belief,
    top: Sequence[tuple[CauseId, float]],
    answers: dict[CauseId, Floats],
    fixable: Collection[FixId] | None,
) -> dict[tuple[CauseId, CauseId], float]:
    """How far each two leading causes of different remedy are told apart; pairs in a fixed order."""
    remedies = remedies_of(compiled, belief, compiled.knowledge.fixes if fixable is None else fixable)
    of_cause = {
        cause: int(remedies.of_row[belief.hypotheses.alone(i)]) for i, cause in enumerate(belief.causes)
    }
    chances = np.array([p for _, p in top])
    bits = _js_bits(np.array([answers[cause] for cause, _ in top]).reshape(len(top), -1))
    worth = chances[:, None] * chances[None, :] * bits  # (causes, causes)
    return {
        (a, b): float(worth[i, j])
        for (i, (a, _)), (j, (b, _)) in combinations(enumerate(top), 2)
        if of_cause[a] != of_cause[b] and worth[i, j] > 1e-12  # noqa: PLR2004
    }


def _js_bits(told: Floats) -> Floats:
    """(causes, causes) Jensen-Shannon divergence: the information of one answer between two equally likely causes."""
    own = entropy_bits(told)
    return np.asarray(
        entropy_bits((told[:, None, :] + told[None, :, :]) / 2) - (own[:, None] + own[None, :]) / 2
    )


def _speaks_for(told: Floats, usual: Floats) -> int:
    """The state that a cause shows most beyond the background; its likeliest state where it shows nothing of its own."""
    beyond = told * np.log2(told / usual)
    return int(np.argmax(beyond if beyond.max() > 1e-9 else told))  # noqa: PLR2004


def evidence_table(
    compiled: Compiled, evidence: Sequence[Evidence], belief: Belief | None = None, *, columns: int = 5
) -> EvidenceTable:
    """Evidence for and against each of the leading causes, in bits."""
    belief = weigh(compiled, evidence) if belief is None else belief
    causes = tuple(cause for cause, _ in belief.top(columns))
    hypotheses = belief.hypotheses
    alone = [hypotheses.alone(belief.causes.index(cause)) for cause in causes]
    rows = []
    for item in belief.items:
        average = hypotheses.prior @ item.likelihood
        states = hypotheses.shown[item.about].shows.states
        rows.append(
            EvidenceRow(
                about=item.about,
                state=states[int(np.argmax(item.by_state))],
                epoch=item.epoch,
                bits=tuple(float(bits) for bits in np.log2(item.likelihood[alone] / average)),
            )
        )
    return EvidenceTable(
        causes=causes,
        prior_bits=tuple(float(bits) for bits in np.log2(hypotheses.prior[alone])),
        rows=tuple(rows),
        conflict_bits=conflict_bits(compiled, evidence),
        belief=tuple(belief.of(cause) for cause in causes),
    )
