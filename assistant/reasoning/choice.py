"""What to do next: ask, try a fix, explain that nothing is wrong, or hand over to a person.

The few best questions and fixes go on a small board, and one step of rollout compares their expected minutes.
"""

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal

import numpy as np

from assistant.reasoning.belief import Belief, heaviest
from assistant.reasoning.board import Board
from assistant.reasoning.costs import CALM, HAND_OVER_MINUTES, Situation
from assistant.reasoning.hypotheses import MENDED
from assistant.reasoning.ranking import Ranked, ranked
from assistant.reasoning.remedies import SOMETHING_ELSE, Remedies, next_fix, remedies_of
from assistant.reasoning.rollout import QUICK, THOROUGH, best_move
from assistant.reasoning.stacked import answers_of, stacked
from kb.compiling import Compiled, Floats, Ints
from kb.ids import CauseId, CheckId, FixId, QuantityId
from kb.schema import WhoFixes

BOARD_ROWS: Final = 100
"""The board holds so many of the heaviest hypotheses."""
BOARD_CHECKS: Final = 10
HOPED_OF: Final = 5
HOPED_SHARE: Final = 0.5
"""So many of the best questions say what later ones may bring: half as much, for they overlap (ours, by simulation)."""
LIKELY: Final = 0.5
PEOPLE: Final[tuple[WhoFixes, ...]] = ("desk", "refrigeration trade", "electrician")
LEAST_WRONG: Final = 1e-9
SMALL_BOARD: Final = 16
"""With so few hypotheses the greedy tree is followed to its end."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AskCheck:
    """Ask this question."""

    check: CheckId
    ranked: tuple[Ranked, ...]
    """All questions that could have been asked, best first by gain; a rollout may have preferred a later one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TryFix:
    """Offer this fix."""

    fix: FixId
    cause: CauseId
    """The likeliest cause that it would cure."""
    probability: float
    """Belief in the class of remedy."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Explain:
    """Nothing is wrong, and this explains it."""

    fix: FixId
    cause: CauseId
    probability: float


@dataclass(frozen=True, slots=True, kw_only=True)
class HandOver:
    """A person takes over."""

    reason: Literal["needs a person", "nothing fits", "costs more than a person", "nothing left"]
    who: WhoFixes
    cause: CauseId | None = None
    fix: FixId | None = None
    """What the person would do, and what the customer can do meanwhile."""


Choice = AskCheck | TryFix | Explain | HandOver


def choose(
    compiled: Compiled,
    belief: Belief,
    askable: Sequence[CheckId],
    fixable: Collection[FixId],
    patience: float = 1.0,
    *,
    situation: Situation = CALM,
    known_quantities: Collection[QuantityId] = (),
) -> Choice:
    """The next move; the same arguments give the same move.

    `patience` from 1 (fresh) to 0 (no more questions) overrides that of `situation`.
    """
    situation = replace(situation, patience=min(patience, situation.patience))
    remedies = remedies_of(compiled, belief, fixable, situation)
    asks = ranked(
        compiled, belief, remedies, askable if situation.patience > 0.0 else (), situation, known_quantities
    )
    if not asks and not any(remedy.fix for remedy in remedies.classes):
        return HandOver(reason="nothing left", who="desk", cause=_likeliest(belief))
    laid = lay_out(belief, remedies, asks)
    if not len(laid.weights):
        return HandOver(reason="nothing left", who="desk", cause=_likeliest(belief))
    move = best_move(laid.board, laid.weights, THOROUGH if len(laid.weights) <= SMALL_BOARD else QUICK)
    if move.check is not None:
        return AskCheck(check=laid.checks[move.check].check, ranked=asks)
    return _act(compiled, belief, remedies, fixable, None if move.fix is None else laid.classes[move.fix])


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Laid:
    """A board as laid out from a belief, and what its places stand for."""

    board: Board
    weights: Floats
    checks: tuple[Ranked, ...]
    classes: tuple[int, ...]
    """The place of each of the board's classes among the remedies."""


def lay_out(belief: Belief, remedies: Remedies, asks: Sequence[Ranked]) -> Laid:
    """The heaviest hypotheses, the most promising checks, and the classes of remedy that are still in play."""
    checks = _shortlist(asks)
    rows = _rows(belief)
    places, class_of = np.unique(remedies.of_row[rows], return_inverse=True)
    classes = [remedies.classes[place] for place in places]
    board = Board(
        class_of=class_of.astype(np.int64),
        answers=answers_of(
            stacked(belief.hypotheses), np.array([one.place for one in checks], dtype=np.int64), rows
        ),
        ask_minutes=np.array([one.minutes for one in checks], dtype=np.float64),
        fix_minutes=np.array([remedy.minutes for remedy in classes], dtype=np.float64),
        works=np.array([remedy.works for remedy in classes], dtype=np.float64),
        hand_over_minutes=HAND_OVER_MINUTES,
        bits_a_minute=_hoped_bits(asks),
    )
    weights = belief.weights[rows] / max(belief.weights[rows].sum(), LEAST_WRONG)
    return Laid(board=board, weights=weights, checks=checks, classes=tuple(int(place) for place in places))


def _hoped_bits(asks: Sequence[Ranked]) -> float:
    """Bits a minute that questions after the next ones may bring."""
    best = [one.score for one in asks[:HOPED_OF]]
    return HOPED_SHARE * sum(best) / HOPED_OF if best else 0.0


def _rows(belief: Belief) -> Ints:
    """Whoever asks what to do next still has a warm room: hypotheses without "mended"."""
    weights = belief.weights.copy()
    weights[MENDED] = 0.0
    rows = heaviest(weights, BOARD_ROWS)
    return rows if weights.sum() > LEAST_WRONG else rows[:0]


def _shortlist(asks: Sequence[Ranked]) -> tuple[Ranked, ...]:
    by_gain = asks[:BOARD_CHECKS]
    by_edges = sorted(asks, key=lambda one: (-one.edges_cut / one.minutes, one.check))[: BOARD_CHECKS // 2]
    return tuple(
        sorted({one.check: one for one in (*by_gain, *by_edges)}.values(), key=lambda one: one.check)
    )


def _act(
    compiled: Compiled, belief: Belief, remedies: Remedies, fixable: Collection[FixId], place: int | None
) -> Choice:
    """The move on the board as a choice; giving up goes to whom the likeliest remedy names, if it is likely."""
    if place is None or remedies.classes[place].name == SOMETHING_ELSE[0]:
        leading = int(np.argmax(remedies.share[: remedies.mended]))
        likely = float(remedies.share[leading]) >= LIKELY and remedies.classes[leading].who in PEOPLE
        if not likely or remedies.classes[leading].name == SOMETHING_ELSE[0]:
            return _give_up(belief)
        place = leading
    remedy, share = remedies.classes[place], float(remedies.share[place])
    cause = _likeliest(belief, among=remedy.causes)
    fix = None if cause is None else next_fix(compiled, compiled.knowledge.causes[cause], fixable)
    if cause is None or fix is None or remedy.who in PEOPLE:
        return HandOver(reason="needs a person", who=remedy.who, cause=cause, fix=fix)
    if remedy.who == "nobody":
        return Explain(fix=fix, cause=cause, probability=share)
    return TryFix(fix=fix, cause=cause, probability=share)


def _give_up(belief: Belief) -> HandOver:
    cause = _likeliest(belief)
    fits = cause is not None and belief.of(cause) > belief.something_else
    return HandOver(reason="costs more than a person" if fits else "nothing fits", who="desk", cause=cause)


def _likeliest(belief: Belief, among: Collection[CauseId] | None = None) -> CauseId | None:
    """The likeliest cause, ties by id; None where there is none."""
    causes = [cause for cause, _ in belief.top(len(belief.causes)) if among is None or cause in among]
    return causes[0] if causes else None
