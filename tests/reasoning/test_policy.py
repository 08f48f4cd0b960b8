"""The policy against the exact optimum by dynamic programming, on bases small enough to solve."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from assistant.reasoning.board import Board, fixes_only_minutes, root
from kb.compiling import Floats
from tests.reasoning import policies

SOME, ALL = 40, 200
FEW_ASK_OR_FIX, ALL_ASK_OR_FIX = 4, 40

POLICIES: dict[str, Callable[[Board, Floats], int]] = {
    "one step of rollout": policies.ask_by_rollout,
    "greedy gain a minute": policies.ask_greedily,
    "cheapest first": policies.ask_cheapest_first,
    "fixed order": policies.ask_in_fixed_order,
}


def ratios(bases: int, classes: int | None) -> dict[str, Floats]:
    """Minutes over the optimum's, base by base: 8 causes, 10 certain checks, no fixes."""
    found: dict[str, list[float]] = {name: [] for name in POLICIES}
    for seed in range(bases):
        board, weights = policies.identify_board(seed, classes=classes)
        optimum = policies.least_minutes_to_identify(board, weights)
        for name, ask in POLICIES.items():
            found[name].append(policies.minutes_to_identify(board, weights, ask) / optimum)
    return {name: np.array(values) for name, values in found.items()}


def check(bases: int, classes: int | None) -> None:
    against = ratios(bases, classes)
    for name, values in against.items():
        p95 = np.quantile(values, 0.95)
        print(f"{name:22} mean {values.mean():.4f}  95th {p95:.4f}  worst {values.max():.4f}")  # noqa: T201 - the figures are asked for
    ours = against["one step of rollout"]
    assert ours.min() >= 1 - 1e-9  # no policy beats the exact optimum
    assert ours.mean() <= 1.02
    assert np.quantile(ours, 0.95) <= 1.10
    assert all(ours.mean() <= values.mean() for values in against.values())


@pytest.mark.parametrize("classes", [None, 3], ids=["find the cause", "find the remedy"])
def test_questions_cost_hardly_more_than_the_optimum(classes: int | None) -> None:
    check(SOME, classes)


@pytest.mark.long
@pytest.mark.parametrize("classes", [None, 3], ids=["find the cause", "find the remedy"])
def test_questions_cost_hardly_more_than_the_optimum_on_two_hundred_bases(classes: int | None) -> None:
    check(ALL, classes)


@pytest.mark.parametrize("name", ["one step of rollout", "greedy gain a minute"])
def test_equal_costs_keep_within_the_published_bound_of_greedy_splitting(name: str) -> None:
    # Dasgupta, Analysis of a greedy active learning strategy (2004): greedy splitting asks at most 4 ln(1/p_min)
    # times the questions of the best tree; stated for the evenest split, and kept by ours on every base here
    for seed in range(SOME):
        board, weights = policies.identify_board(seed, classes=None)
        alike = replace(board, ask_minutes=np.ones_like(board.ask_minutes))
        bound = 4 * np.log(weights.sum() / weights.min())

        taken = policies.minutes_to_identify(alike, weights, POLICIES[name])

        assert taken <= bound * policies.least_minutes_to_identify(alike, weights)


def check_ask_or_fix(bases: int) -> None:
    found, fixes = [], []
    for seed in range(bases):
        board, weights = policies.ask_or_fix_board(seed)
        optimum = policies.least_ask_or_fix_minutes(board, weights)
        found.append(policies.our_ask_or_fix_minutes(board, weights) / optimum)
        fixes.append(float(fixes_only_minutes(board, root(board, weights))[0]) / optimum)
    print(f"ask or fix: mean {np.mean(found):.4f} worst {max(found):.4f}; fixes only {np.mean(fixes):.4f}")  # noqa: T201 - as above
    assert min(found) >= 1 - 1e-9
    assert np.mean(found) <= 1.02
    assert np.mean(found) < np.mean(fixes)


def test_asking_and_fixing_cost_hardly_more_than_the_optimum() -> None:
    check_ask_or_fix(FEW_ASK_OR_FIX)


@pytest.mark.long
def test_asking_and_fixing_cost_hardly_more_than_the_optimum_on_forty_bases() -> None:
    check_ask_or_fix(ALL_ASK_OR_FIX)


def test_the_dynamic_program_agrees_with_the_published_small_case() -> None:
    # C7 of the reference cases, exact over all interleavings: 15.0 without questions, 13.5 asking first at effort 1
    yes = np.array([[0.95, 0.10, 0.30]])
    board = Board(
        class_of=np.arange(3),
        answers=np.stack([yes, 1 - yes], axis=2),
        ask_minutes=np.ones(1),
        fix_minutes=np.array([10.0, 4.0, 20.0]),
        works=np.ones(3),
        hand_over_minutes=1e6,
    )

    assert policies.least_ask_or_fix_minutes(board, np.array([0.5, 0.3, 0.2])) == pytest.approx(
        13.5, abs=1e-9
    )
