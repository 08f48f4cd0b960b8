"""Learning from closed cases: reference cases F1-F5, then proposals over a small base."""

import itertools

import numpy as np
import pytest

from assistant.reasoning.learning import (
    WORD_CASES,
    ClosedCase,
    interval,
    intervals,
    learn,
    log_evidence_nat,
    propose,
)
from kb.compiling import Compiled, Floats
from kb.ids import CauseId, FindingId, StateId
from kb.likelihood import HOW_STRONGLY
from tests.reasoning.bases import ALONE, a_cause, a_finding, compiled_of, knowledge_of

SEEN, NOT_SEEN = np.array([1.0, 0.0]), np.array([0.0, 1.0])


def after(alpha: tuple[float, ...], *seen: Floats) -> Floats:
    now = np.array(alpha)
    for one in seen:
        now = learn(now, one)
    return now


def test_births_of_girls_have_the_textbooks_interval() -> None:
    # F1; Gelman et al., Bayesian Data Analysis, 3rd ed., §2.4: 437 of 980, mean .446, sd .016, 95 % (.415, .477); further
    # digits computed
    girls = interval(1 + 437, 1 + 543)

    assert (girls.mean, girls.sd, girls.low, girls.high) == pytest.approx(
        (0.446, 0.016, 0.415, 0.477), abs=5e-4
    )
    assert (girls.low, girls.high) == pytest.approx((0.41506549, 0.47719977), abs=5e-9)


@pytest.mark.parametrize(
    ("yes", "of", "mean"), [(0, 0, 1 / 2), (3, 3, 0.8), (0, 10, 1 / 12), (9, 10, 10 / 12)]
)
def test_an_even_start_gives_laplaces_rule_of_succession(yes: int, of: int, mean: float) -> None:
    # F2; Laplace's rule: one more yes and one more no than were seen
    alpha = after((1.0, 1.0), *[SEEN] * yes, *[NOT_SEEN] * (of - yes))

    assert intervals(alpha)[0].mean == pytest.approx(mean, abs=1e-12)


def test_never_in_ten_cases_still_leaves_a_quarter_possible() -> None:
    # F2: upper end of the one-sided 95 % interval, i.e. of the two-sided 90 %: .23840419 even start, .17077311 Jeffreys
    assert interval(1.0, 11.0, 0.90).high == pytest.approx(0.23840419, abs=5e-9)
    assert interval(0.5, 10.5, 0.90).high == pytest.approx(0.17077311, abs=5e-9)


def test_three_states_are_learnt_together() -> None:
    # F3, computed: Dirichlet(1, 1, 1) and counts (7, 2, 1)
    seen = [np.eye(3)[s] for s, count in enumerate((7, 2, 1)) for _ in range(count)]
    learnt = intervals(after((1.0, 1.0, 1.0), *seen))

    assert [one.mean for one in learnt] == pytest.approx([0.615385, 0.230769, 0.153846], abs=5e-7)
    assert [(one.low, one.high) for one in learnt] == [
        pytest.approx((0.348876, 0.848348), abs=5e-7),
        pytest.approx((0.054861, 0.484138), abs=5e-7),
        pytest.approx((0.020863, 0.384796), abs=5e-7),
    ]
    assert log_evidence_nat(np.ones(3), np.array([7.0, 2.0, 1.0])) == pytest.approx(-10.07575877, abs=5e-9)


def test_a_word_is_as_good_as_five_cases() -> None:
    # F4, computed: usually = Beta(3.85, 1.15); after 3 of 8 mean .52692308, 90 % and 95 % intervals
    usually = HOW_STRONGLY["usually"]
    start = (WORD_CASES * usually, WORD_CASES * (1 - usually))
    learnt = after(start, *[SEEN] * 3, *[NOT_SEEN] * 5)
    wide, narrow = intervals(learnt, 0.95)[0], intervals(learnt, 0.90)[0]

    assert interval(*start, 0.90).low == pytest.approx(0.4328, abs=5e-5)
    assert interval(*start, 0.90).high == pytest.approx(0.9794, abs=5e-5)
    assert wide.mean == pytest.approx(0.52692308, abs=5e-9)
    assert (narrow.low, narrow.high) == pytest.approx((0.30439005, 0.74456621), abs=5e-9)
    assert (wide.low, wide.high) == pytest.approx((0.26640438, 0.77960248), abs=5e-9)
    assert wide.holds(usually)
    assert not narrow.holds(usually)


def test_sure_cases_give_the_same_in_any_order() -> None:
    # F5; Spiegelhalter & Lauritzen, Networks 20 (1990): Beta(2, 2) and 3 yes, 2 no, mean 5/9
    orders = set(itertools.permutations("yyynn"))
    means = {
        round(intervals(after((2.0, 2.0), *(SEEN if one == "y" else NOT_SEEN for one in order)))[0].mean, 12)
        for order in orders
    }

    assert means == {round(5 / 9, 12)}


def test_a_doubtful_case_moves_less_and_is_never_surer_than_it_should_be() -> None:
    # F5, computed: cause known with probability .7, finding yes: mean .57, variance .0451, Beta(2.527716, 1.906874);
    # counting it as .7 of a case would give .574468 and a variance of .042887
    learnt = after((2.0, 2.0), 0.7 * SEEN)
    one = intervals(learnt)[0]

    assert learnt.tolist() == pytest.approx([2.527716, 1.906874], abs=5e-7)
    assert learnt.sum() == pytest.approx(4.434590, abs=5e-7)
    assert (one.mean, one.sd**2) == pytest.approx((0.57, 0.0451), abs=1e-12)


A, B = CauseId("a"), CauseId("b")
ICE, SOLID, NONE = FindingId("ice"), StateId("solid"), StateId("none")


def a_closed(cause: CauseId, state: StateId, sure: float = 1.0) -> ClosedCase:
    return ClosedCase(causes=(cause,), sure=sure, seen={ICE: {state: 1.0}})


def two_causes() -> Compiled:
    ice = a_finding("ice", {"none": 0.8, "solid": 0.2}, normal="none")
    causes = [a_cause("a", {"ice": {"solid": "usually"}}), a_cause("b", {"ice": {"solid": "rarely"}})]
    return compiled_of(knowledge_of(findings=[ice], causes=causes), ALONE)


def test_cases_that_speak_against_a_word_propose_another_with_their_counts() -> None:
    cases = [a_closed(A, NONE)] * 9 + [a_closed(A, SOLID)] + [a_closed(B, NONE)] * 9

    found = [one for one in propose(two_causes(), cases) if one.finding == ICE]

    solid = next(one for one in found if one.state == SOLID)
    assert {one.cause for one in found} == {A}
    assert (solid.written, solid.count, solid.cases, solid.word) == (0.77, 1.0, 10.0, "sometimes")
    assert solid.learnt.mean == pytest.approx((5 * 0.77 + 1) / 15)


def test_cases_that_agree_with_what_is_written_propose_nothing() -> None:
    cases = (
        [a_closed(A, SOLID)] * 8 + [a_closed(A, NONE)] * 2 + [a_closed(B, NONE)] * 9 + [a_closed(B, SOLID)]
    )

    assert propose(two_causes(), cases) == ()


def test_guesses_and_pairs_say_nothing_about_how_strongly_a_cause_shows() -> None:
    guesses = [a_closed(A, NONE, sure=0.0)] * 30
    pairs = [ClosedCase(causes=(A, B), sure=1.0, seen={ICE: {NONE: 1.0}})] * 30

    assert propose(two_causes(), guesses) == ()
    assert not [one for one in propose(two_causes(), pairs) if one.finding]


def test_a_cause_that_comes_far_more_often_than_written_is_proposed_as_commoner() -> None:
    cases = [a_closed(B, NONE)] * 60

    common = {one.cause: one for one in propose(two_causes(), cases) if one.finding is None}

    assert common[B].written == pytest.approx(0.5)
    assert common[B].learnt.low > 0.5
    assert common[B].learnt.mean == pytest.approx((25 + 60) / 110)
