"""What the assistant believes and why, as data for the desk: worked out from the case, never kept."""

from dataclasses import dataclass
from datetime import datetime

from assistant.conversation.case import Case
from assistant.conversation.deciding import askable, evidence_of, fixable, tried_of
from assistant.conversation.turn import Turn
from assistant.reasoning import Belief, rank, weigh
from kb.compiling import compile_
from kb.knowledge import Knowledge

SHARES_SHOWN = 12
LEAST_SHARE = 0.001


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Insight:
    """What is believed now, and what asking would tell."""

    beliefs: tuple[Share, ...] = ()
    marginals: tuple[tuple[str, float], ...] = ()
    nothing_wrong: float = 0.0
    something_else: float = 0.0
    next: tuple[NextCheck, ...] = ()
    entropy_bits: float = 0.0


def insight_into(knowledge: Knowledge, case: Case, at: datetime) -> Insight:
    """Weigh what the case knows, and rank what could be asked."""
    compiled = compile_(knowledge)
    belief = weigh(compiled, evidence_of(knowledge, case), tried_of(case))
    turn = Turn(knowledge=knowledge, case=case, at=at)
    known = tuple(sorted({number.quantity for number in case.numbers}))
    ranked = rank(compiled, belief, askable(turn), fixable=fixable(turn), known_quantities=known)
    return Insight(
        beliefs=_shares(belief),
        marginals=tuple((str(cause), share) for cause, share in belief.top(len(belief.causes))),
        nothing_wrong=belief.nothing_wrong,
        something_else=belief.something_else,
        next=tuple(NextCheck(check=str(r.check), gain_bits=r.gain_bits, effort=r.minutes) for r in ranked),
        entropy_bits=belief.entropy_bits,
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
