"""Which remedies are taken for which, on a small made-up base, and which check would tell two causes apart."""

import pytest

from assistant.workbench.simulate import Simulation, simulate
from assistant.workbench.simulate_confusions import most_telling
from kb.compiling import compile_
from kb.ids import CauseId
from kb.likelihood import HOW_RIGHT
from tests.reasoning.bases import a_cause, a_check, a_finding, knowledge_of, random_knowledge


@pytest.fixture(scope="module")
def simulation() -> Simulation:
    return simulate(random_knowledge(5, causes=8, findings=8, mentions=0.4), customers=40, seed=7)


def test_every_customer_who_was_not_helped_is_counted_once(simulation: Simulation) -> None:
    wrong = 1.0 - simulation.curves["assistant"].right_at_the_end

    assert sum(one.count for one in simulation.confusions) == round(wrong * simulation.customers)
    assert [one.count for one in simulation.confusions] == sorted(
        (one.count for one in simulation.confusions), reverse=True
    )


def test_a_remedy_is_never_taken_for_itself(simulation: Simulation) -> None:
    assert all(one.right != one.named for one in simulation.confusions)


def test_the_most_telling_check_gives_what_a_binary_symmetric_channel_gives() -> None:
    # Two causes that always show opposite states, seen through a check that is right nine times in ten: 1 - H(.1) =
    # .531004 bit (binary symmetric channel, error .1); the other check shows nothing of either.
    findings = [a_finding(name, {"no": 0.5, "yes": 0.5}, normal="no") for name in ("ice", "door")]
    sure, never = 1 - 1e-9, 1e-9
    causes = [
        a_cause("a", {"ice": {"yes": sure, "no": never}}),
        a_cause("b", {"ice": {"yes": never, "no": sure}}),
    ]
    checks = [a_check("ice", people_are_right="usually"), a_check("door")]
    assert HOW_RIGHT["usually"] == pytest.approx(0.9)

    check, bits = most_telling(
        compile_(knowledge_of(findings=findings, causes=causes, checks=checks)), CauseId("a"), CauseId("b")
    )

    assert check == "look_at_ice"
    assert bits == pytest.approx(0.531004, abs=1e-6)


def test_every_confusion_shows_a_conversation_that_ended_in_it(simulation: Simulation) -> None:
    for one in simulation.confusions:
        first, *turns, last = one.example
        assert first.startswith("tells: ")
        assert one.true in last
        assert all(": " in turn for turn in turns)


def test_causes_are_counted_once_a_customer_and_the_worst_stand_first(simulation: Simulation) -> None:
    shares = [one.right / one.customers for one in simulation.by_cause]

    assert sum(one.customers for one in simulation.by_cause) <= simulation.customers
    assert shares == sorted(shares)


def test_the_curve_begins_before_the_first_question_and_agrees_with_itself(simulation: Simulation) -> None:
    for curve in simulation.curves.values():
        assert len(curve.by_question) == 11
        assert all(curve.by_question[n] == share for n, share in curve.right_after.items())
