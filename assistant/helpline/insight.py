"""What the assistant believes and why, as data for the desk: worked out from the case, never kept."""

from dataclasses import dataclass
from datetime import datetime

from assistant.conversation.case import Case
from assistant.conversation.deciding import askable, evidence_of, fixable, tried_of
from assistant.conversation.turn import Turn
from assistant.reasoning import (
    Belief,
    Conflict,
    EvidenceTable,
    Split,
    conflict,
    evidence_table,
    rank,
    weigh,
    why_question,
)
from kb.compiling import compile_
from kb.knowledge import Knowledge

SHARES_SHOWN = 12
LEAST_SHARE = 0.001
TOLD_APART = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """One way things may stand: causes at work together (none: nothing, or something unlisted) and how likely."""

    causes: tuple[str, ...]
    probability: float


@dataclass(frozen=True, slots=True, kw_only=True)
class NextCheck:
    """A question that could be asked next."""

    check: str
    gain_bits: float
    effort: float
    """Minutes of the grower's time."""
    apart: tuple[Split, ...] = ()
    """The causes that it tells apart, each with the state that would speak for it; of the first few questions only."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Insight:
    """What is believed now, and what asking would tell."""

    beliefs: tuple[Share, ...] = ()
    marginals: tuple[tuple[str, float], ...] = ()
    nothing_wrong: float = 0.0
    something_else: float = 0.0
    next: tuple[NextCheck, ...] = ()
    entropy_bits: float = 0.0
    mended: float = 0.0
    evidence: EvidenceTable | None = None
    """What each thing learnt says for and against the leading causes, in bits."""
    conflict: Conflict | None = None


def insight_into(knowledge: Knowledge, case: Case, at: datetime) -> Insight:
    """Weigh what the case knows, and rank what could be asked."""
    compiled, evidence = compile_(knowledge), evidence_of(knowledge, case)
    belief = weigh(compiled, evidence, tried_of(case))
    turn = Turn(knowledge=knowledge, case=case, at=at)
    can_fix = fixable(turn)
    known = tuple(sorted({number.quantity for number in case.numbers}))
    ranked = rank(compiled, belief, askable(turn), fixable=can_fix, known_quantities=known)
    return Insight(
        beliefs=_shares(belief),
        marginals=tuple((str(cause), share) for cause, share in belief.top(len(belief.causes))),
        nothing_wrong=belief.nothing_wrong,
        something_else=belief.something_else,
        next=tuple(
            NextCheck(
                check=str(one.check),
                gain_bits=one.gain_bits,
                effort=one.minutes,
                apart=why_question(compiled, belief, one.check, fixable=can_fix)
                if place < TOLD_APART
                else (),
            )
            for place, one in enumerate(ranked)
        ),
        entropy_bits=belief.entropy_bits,
        mended=belief.mended,
        evidence=evidence_table(compiled, evidence, belief),
        conflict=conflict(compiled, evidence),
    )


def _shares(belief: Belief) -> tuple[Share, ...]:
    """The likeliest hypotheses, each with its causes; ties within 1e-9 by their row."""
    weights = [float(weight) for weight in belief.weights]
    order = sorted(range(len(weights)), key=lambda row: (-round(weights[row], 9), row))
    return tuple(
        Share(causes=_causes(belief, row), probability=weights[row])
        for row in order[:SHARES_SHOWN]
        if weights[row] >= LEAST_SHARE
    )


def _causes(belief: Belief, row: int) -> tuple[str, ...]:
    hypotheses = belief.hypotheses
    places = (int(hypotheses.first[row]), int(hypotheses.second[row]))
    return tuple(str(belief.causes[place]) for place in places if place != hypotheses.nobody)
