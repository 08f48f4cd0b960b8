"""Posteriors of small cases (A4-A9), the reliability of answers (G1-G4), words and numbers (D).

"By enumeration" means computed for the reference cases outside this project's code, where said also with two
general-purpose Bayesian-network libraries.
"""

from collections.abc import Sequence

import numpy as np
import pytest

from assistant.reasoning import Evidence, conflict, found, weigh
from assistant.reasoning.evidence import chained
from assistant.reasoning.gains import entropy_bits
from assistant.reasoning.together import together
from kb.compiling import Shares, Shows, finding_node
from kb.ids import FindingId, StateId
from kb.likelihood import HOW_STRONGLY
from tests.reasoning.bases import a8, a_cause, a_finding, compiled_of, knowledge_of


def sure(finding: str, state: str) -> Evidence:
    """Seen beyond doubt: no channel of words."""
    return found(FindingId(finding), {StateId(state): 1.0}, computed=True)


def read(finding: str, **states: float) -> Evidence:
    return found(FindingId(finding), {StateId(s): p for s, p in states.items()}, computed=True)


def yes_or_no(usual: float, *causes: float) -> Shows:
    """A finding with P(yes) for nothing listed and for each cause alone."""
    return Shows(
        about=finding_node(FindingId("f")),
        states=(StateId("no"), StateId("yes")),
        normal=0,
        ordered=True,
        past=False,
        lasts_minutes=None,
        group="f",
        background=np.array([1 - usual, usual]),
        causes=np.arange(len(causes)),
        strength=np.array([[1 - p, p] for p in causes]),
    )


def test_fever_is_a_noisy_or_of_its_causes() -> None:
    # A4, Russell & Norvig; Pearl 1988 §4.3: cold .4, flu .8, malaria .9; cold+flu .88, cold+malaria .94, flu+malaria .98
    both = together(yes_or_no(1e-12, 0.4, 0.8, 0.9))[..., 1]

    assert [both[1, 2], both[1, 3], both[2, 3]] == pytest.approx([0.88, 0.94, 0.98], abs=1e-9)


def test_strengths_are_read_with_the_background_included() -> None:
    # A5, Henrion 1987: leak .1, alone .6 and .8 → both .91111111 (Díez's reading of the same words would give .928)
    assert together(yes_or_no(0.1, 0.6, 0.8))[1, 2, 1] == pytest.approx(0.91111111, abs=1e-8)


def test_a_cause_below_the_background_does_not_prevent() -> None:
    both = together(yes_or_no(0.3, 0.05, 0.8))[..., 1]

    assert both[1, 2] == pytest.approx(0.8)
    assert both[1, 0] == pytest.approx(0.05)  # alone it shows what its author wrote


def test_testimony_moves_belief_by_the_ratio_of_its_likelihoods_only() -> None:
    # A6, Pearl 1988 ch. 2: P(B) = 1e-4, P(A|B) = .95, P(A|¬B) = .01 → P(B|A) = .00941153; report 4:1 → .00037368
    alarm = a_finding("alarm", {"yes": 0.5, "no": 0.5})
    causes = [
        a_cause("burglar", {"alarm": {"yes": 0.95, "no": 0.05}}),
        a_cause("nobody", {"alarm": {"yes": 0.01, "no": 0.99}}),
    ]
    compiled = compiled_of(knowledge_of(findings=[alarm], causes=causes), weight=[1e-4, 1 - 1e-4])

    def burglar(evidence: Evidence) -> float:
        return float(weigh(compiled, [evidence]).probability[0])

    assert burglar(sure("alarm", "yes")) == pytest.approx(0.00941153, abs=1e-8)
    assert burglar(read("alarm", yes=0.8, no=0.2)) == pytest.approx(0.00037368, abs=1e-8)
    assert burglar(read("alarm", yes=4.0, no=1.0)) == pytest.approx(
        burglar(read("alarm", yes=0.8, no=0.2)), abs=1e-15
    )


def test_a_doubtful_reading_is_virtual_evidence_so_its_order_does_not_matter() -> None:
    # A7 (Pearl 1988; Chan & Darwiche 2005): colours (.3, .3, .4), sold (.4, .4, .8), λ = (2, 1, .5) and 3:1 for sold
    sold = a_finding("sold", {"yes": 0.5, "no": 0.5})
    colour = a_finding("colour", {"g": 0.3, "b": 0.3, "v": 0.4})
    kinds = {"g": 0.4, "b": 0.4, "v": 0.8}
    causes = [
        a_cause(
            k,
            {"sold": {"yes": p, "no": 1 - p}, "colour": {x: 1.0 - 1e-15 if x == k else 1e-15 for x in kinds}},
        )
        for k, p in kinds.items()
    ]
    compiled = compiled_of(
        knowledge_of(findings=[sold, colour], causes=causes), weight=[0.3, 0.3, 0.4]
    )  # b, g, v
    evidence = [read("colour", g=2.0, b=1.0, v=0.5), read("sold", yes=3.0, no=1.0)]

    one_way, other_way = weigh(compiled, evidence), weigh(compiled, evidence[::-1])

    assert one_way.of(compiled.causes[1]) == pytest.approx(0.504673, abs=5e-7)
    assert one_way.of(compiled.causes[0]) == pytest.approx(0.252336, abs=5e-7)
    assert one_way.of(compiled.causes[2]) == pytest.approx(0.242991, abs=5e-7)
    assert np.array_equal(one_way.weights, other_way.weights)


def test_a_belief_that_somebody_states_is_the_ratio_of_new_to_old() -> None:
    # A7, Jeffrey (The Logic of Decision, 1965), by Chan & Darwiche's (2005) ratio: cloth by candle light is now held
    # (.7, .25, .05) green, blue, violet; the chance that it is sold goes from .56 to .42
    sold = a_finding("sold", {"yes": 0.5, "no": 0.5})
    colour = a_finding("colour", {"g": 0.3, "b": 0.3, "v": 0.4})
    kinds = {"g": 0.4, "b": 0.4, "v": 0.8}
    causes = [
        a_cause(
            k,
            {"sold": {"yes": p, "no": 1 - p}, "colour": {x: 1.0 - 1e-15 if x == k else 1e-15 for x in kinds}},
        )
        for k, p in kinds.items()
    ]
    compiled = compiled_of(knowledge_of(findings=[sold, colour], causes=causes), weight=[0.3, 0.3, 0.4])

    belief = weigh(compiled, [read("colour", g=0.7 / 0.3, b=0.25 / 0.3, v=0.05 / 0.4)])

    held = {str(cause): belief.of(cause) for cause in compiled.causes}
    assert [held[cause] for cause in ("g", "b", "v")] == pytest.approx([0.7, 0.25, 0.05], abs=1e-9)
    assert sum(held[cause] * kinds[cause] for cause in kinds) == pytest.approx(0.42, abs=1e-9)


A8 = [
    # by enumeration, and with two general-purpose libraries
    ([], (0.40, 0.25, 0.20, 0.15)),
    ([sure("ice", "solid")], (0.811594, 0.072464, 0.028986, 0.086957)),
    ([sure("ice", "solid"), sure("air", "warm")], (0.904847, 0.035907, 0.005386, 0.053860)),
    ([read("ice", solid=0.8, patchy=0.2, none=0.05)], (0.705025, 0.123816, 0.064093, 0.107065)),
    ([read("ice", solid=2.028986, patchy=0.869565, none=0.235294)], (0.647093, 0.151236, 0.084024, 0.117647)),
    ([sure("ice", "solid"), sure("air", "cold")], (0.421053, 0.225564, 0.127820, 0.225564)),
    (
        [sure("ice", "solid"), sure("air", "cold"), sure("amps", "low")],
        (0.228571, 0.153061, 0.312245, 0.306122),
    ),
]


@pytest.mark.parametrize(("evidence", "posterior"), A8)
def test_four_causes_and_three_findings_give_the_reference_posteriors(
    evidence: Sequence[Evidence], posterior: Sequence[float]
) -> None:
    assert weigh(a8(), evidence).probability == pytest.approx(posterior, abs=6e-7)


def test_entropy_and_the_probability_of_the_evidence_are_those_of_the_reference_case() -> None:
    assert weigh(a8(), []).entropy_bits == pytest.approx(1.903702, abs=6e-7)
    assert weigh(a8(), [sure("ice", "solid")]).entropy_bits == pytest.approx(0.973288, abs=6e-7)


def test_dont_know_changes_nothing() -> None:
    even = read("ice", solid=1.0, patchy=1.0, none=1.0)

    assert weigh(a8(), [even]).weights == pytest.approx(weigh(a8(), []).weights, abs=1e-15)


def test_two_causes_overtake_one_when_a_second_finding_fits_only_the_other() -> None:
    # A9 by enumeration: a .05, b .03 independent; f leak .01, a .9, b .8; g leak .02, b .7 (all of them Díez's strengths)
    p_a, p_b = 0.05, 0.03
    prior = np.array([(1 - p_a) * (1 - p_b), p_a * (1 - p_b), (1 - p_a) * p_b, p_a * p_b])
    f = together(yes_or_no(0.01, 1 - 0.99 * 0.1, 1 - 0.99 * 0.2))[..., 1]
    g = together(yes_or_no(0.02, 1 - 0.98 * 0.3))[..., 1]
    given_f = prior * np.array([f[0, 0], f[1, 0], f[2, 0], f[1, 2]])
    given_fg = given_f * np.array([g[0, 0], g[0, 0], g[1, 0], g[1, 0]])

    assert given_f.sum() == pytest.approx(0.0772408, abs=5e-8)
    assert given_f / given_f.sum() == pytest.approx([0.119302, 0.565744, 0.295919, 0.019035], abs=6e-7)
    assert given_fg / given_fg.sum() == pytest.approx([0.010108, 0.047933, 0.885029, 0.056930], abs=6e-7)


def test_every_word_stands_for_its_number_and_the_order_of_words_is_the_order_of_numbers() -> None:
    # D: inside the middle half of, or between, the published studies named in `kb.likelihood`
    numbers = list(HOW_STRONGLY.values())

    assert numbers == [0.92, 0.77, 0.67, 0.30, 0.10, 0.03]
    assert numbers == sorted(numbers, reverse=True)


@pytest.mark.parametrize(
    ("high", "low", "bits"),
    [(0.92, 0.77, 0.0321), (0.77, 0.67, 0.0090), (0.67, 0.30, 0.1012), (0.30, 0.10, 0.0468), (0.10, 0.03, 0.0153), (0.92, 0.03, 0.6999)],
)  # fmt: skip
def test_neighbouring_words_hardly_tell_two_causes_apart(high: float, low: float, bits: float) -> None:
    # D, by enumeration: the information of one yes-or-no answer between two equally likely causes
    answers = np.array([[high, 1 - high], [low, 1 - low]])

    gain = entropy_bits(answers.mean(axis=0)) - entropy_bits(answers).mean()

    assert gain == pytest.approx(bits, abs=6e-5)


def test_a_positive_test_for_a_rare_illness_mostly_is_a_false_alarm() -> None:
    # G1: Eddy 1982; Gigerenzer & Hoffrage 1995: prevalence 1 %, sensitivity 80 %, false positives 9.6 % → 7.8 %
    told = np.array([0.01, 0.99]) * np.array([0.80, 0.096])

    assert told[0] / told.sum() == pytest.approx(0.07763975, abs=1e-8)


CHANNEL = np.array([[0.8, 0.2], [0.1, 0.9]])
"""G2: people say yes with .8 if true, with .1 if not."""
YES, NO = np.array([1.0, 0.0]), np.array([0.0, 1.0])


def test_one_answer_weighs_as_much_as_its_channel() -> None:
    # G2: prior .2, one yes → .66666667
    told = np.array([0.2, 0.8]) * chained([YES], [CHANNEL])

    assert told[0] / told.sum() == pytest.approx(2 / 3, abs=1e-12)


@pytest.mark.parametrize(
    ("copies", "answers", "ratio"),
    [
        # G3, by enumeration: likelihood ratios of two answers to the same question
        (0.0, [YES, YES], 64.0),
        (0.5, [YES, YES], 13.09090909),
        (1.0, [YES, YES], 8.0),
        (0.0, [YES, NO], 1.77777778),
        (0.5, [YES, NO], 1.77777778),
        (0.0, [NO, NO], 0.04938272),
        (0.5, [NO, NO], 0.14035088),
        (1.0, [NO, NO], 0.22222222),
    ],
)
def test_the_same_question_twice_counts_for_less_than_two(
    copies: float, answers: list[np.ndarray], ratio: float
) -> None:
    told = chained(answers, [CHANNEL, CHANNEL], copies)

    assert told[0] / told[1] == pytest.approx(ratio, abs=6e-9 * max(1, ratio))


@pytest.mark.parametrize(
    ("evidence", "bits", "unexplained"),
    [
        # G4 on A8, by enumeration; the second figure is conf(e, h) with the best cause, where the reference gives it
        ([sure("ice", "solid"), sure("air", "warm")], -0.5148, None),
        ([sure("ice", "none"), sure("air", "cold"), sure("amps", "low")], -1.1621, None),
        ([sure("ice", "solid"), sure("air", "cold")], 1.1743, 1.1003),
        ([sure("ice", "solid"), sure("air", "cold"), sure("amps", "low")], 1.2839, 0.6412),
    ],
)
def test_answers_that_no_cause_explains_are_in_conflict(
    evidence: Sequence[Evidence], bits: float, unexplained: float | None
) -> None:
    found_conflict = conflict(a8(), evidence)

    assert found_conflict.bits == pytest.approx(bits, abs=6e-5)
    if unexplained is not None:
        assert found_conflict.unexplained_bits == pytest.approx(unexplained, abs=6e-5)


def test_nothing_to_conflict_when_shares_are_set_by_hand() -> None:
    compiled = compiled_of(
        knowledge_of(
            findings=[a_finding("f", {"no": 0.9, "yes": 0.1}, normal="no")], causes=[a_cause("a", {})]
        ),
        Shares(nothing_wrong=0.0, something_else=0.5, two_causes=0.0),
    )

    assert weigh(compiled, []).something_else == pytest.approx(0.5)
    assert conflict(compiled, [sure("f", "yes")]).bits == 0.0
