"""Policies measured against the exact optimum, on boards small enough to be solved exactly."""

import itertools
from collections.abc import Callable
from functools import cache

import numpy as np

from assistant.reasoning.board import Board, greedy_check, root
from assistant.reasoning.rollout import THOROUGH, best_move
from kb.compiling import Bools, Floats

WRONG_MINUTES = 10_000.0
"""On boards without fixes a guess costs so much that the class is always found first."""
RAREST = 0.0025
"""No cause is so rare that leaving it out would be cheaper than a question."""


def identify_board(
    seed: int, *, causes: int = 8, checks: int = 10, classes: int | None = None
) -> tuple[Board, Floats]:
    """Certain yes-or-no checks with efforts of 1 to 5 minutes; every two classes are told apart by some check."""
    chance = np.random.default_rng(seed)  # noqa: TID251 - seeded: the same base each time
    of_class = np.arange(causes) % (classes or causes)
    while True:
        yes = chance.integers(0, 2, size=(checks, causes))
        alike = (yes[:, :, None] == yes[:, None, :]).all(axis=0)
        if (of_class[:, None] == of_class[None, :])[alike].all():
            break
    return (
        Board(
            class_of=of_class,
            answers=np.stack([yes, 1 - yes], axis=2).astype(np.float64),
            ask_minutes=chance.integers(1, 6, size=checks).astype(np.float64),
            fix_minutes=np.full(int(of_class.max()) + 1, WRONG_MINUTES),
            works=np.ones(int(of_class.max()) + 1),
            hand_over_minutes=1e6,
        ),
        RAREST + (1 - RAREST * causes) * chance.dirichlet(np.ones(causes)),
    )


Ask = Callable[[Board, Floats], int]
"""Which check a policy asks at a belief."""


def ask_by_rollout(board: Board, weights: Floats) -> int:
    move = best_move(board, weights, THOROUGH)
    assert move.check is not None
    return move.check


def ask_greedily(board: Board, weights: Floats) -> int:
    return int(greedy_check(board, root(board, weights))[0])


def _splits(board: Board, weights: Floats) -> Bools:
    answers = np.einsum("kha,h->ka", board.answers, weights)
    return np.asarray((answers > 1e-12).sum(axis=1) > 1)


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
    return len({int(board.class_of[h]) for h in live}) == 1


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
    chance = np.random.default_rng(seed)  # noqa: TID251 - seeded: the same base each time
    yes = chance.uniform(0.05, 0.95, size=(checks, causes))
    return (
        Board(
            class_of=np.arange(causes),
            answers=np.stack([yes, 1 - yes], axis=2),
            ask_minutes=chance.uniform(0.5, 3.0, size=checks),
            fix_minutes=chance.uniform(3.0, 30.0, size=causes),
            works=np.ones(causes),
            hand_over_minutes=1e6,
        ),
        chance.dirichlet(np.ones(causes)),
    )


def least_ask_or_fix_minutes(board: Board, weights: Floats) -> float:
    """The exact optimum over all interleavings of yes-or-no checks and certain fixes, by dynamic programming.

    A state is the answer to each check (0, 1, or 2 for not asked) and the set of fixes that failed.
    """
    checks, causes = len(board.ask_minutes), len(board.fix_minutes)
    states = np.array(list(itertools.product((0, 1, 2), repeat=checks)))
    place = 3 ** np.arange(checks - 1, -1, -1)
    told = np.ones((len(states), causes))
    for k in range(checks):
        told *= np.stack([board.answers[k, :, 0], board.answers[k, :, 1], np.ones(causes)])[states[:, k]]
    sets = np.array(list(itertools.product((0, 1), repeat=causes)))  # 1: failed
    mass = (told * weights) @ (1 - sets).T  # (states, sets)
    spent = np.zeros_like(mass)  # expected minutes times the probability of coming here
    for failed in np.argsort(-sets.sum(axis=1), kind="stable"):
        for asked in range(checks, -1, -1):
            here = np.flatnonzero((states < 2).sum(axis=1) == asked)
            options = [
                board.fix_minutes[r] * mass[here, failed] + spent[here, failed + 2 ** (causes - 1 - r)]
                for r in range(causes)
                if not sets[failed, r]
            ]
            for k in range(checks):
                open_ = states[here, k] == 2
                yes, no = here - 2 * place[k], here - place[k]
                ask = board.ask_minutes[k] * mass[here, failed] + spent[yes, failed] + spent[no, failed]
                options.append(np.where(open_, ask, np.inf))
            if sets[failed].all():
                continue
            spent[here, failed] = np.min(options, axis=0)
    return float(spent[-1, 0])


def our_ask_or_fix_minutes(board: Board, weights: Floats) -> float:
    """Expected minutes when every move is chosen by one step of rollout."""
    checks = len(board.ask_minutes)

    @cache
    def spent(answers: tuple[int, ...], failed: tuple[bool, ...]) -> float:
        """Times the probability of coming here."""
        here = weights * ~np.array(failed)
        for k, answer in enumerate(answers):
            here = here * (board.answers[k, :, answer] if answer < 2 else 1.0)
        if here.sum() < 1e-15:
            return 0.0
        still = [k for k in range(checks) if answers[k] == 2]
        left = Board(
            class_of=board.class_of,
            answers=board.answers[still],
            ask_minutes=board.ask_minutes[still],
            fix_minutes=board.fix_minutes,
            works=board.works * ~np.array(failed),
            hand_over_minutes=board.hand_over_minutes,
        )
        move = best_move(left, here / here.sum(), THOROUGH)
        if move.check is not None:
            k = still[move.check]
            after = [spent((*answers[:k], a, *answers[k + 1 :]), failed) for a in (0, 1)]
            return float(board.ask_minutes[k] * here.sum()) + sum(after)
        assert move.fix is not None
        r = move.fix
        return float(board.fix_minutes[r] * here.sum()) + spent(
            answers, (*failed[:r], True, *failed[r + 1 :])
        )

    return spent((2,) * checks, (False,) * len(board.fix_minutes))
