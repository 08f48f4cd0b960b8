"""The decision as a small board: a belief, the questions, the fixes, and what each costs.

Nodes are beliefs that carry the probability of coming to them, so expected minutes simply add up. Several nodes are
weighed at once; the leading axis is always theirs.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from assistant.reasoning.gains import LEAST, edges_cut, entropy_bits, gain_on_classes_bits
from kb.compiling import Bools, Floats, Ints

TINY_SHARE: Final = 0.02
"""A best gain under this share of what is left to learn tells nothing: edges cut decide."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Board:
    """What can be asked and tried. Rows of `answers` are the board's hypotheses."""

    class_of: Ints
    """(hypotheses,) the place of each one's class; every class has at least one hypothesis."""
    answers: Floats
    """(checks, hypotheses, answers) P(a | h), through the check's reliability; unused answers are 0."""
    ask_minutes: Floats
    """(checks,)"""
    fix_minutes: Floats
    """(classes,)"""
    works: Floats
    """(classes,) P(the fix works | the class is right)."""
    hand_over_minutes: float
    """What a person costs, who always solves it."""
    bits_a_minute: float = 0.0
    """What questions beyond the horizon may be hoped to bring; nought: nothing is hoped for."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Nodes:
    """Beliefs, each with what has been asked and tried on the way."""

    weights: Floats
    """(nodes, hypotheses) each row sums to the probability of coming here."""
    asked: Bools
    """(nodes, checks)"""
    closed: Bools
    """(nodes, classes) whose fix was tried and failed."""

    def at(self, places: Ints) -> "Nodes":
        """Some of the nodes."""
        return Nodes(weights=self.weights[places], asked=self.asked[places], closed=self.closed[places])


NOTHING: Final = 1e-12
"""Edges below this are rounding."""


def root(board: Board, weights: Floats) -> Nodes:
    """The one node where nothing has been asked or tried."""
    checks, classes = len(board.ask_minutes), len(board.fix_minutes)
    return Nodes(
        weights=weights[None, :],
        asked=np.zeros((1, checks), dtype=np.bool_),
        closed=np.zeros((1, classes), dtype=np.bool_),
    )


def by_class(board: Board, of_hypotheses: Floats) -> Floats:
    """(nodes, classes, …) sums over the hypotheses of each class, along the second axis.

    Measured: five times faster than a product with 0s and 1s, and it starts no threads for so little work.
    """
    order = np.argsort(board.class_of, kind="stable")
    in_order = board.class_of[order]
    starts = np.flatnonzero(np.diff(in_order, prepend=-1))
    return np.asarray(np.add.reduceat(of_hypotheses[:, order], starts, axis=1), dtype=np.float64)


def together(parts: Sequence[Nodes]) -> Nodes:
    """All nodes of several parts."""
    return Nodes(
        weights=np.concatenate([part.weights for part in parts]),
        asked=np.concatenate([part.asked for part in parts]),
        closed=np.concatenate([part.closed for part in parts]),
    )


def fixes_only_minutes(board: Board, nodes: Nodes) -> Floats:
    """(nodes,) expected minutes without another question: fixes in the order of p·works/minutes, then a person.

    Simon & Kadane, "Optimal problem-solving search" (1975): that order is the best for fixes that exclude each other.
    """
    share = by_class(board, nodes.weights)
    solved = share * board.works * ~nodes.closed
    order = np.argsort(-solved / board.fix_minutes, axis=1, kind="stable")
    solved = np.take_along_axis(solved, order, axis=1)
    total = share.sum(axis=1)[:, None]
    left = np.maximum(total - np.cumsum(solved, axis=1), 0.0)  # after each fix
    before = np.concatenate([total, left], axis=1)
    spent = np.cumsum(before[:, :-1] * board.fix_minutes[order], axis=1)
    stops = np.concatenate([np.zeros_like(total), spent], axis=1) + before * board.hand_over_minutes
    return np.asarray(stops.min(axis=1), dtype=np.float64)  # handing over may come after any of them


def least_minutes(board: Board, nodes: Nodes) -> Floats:
    """(nodes,) a bound: nobody does better than the right remedy at once."""
    share = by_class(board, nodes.weights)
    at_once = np.where(
        nodes.closed, board.hand_over_minutes, np.minimum(board.fix_minutes, board.hand_over_minutes)
    )
    return np.asarray((share * at_once).sum(axis=1), dtype=np.float64)


def hoped_minutes(board: Board, nodes: Nodes) -> Floats:
    """(nodes,) what a belief costs beyond the horizon: the fixes alone, or H(class) asked away first if that is cheaper.

    min( fixes only , the right remedy, and a person where it fails + H(class) / bits a minute )
    """
    alone = fixes_only_minutes(board, nodes)
    if board.bits_a_minute <= 0.0:
        return alone
    share = by_class(board, nodes.weights)
    total = share.sum(axis=1)
    bits = total * entropy_bits(share / np.maximum(total, LEAST)[:, None])
    right = np.minimum(
        board.fix_minutes + (1.0 - board.works) * board.hand_over_minutes, board.hand_over_minutes
    )
    right = np.where(nodes.closed, board.hand_over_minutes, right)
    hoped = (share * right).sum(axis=1) + bits / board.bits_a_minute
    return np.asarray(np.minimum(alone, hoped), dtype=np.float64)


def joint(board: Board, nodes: Nodes) -> Floats:
    """(nodes, checks, answers, classes) P(answer, class) at each node, unnormalised like the nodes."""
    checks, hypotheses, answers = board.answers.shape
    flat = board.answers.transpose(1, 0, 2).reshape(hypotheses, checks * answers)
    both = by_class(board, nodes.weights[:, :, None] * flat)
    by_check = both.reshape(len(nodes.weights), -1, checks, answers).transpose(0, 2, 3, 1)
    return np.ascontiguousarray(by_check)


def worth(board: Board, nodes: Nodes) -> tuple[Floats, Floats]:
    """(nodes, checks) the gain on classes in bits, and the edges cut, of every check at every node."""
    total = nodes.weights.sum(axis=1)
    both = joint(board, nodes) / np.maximum(total, LEAST)[:, None, None, None]
    of_checks = both.reshape(-1, *both.shape[2:])
    shape = both.shape[:2]
    return gain_on_classes_bits(of_checks).reshape(shape), edges_cut(of_checks).reshape(shape)


Guide = Literal["gain", "edges"]
"""What a greedy tree goes by: bits on the class of remedy, or edges cut between classes; neither is safe alone."""


def greedy_check(board: Board, nodes: Nodes, guide: Guide = "gain") -> Ints:
    """(nodes,) the check with the most gain (or edges cut) a minute; −1 where none can tell anything."""
    gain, cut = worth(board, nodes)
    return by_guide(board, np.where(nodes.asked, 0.0, gain), np.where(nodes.asked, 0.0, cut), guide)


def by_guide(board: Board, gain: Floats, cut: Floats, guide: Guide) -> Ints:
    """(nodes,) the check that a guide asks; where no gain tells, edges cut decide."""
    by_gain = (gain.max(axis=1, initial=0.0) > TINY_SHARE) & (guide == "gain")
    score = np.where(by_gain[:, None], gain, cut) / board.ask_minutes
    best = first_of_ties(score)
    return np.where(cut.max(axis=1, initial=0.0) > NOTHING, best, -1).astype(np.int64)


def first_of_ties(score: Floats) -> Ints:
    """(nodes,) the first place whose score is within 1e-9 relative of the best.

    >>> first_of_ties(np.array([[1.0, 2.0, 2.0 + 1e-12]])).tolist()
    [1]
    """
    best = score.max(axis=1, keepdims=True)
    at = np.argmax(score >= best - 1e-9 * np.abs(best), axis=1)
    return np.asarray(at, dtype=np.int64)


def after_answer(board: Board, nodes: Nodes, check: Ints) -> Nodes:
    """(nodes · answers) what each answer to each node's check leads to."""
    heard = board.answers[check]  # (nodes, hypotheses, answers)
    weights = (nodes.weights[:, :, None] * heard).transpose(0, 2, 1)
    answers = heard.shape[2]
    asked = nodes.asked.copy()
    asked[np.arange(len(check)), check] = True
    return Nodes(
        weights=weights.reshape(-1, nodes.weights.shape[1]),
        asked=np.repeat(asked, answers, axis=0),
        closed=np.repeat(nodes.closed, answers, axis=0),
    )


def after_failure(board: Board, nodes: Nodes, which: int) -> Nodes:
    """What is left where the fix of one class was tried and did not help."""
    failed = 1.0 - board.works[which] * (board.class_of == which)
    closed = nodes.closed.copy()
    closed[:, which] = True
    return Nodes(weights=nodes.weights * failed, asked=nodes.asked, closed=closed)
