"""Customers drawn from a small made-up base: the same seed the same figures, and a noiseless reader is no worse."""

import json

import numpy as np
import pytest

from assistant.reasoning.hypotheses import hypotheses_of
from assistant.workbench.simulate import AFTER, Simulation, simulate
from assistant.workbench.simulate_customers import Habits, draw_customer
from assistant.workbench.simulate_readers import READERS
from kb.compiling import compile_
from tests.reasoning.bases import random_knowledge

KNOWLEDGE = random_knowledge(5, causes=8, findings=8, mentions=0.4)


@pytest.fixture(scope="module")
def simulation() -> Simulation:
    return simulate(KNOWLEDGE, customers=30, seed=7)


def test_the_same_seed_gives_the_same_figures() -> None:
    assert (
        simulate(KNOWLEDGE, customers=5, seed=2).to_json()
        == simulate(KNOWLEDGE, customers=5, seed=2).to_json()
    )


def test_every_reader_has_its_curve_and_the_curve_its_questions(simulation: Simulation) -> None:
    assert tuple(simulation.curves) == READERS
    assert all(tuple(curve.right_after) == AFTER for curve in simulation.curves.values())
    assert all(
        0 <= share <= 1 for curve in simulation.curves.values() for share in curve.right_after.values()
    )


def test_reading_without_noise_is_no_worse_than_reading_with_it(simulation: Simulation) -> None:
    assert simulation.curves["without noise"].right_after[10] >= simulation.curves["greedy"].right_after[10]


def test_the_assistant_asks_fewer_questions_than_a_checklist(simulation: Simulation) -> None:
    assert simulation.curves["assistant"].mean_questions < simulation.curves["checklist"].mean_questions


def test_the_result_is_plain_json(simulation: Simulation) -> None:
    plain = json.loads(json.dumps(simulation.to_json()))

    assert plain["customers"] == 30
    assert set(plain["curves"]["assistant"]["right_after"]) == {"3", "5", "7", "10"}


def test_progress_is_told_after_each_customer() -> None:
    told: list[tuple[int, int]] = []

    simulate(KNOWLEDGE, customers=3, seed=1, tell=lambda done, of: told.append((done, of)))

    assert told == [(1, 3), (2, 3), (3, 3)]


def test_no_customers_is_an_error() -> None:
    with pytest.raises(ValueError, match="0 customers"):
        simulate(KNOWLEDGE, customers=0)


def test_people_err_and_do_not_know_as_often_as_their_habits_say() -> None:
    hypotheses, chance = hypotheses_of(compile_(KNOWLEDGE)), np.random.default_rng(1)  # noqa: TID251 - seeded
    habits = Habits(wrong=0.10, dont_know=0.15, two_causes=0.15)
    customers = [draw_customer(hypotheses, chance, habits) for _ in range(600)]
    checks = KNOWLEDGE.checks
    answers = [(c.states[checks[k].finds], answer) for c in customers for k, answer in c.answers.items()]
    silent = [answer is None for _, answer in answers]
    wrong = [answer != true for true, answer in answers if answer is not None]

    assert np.mean(silent) == pytest.approx(0.15, abs=0.02)
    assert np.mean(wrong) == pytest.approx(0.10, abs=0.02)
    assert np.mean([len(c.causes) == 2 for c in customers]) == pytest.approx(0.15, abs=0.05)
    assert np.mean([bool(c.volunteered) for c in customers]) == pytest.approx(1 / 3, abs=0.07)
