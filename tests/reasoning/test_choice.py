"""What to do next: published sequencing problems (reference cases C1-C8), and the rules of our own."""

import itertools
from collections.abc import Sequence

import numpy as np
import pytest

from assistant.reasoning.board import Board, Nodes, after_answer, fixes_only_minutes, root
from assistant.reasoning.rollout import THOROUGH, Move, best_move, moves
from kb.compiling import Floats
from tests.reasoning.policies import (
    ask_by_rollout,
    ask_greedily,
    least_minutes_to_identify,
    minutes_to_identify,
)

PERSON = 1e6


def board_of(
    fixes: Sequence[float],
    *,
    works: Sequence[float] | None = None,
    of_class: Sequence[int] | None = None,
    yes: Sequence[Sequence[float]] = (),
    minutes: Sequence[float] = (),
    person: float = PERSON,
) -> Board:
    """Yes-or-no questions: `yes[k][h]` = P(yes to k | h)."""
    places = list(range(len(fixes))) if of_class is None else list(of_class)
    answers = np.array(yes, dtype=np.float64).reshape(len(yes), len(places))
    return Board(
        class_of=np.array(places),
        answers=np.stack([answers, 1 - answers], axis=2),
        ask_minutes=np.array(minutes, dtype=np.float64),
        fix_minutes=np.array(fixes, dtype=np.float64),
        works=np.ones(len(fixes)) if works is None else np.array(works, dtype=np.float64),
        hand_over_minutes=person,
    )


def fixes_only(board: Board, p: Sequence[float]) -> float:
    return float(fixes_only_minutes(board, root(board, np.array(p)))[0])


def best(board: Board, p: Sequence[float]) -> Move:
    return best_move(board, np.array(p, dtype=np.float64), THOROUGH)


def by_brute_force(p: Sequence[float], cost: Sequence[float]) -> float:
    orders = itertools.permutations(range(len(p)))
    return min(
        sum(cost[r] * (1 - sum(p[q] for q in order[:i])) for i, r in enumerate(order)) for order in orders
    )


def test_fixes_are_tried_in_the_order_of_probability_over_cost() -> None:
    # C1; Simon & Kadane, Artif. Intell. 6 (1975): p (.4 .3 .2 .1), c (20 6 2 5): optimum 17.3, by p alone 24.7
    p, cost = (0.4, 0.3, 0.2, 0.1), (20.0, 6.0, 2.0, 5.0)

    assert fixes_only(board_of(cost), p) == pytest.approx(17.3, abs=1e-9)
    assert by_brute_force(p, cost) == pytest.approx(17.3, abs=1e-9)


def test_the_published_troubleshooting_exercise_comes_out_in_its_order_and_at_its_cost() -> None:
    # C2; Jensen & Nielsen, Bayesian Networks and Decision Graphs (2007), exercise on example 9.2: program .80, virus .15,
    # hardware .05; reboot 1, virus tool 2 (cures .95 of viruses), reformat 25 (.99 of what is left of them), new machine
    # 500. Best in that order, 27.875; without reformatting 30.15; a new machine at once 500 (all orders computed).
    # A class here is what only its own fix still cures, the new machine is the person who always solves it.
    p = (0.80, 0.15 * 0.95, 0.15 * 0.05 * 0.99, 0.05 + 0.15 * 0.05 * 0.01)
    board = board_of((1.0, 2.0, 25.0, 500.0), person=500.0)
    order: list[int | None] = []
    left = np.array(p)
    while left.sum() > 1e-12 and None not in order and 3 not in order:
        order.append(best(board, left.tolist()).fix)
        left = np.where(np.arange(4) == order[-1], 0.0, left)

    assert order[:3] == [0, 1, 2]
    assert fixes_only(board, p) == pytest.approx(27.875, abs=1e-9)
    assert fixes_only(board_of((1.0, 2.0, 500.0), person=500.0), (p[0], p[1], p[2] + p[3])) == pytest.approx(
        30.15
    )
    assert moves(board, np.array(p))[-1].minutes == pytest.approx(500.0)  # a new machine at once


def test_two_fixes_that_share_the_work_beat_the_one_that_does_it_all() -> None:
    # C3 (i), computed: causes (.25 .35 .20 .20); one fix for all costs 7 and has the best p/c; b, c for 4 and then a, d
    # for 4 cost 5.8. The fix for all stands where a person stands.
    board = board_of((4.0, 4.0), of_class=(0, 1, 1, 0), person=7.0)

    assert best(board, (0.25, 0.35, 0.20, 0.20)).fix == 1
    assert best(board, (0.25, 0.35, 0.20, 0.20)).minutes == pytest.approx(5.8, abs=1e-9)


def test_parts_are_looked_at_before_they_are_repaired_but_the_last_one_is_not() -> None:
    # C3 (ii), computed after Heckerman, Breese & Rommelse, CACM 38(3) (1995): p (.5 .3 .2), looking (5 2 4), repairs
    # (50 10 20): 36.8 in order 2, 3, 1, the last one repaired unseen; order by p over the price of looking gives 37.5
    board = board_of((50.0, 10.0, 20.0), yes=np.eye(3).tolist(), minutes=(5.0, 2.0, 4.0))
    first = best(board, (0.5, 0.3, 0.2))

    assert first.check == 1
    assert first.minutes == pytest.approx(36.8, abs=1e-9)
    assert best(board, (0.5, 0.0, 0.2)).check == 2
    assert best(board, (0.5, 0.0, 0.0)).fix == 0


def test_asking_pays_exactly_below_its_worth() -> None:
    # C7, exact over all interleavings: causes (.5 .3 .2), fixes (10 4 20), p(yes) (.95 .10 .30): ask first iff effort < 2.5
    def first(effort: float) -> Move:
        return best(board_of((10, 4, 20), yes=[(0.95, 0.10, 0.30)], minutes=[effort]), (0.5, 0.3, 0.2))

    assert fixes_only(board_of((10, 4, 20)), (0.5, 0.3, 0.2)) == pytest.approx(15.0, abs=1e-9)
    assert (first(2.499).check, first(2.501).check) == (0, None)
    assert first(1.0).minutes == pytest.approx(13.5, abs=1e-9)
    assert first(3.0).minutes == pytest.approx(15.0, abs=1e-9)


def test_a_cheap_fix_is_the_better_question() -> None:
    # C7: fix B at cost 1, effort 1: fix B first, then ask = 11.80; at effort .5 ask first = 11.425
    p = (0.5, 0.3, 0.2)
    dear = best(board_of((10, 1, 20), yes=[(0.95, 0.10, 0.30)], minutes=[1.0]), p)
    cheap = best(board_of((10, 1, 20), yes=[(0.95, 0.10, 0.30)], minutes=[0.5]), p)

    assert (dear.fix, cheap.check) == (1, 0)
    assert (dear.minutes, cheap.minutes) == pytest.approx((11.80, 11.425), abs=1e-9)


def test_the_worth_of_the_seismic_test_is_that_of_the_oil_wildcatter() -> None:
    # C4; Raiffa 1968: dry .5, wet .3, soaking .2; p(none, open, closed | state); expected value of the test 12.5 before
    # its price of 10. Losses against drilling rightly: drill when dry 70, not when wet 50, when soaking 200.
    p = np.array([0.5, 0.3, 0.2])
    told = np.array([[0.6, 0.3, 0.1], [0.3, 0.4, 0.3], [0.1, 0.4, 0.5]])
    loss_of = np.array([[70.0, 0.0, 0.0], [0.0, 50.0, 200.0]])  # (drill, leave) by state
    start = Nodes(
        weights=p[None, :], asked=np.zeros((1, 1), dtype=np.bool_), closed=np.zeros((1, 3), dtype=np.bool_)
    )
    board = Board(
        class_of=np.arange(3),
        answers=told[None],
        ask_minutes=np.ones(1),
        fix_minutes=np.ones(3),
        works=np.ones(3),
        hand_over_minutes=PERSON,
    )

    after = after_answer(board, start, np.array([0]))

    assert after.weights.sum(axis=1) == pytest.approx([0.41, 0.35, 0.24])
    untold, once_told = (loss_of @ p).min(), (after.weights @ loss_of.T).min(axis=1).sum()
    assert untold - once_told == pytest.approx(12.5, abs=1e-9)
    assert untold == pytest.approx(35.0, abs=1e-9)  # the value of perfect information


def identify(tests: Sequence[str], efforts: Sequence[float], of_class: Sequence[int]) -> Board:
    yes = [[float(answer) for answer in test] for test in tests]
    return board_of([1000.0] * (max(of_class) + 1), of_class=of_class, yes=yes, minutes=efforts)


def test_one_step_of_rollout_mends_what_greedy_gain_per_effort_gets_wrong() -> None:
    # C5, by dynamic programming: greedy 7.25, optimum 5.70
    board = identify(["00101", "01001", "00000", "01110"], [1, 3, 3, 5], range(5))
    p = np.array([0.60, 0.05, 0.20, 0.05, 0.10])

    assert minutes_to_identify(board, p, ask_greedily) == pytest.approx(7.25, abs=1e-9)
    assert least_minutes_to_identify(board, p) == pytest.approx(5.70, abs=1e-9)
    assert minutes_to_identify(board, p, ask_by_rollout) == pytest.approx(5.70, abs=1e-9)


def test_two_questions_are_asked_though_neither_alone_tells_anything() -> None:
    # C6, exact: four equally likely (u, v), remedy by u = v, 5 each, questions 1 each: none 7.5, both 7.0
    board = board_of((5, 5), of_class=(0, 1, 1, 0), yes=[(0, 0, 1, 1), (0, 1, 0, 1)], minutes=(1, 1))

    assert fixes_only(board, [0.25] * 4) == pytest.approx(7.5, abs=1e-9)
    assert best(board, [0.25] * 4).check == 0  # a tie between two alike goes to the first
    assert best(board, [0.25] * 4).minutes == pytest.approx(7.0, abs=1e-9)


@pytest.mark.parametrize(
    ("p", "remedy", "tests", "optimum"),
    [
        # C8, by dynamic programming: gain on causes asks 2.9 questions in the first, gain on remedies 3.6 in the second
        (
            (0.15, 0.10, 0.10, 0.30, 0.15, 0.20),
            (1, 0, 1, 1, 1, 0),
            ("110111", "000011", "100000", "101110"),
            1.0,
        ),
        (
            (0.30, 0.10, 0.20, 0.15, 0.05, 0.20),
            (1, 1, 1, 0, 1, 0),
            ("101111", "111101", "011100", "011001"),
            2.0,
        ),
    ],
)
def test_only_what_decides_between_remedies_is_asked(
    p: Sequence[float], remedy: Sequence[int], tests: Sequence[str], optimum: float
) -> None:
    board, weights = identify(tests, [1] * 4, remedy), np.array(p)

    assert least_minutes_to_identify(board, weights) == pytest.approx(optimum, abs=1e-9)
    assert minutes_to_identify(board, weights, ask_by_rollout) == pytest.approx(optimum, abs=1e-9)


def test_a_person_takes_over_when_going_on_costs_more() -> None:
    board = board_of((100.0, 100.0, 100.0), person=120.0)

    move = best(board, [1 / 3] * 3)

    assert (move.check, move.fix) == (None, None)
    assert move.minutes == pytest.approx(120.0)


def test_equal_moves_go_to_the_first_in_order() -> None:
    board = board_of((10.0, 10.0), yes=[(0.5, 0.5)], minutes=[1.0])

    assert [move.fix for move in moves(board, np.array([0.5, 0.5])) if move.fix is not None] == [0, 1]
    assert best(board, [0.5, 0.5]).fix == 0


def test_weights_of_nodes_are_shared_out_by_the_answers() -> None:
    board = board_of((1, 1), yes=[(0.9, 0.2)], minutes=[1])
    weights: Floats = np.array([0.6, 0.4])

    after = after_answer(board, root(board, weights), np.array([0]))

    assert after.weights == pytest.approx(np.array([[0.54, 0.08], [0.06, 0.32]]))
