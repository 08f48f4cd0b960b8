"""Policies measured against the exact optimum, on boards small enough to be solved exactly."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

import numpy as np

from assistant.reasoning.board import Board, fixes_only_minutes, greedy_check, root
from assistant.reasoning.rollout import THOROUGH, best_move
from kb.compiling import Floats

WRONG_MINUTES = 1_000.0
"""On boards without fixes a guess costs so much that the class is always found first."""


def identify_board(
    seed: int, *, causes: int = 8, checks: int = 10, classes: int | None = None
) -> tuple[Board, Floats]:
    """Certain yes-or-no checks with efforts of 1 to 5 minutes; every two classes are told apart by some check."""
    chance = np.random.default_rng(seed)
    of_class = np.arange(causes) % (classes or causes)
    while True:
        yes = chance.integers(0, 2, size=(checks, causes))
        alike = (yes[:, :, None] == yes[:, None, :]).all(axis=0)
        if (of_class[:, None] == of_class[None, :])[alike].all():
            break
    return (
        Board(
            of_class=np.eye(int(of_class.max()) + 1)[of_class],
            answers=np.stack([yes, 1 - yes], axis=2).astype(np.float64),
            ask_minutes=chance.integers(1, 6, size=checks).astype(np.float64),
            fix_minutes=np.full(int(of_class.max()) + 1, WRONG_MINUTES),
            works=np.ones(int(of_class.max()) + 1),
            hand_over_minutes=1e6,
        ),
        chance.dirichlet(np.ones(causes)),
    )


Ask = Callable[[Board, Floats], int]
"""Which check a policy asks at a belief."""


def ask_by_rollout(board: Board, weights: Floats) -> int:
    move = best_move(board, weights, THOROUGH)
    assert move.check is not None
    return move.check


def ask_greedily(board: Board, weights: Floats) -> int:
    return int(greedy_check(board, root(board, weights))[0])


def _splits(board: Board, weights: Floats) -> Floats:
    answers = np.einsum("kha,h->ka", board.answers, weights)
    return (answers > 1e-12).sum(axis=1) > 1


def ask_cheapest_first(board: Board, weights: Floats) -> int:
    return int(np.argmin(np.where(_splits(board, weights), board.ask_minutes, np.inf)))


def ask_in_fixed_order(board: Board, weights: Floats) -> int:
    return int(np.argmax(_splits(board, weights)))


def minutes_to_identify(board: Board, weights: Floats, ask: Ask) -> float:
    """Expected minutes of questions until only one class is left; certain answers."""

    @cache
    def cost(live: tuple[int, ...]) -> float:
        if _one_class(board, live):
            return 0.0
        masked = np.zeros(len(weights))
        masked[list(live)] = weights[list(live)]
        return _after(board, weights, live, ask(board, masked / masked.sum()), cost)

    return cost(tuple(range(len(weights))))


def least_minutes_to_identify(board: Board, weights: Floats) -> float:
    """The exact optimum, by dynamic programming over sets of live causes."""

    @cache
    def cost(live: tuple[int, ...]) -> float:
        if _one_class(board, live):
            return 0.0
        asks = [k for k in range(len(board.ask_minutes)) if len({board.answers[k, h, 0] for h in live}) > 1]
        return min(_after(board, weights, live, k, cost) for k in asks)

    return cost(tuple(range(len(weights))))


def _one_class(board: Board, live: tuple[int, ...]) -> bool:
    return len({int(board.of_class[h].argmax()) for h in live}) == 1


def _after(
    board: Board, weights: Floats, live: tuple[int, ...], k: int, cost: Callable[[tuple[int, ...]], float]
) -> float:
    total = float(board.ask_minutes[k])
    mass = weights[list(live)].sum()
    for answer in range(board.answers.shape[2]):
        rest = tuple(h for h in live if board.answers[k, h, answer] > 0.5)
        if rest:
            total += float(weights[list(rest)].sum() / mass) * cost(rest)
    return total


def ask_or_fix_board(seed: int, *, causes: int = 6, checks: int = 7) -> tuple[Board, Floats]:
    """Unreliable yes-or-no checks, certain fixes of different price, each cause with its own."""
    chance = np.random.default_rng(seed)
    yes = chance.uniform(0.05, 0.95, size=(checks, causes))
    return (
        Board(
            of_class=np.eye(causes),
            answers=np.stack([yes, 1 - yes], axis=2),
            ask_minutes=chance.uniform(0.5, 3.0, size=checks),
            fix_minutes=chance.uniform(3.0, 30.0, size=causes),
            works=np.ones(causes),
            hand_over_minutes=1e6,
        ),
        chance.dirichlet(np.ones(causes)),
    )


@dataclass(frozen=True, slots=True)
class State:
    """Where an ask-or-fix case stands: the answer to each check (−1: not asked), and which fixes failed."""

    answers: tuple[int, ...]
    failed: tuple[bool, ...]


class AskOrFix:
    """Exact expected minutes on an ask-or-fix board: of the optimum, and of our policy."""

    def __init__(self, board: Board, weights: Floats) -> None:
        self.board, self.weights = board, weights
        self.optimum = cache(self._optimum)
        self.ours = cache(self._ours)
        self.start = State((-1,) * len(board.ask_minutes), (False,) * len(board.fix_minutes))

    def belief(self, state: State) -> Floats:
        """Unnormalised."""
        weights = self.weights * ~np.array(state.failed)
        for k, answer in enumerate(state.answers):
            if answer >= 0:
                weights = weights * self.board.answers[k, :, answer]
        return weights

    def asked(self, state: State, k: int, follow: Callable[[State], float]) -> float:
        now = self.belief(state).sum()
        total = float(self.board.ask_minutes[k])
        for answer in (0, 1):
            after = State((*state.answers[:k], answer, *state.answers[k + 1 :]), state.failed)
            total += float(self.belief(after).sum() / now) * follow(after)
        return total

    def fixed(self, state: State, r: int, follow: Callable[[State], float]) -> float:
        after = State(state.answers, (*state.failed[:r], True, *state.failed[r + 1 :]))
        left = self.belief(after).sum() / self.belief(state).sum()
        return float(self.board.fix_minutes[r]) + (float(left) * follow(after) if left > 1e-15 else 0.0)

    def _optimum(self, state: State) -> float:
        asks = [self.asked(state, k, self.optimum) for k, a in enumerate(state.answers) if a < 0]
        fixes = [self.fixed(state, r, self.optimum) for r, failed in enumerate(state.failed) if not failed]
        return min(asks + fixes)

    def _ours(self, state: State) -> float:
        open_checks = [k for k, a in enumerate(state.answers) if a < 0]
        board = Board(
            of_class=self.board.of_class,
            answers=self.board.answers[open_checks],
            ask_minutes=self.board.ask_minutes[open_checks],
            fix_minutes=self.board.fix_minutes,
            works=self.board.works * ~np.array(state.failed),
            hand_over_minutes=self.board.hand_over_minutes,
        )
        belief = self.belief(state)
        move = best_move(board, belief / belief.sum(), THOROUGH)
        if move.check is not None:
            return self.asked(state, open_checks[move.check], self.ours)
        assert move.fix is not None
        return self.fixed(state, move.fix, self.ours)

    def fixes_only(self) -> float:
        return float(fixes_only_minutes(self.board, root(self.board, self.weights))[0])
