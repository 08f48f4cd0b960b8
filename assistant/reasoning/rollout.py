"""One step of rollout: try each promising move, then go on greedily, and compare the expected minutes.

    Q(ask k)  = minutes_k + Σ_a P(a) V(after a)
    Q(fix r)  = minutes_r + P(it fails) V(after it failed)
    V(node)   = min( fixes only , minutes_k* + Σ_a P(a) V(after a) )     k* = greedy check, down to a depth

Where the tree ends, V is what may be hoped for: `hoped_minutes`. Two greedy trees are followed, one by gain and one by
edges cut, and the better one counts.
Rollout: Bertsekas, Tsitsiklis & Wu, "Rollout algorithms for combinatorial optimization" (J. Heuristics 3, 1997).
Gain² / cost: Tan & Schlimmer, "Two case studies in cost-sensitive concept acquisition" (AAAI 1990; from memory).
"""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from assistant.reasoning.board import (
    NOTHING,
    Board,
    Guide,
    Nodes,
    after_answer,
    after_failure,
    by_class,
    by_guide,
    fixes_only_minutes,
    hoped_minutes,
    least_minutes,
    root,
    together,
    worth,
)
from kb.compiling import Floats, Ints

FEW_CHECKS: Final = 3
FEW_FIXES: Final = 2
GUIDES: Final[tuple[Guide, ...]] = ("gain", "edges")
NO_WORSE: Final = 1e-9
"""Relative: moves within this are a tie, and the first in order is taken."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Depth:
    """How far the greedy tree is followed."""

    questions: int
    least_share: float
    """Beliefs come to more rarely than this are judged by their fixes alone."""
    few_checks: int = FEW_CHECKS
    few_fixes: int = FEW_FIXES
    near_share: float = 0.0
    """Checks within this share of the best minutes count as equal; nought where the tree is followed to its end."""

    def one_less(self) -> "Depth":
        """The same, one question further down."""
        return replace(self, questions=self.questions - 1)


QUICK: Final = Depth(questions=2, least_share=0.02, near_share=0.005)
THOROUGH: Final = Depth(questions=20, least_share=0.0, few_checks=6, few_fixes=4)


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """A move and the minutes that it costs in expectation, all that follows included."""

    check: int | None = None
    fix: int | None = None
    """The place of a class; both None: hand over."""
    minutes: float


def best_move(board: Board, weights: Floats, depth: Depth = QUICK) -> Move:
    """The move with the least expected minutes; ties go to the first in order: fixes, checks, a person.

    Checks that a short look ahead cannot tell apart (`near_share`) go by gain² / minutes: more telling ones leave fewer
    messages to come, but nobody is sent to take a cover off for a little more.
    """
    options = moves(board, weights, depth)
    best = min(options, key=lambda move: round_for_ties(move.minutes))
    near = [
        m.check
        for m in options
        if m.check is not None and m.minutes <= best.minutes * (1.0 + depth.near_share)
    ]
    if best.check is None or len(near) == 1 or depth.near_share <= 0.0:
        return best
    gain, _ = worth(board, root(board, weights))
    first = max(near, key=lambda k: (round_for_ties(float(gain[0, k] ** 2 / board.ask_minutes[k])), -k))
    return next(move for move in options if move.check == first)


def round_for_ties(minutes: float) -> float:
    """Minutes such that values within about 1e-9 relative compare equal."""
    return float(f"{minutes:.9g}")


def moves(board: Board, weights: Floats, depth: Depth = QUICK) -> tuple[Move, ...]:
    """All promising moves with their expected minutes: fixes first, then checks, then handing over."""
    start, total = root(board, weights), float(weights.sum())
    fixes = promising_fixes(board, start, depth.few_fixes)
    checks = promising_checks(board, start, depth.few_checks)
    futures = [after_failure(board, start, r) for r in fixes]
    futures += [after_answer(board, start, np.array([k], dtype=np.int64)) for k in checks]
    then = _sums(board, futures, depth)  # all futures are weighed at once
    tried = [Move(fix=r, minutes=float(board.fix_minutes[r]) * total + then[i]) for i, r in enumerate(fixes)]
    asked = [
        Move(check=k, minutes=float(board.ask_minutes[k]) * total + then[len(fixes) + i])
        for i, k in enumerate(checks)
    ]
    return (*tried, *asked, Move(minutes=board.hand_over_minutes * total))


def promising_checks(board: Board, start: Nodes, few: int) -> tuple[int, ...]:
    """The best few by gain a minute and by edges cut a minute, together, in order of place."""
    if not len(board.ask_minutes):
        return ()
    gain, cut = worth(board, start)
    tells = cut[0] > NOTHING
    chosen: set[int] = set()
    for score in (gain[0] / board.ask_minutes, cut[0] / board.ask_minutes):
        best = np.argsort(-np.where(tells, score, -1.0), kind="stable")[:few]
        chosen |= {int(k) for k in best if tells[k]}
    return tuple(sorted(chosen))


def promising_fixes(board: Board, start: Nodes, few: int) -> tuple[int, ...]:
    """The best few by p·works/minutes, in order of place."""
    score = by_class(board, start.weights)[0] * board.works / board.fix_minutes
    best = np.argsort(-score, kind="stable")[:few]
    return tuple(sorted(int(r) for r in best if score[r] > 0.0))


def ahead_minutes(board: Board, nodes: Nodes, depth: Depth, guides: tuple[Guide, ...] = GUIDES) -> Floats:
    """(nodes,) V: the greedy tree of each guide, left for the fixes wherever that is cheaper."""
    if depth.questions <= 0 or not len(board.ask_minutes):
        return hoped_minutes(board, nodes)
    share = nodes.weights.sum(axis=1)
    best = np.where(share > depth.least_share, fixes_only_minutes(board, nodes), hoped_minutes(board, nodes))
    improvable = best > least_minutes(board, nodes) * (1.0 + NO_WORSE)
    live = np.flatnonzero((share > depth.least_share) & improvable).astype(np.int64)
    if not len(live):
        return best
    asking = nodes.at(live)
    gain, cut = worth(board, asking)
    gain, cut = np.where(asking.asked, 0.0, gain), np.where(asking.asked, 0.0, cut)
    for guide in guides:
        check = by_guide(board, gain, cut, guide)
        tells = np.flatnonzero(check >= 0).astype(np.int64)
        go = _asked(board, asking.at(tells), check[tells], depth, guide)
        best[live[tells]] = np.minimum(best[live[tells]], go)
    return best


def _asked(board: Board, nodes: Nodes, check: Ints, depth: Depth, guide: Guide) -> Floats:
    """(nodes,) minutes_k + Σ_a P(a) V(after a)."""
    after = ahead_minutes(board, after_answer(board, nodes, check), depth.one_less(), (guide,))
    by_answer = after.reshape(len(check), board.answers.shape[2])
    return np.asarray(
        nodes.weights.sum(axis=1) * board.ask_minutes[check] + by_answer.sum(axis=1), dtype=np.float64
    )


def _sums(board: Board, futures: list[Nodes], depth: Depth) -> list[float]:
    """V of each future, summed over its nodes."""
    if not futures:
        return []
    value = ahead_minutes(board, together(futures), depth.one_less())
    ends = np.cumsum([len(future.weights) for future in futures])
    return [float(part.sum()) for part in np.split(value, ends[:-1])]
