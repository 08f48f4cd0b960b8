"""What must hold on any base (reference cases, part I)."""

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.reasoning import Evidence, found, rank, weigh
from assistant.reasoning.board import Board, fixes_only_minutes, root
from assistant.reasoning.gains import entropy_bits, gain_on_classes_bits
from assistant.reasoning.remedies import remedies_of
from kb.compiling import SHARES, Compiled, Floats, finding_node
from kb.ids import CheckId, FindingId, StateId
from tests.reasoning.bases import a8, a_cause, a_finding, compiled_of, knowledge_of, random_knowledge

BASES = [compiled_of(random_knowledge(seed, causes=8, findings=8, fixes=5), SHARES) for seed in range(6)]
bases = st.sampled_from(BASES)
shares = st.lists(st.floats(0.01, 1.0), min_size=4, max_size=4)


def told(compiled: Compiled, finding: FindingId, p: list[float], *, computed: bool = False) -> Evidence:
    states = list(compiled.knowledge.findings[finding].states)
    read = dict(zip(states, p, strict=False))
    return found(finding, read, check=CheckId(f"look_at_{finding}"), computed=computed)


@st.composite
def cases(draw: st.DrawFn) -> tuple[Compiled, list[Evidence]]:
    compiled = draw(bases)
    chosen = draw(st.lists(st.sampled_from(list(compiled.knowledge.findings)), unique=True, max_size=8))
    return compiled, [told(compiled, f, draw(shares)) for f in chosen]


@given(case=cases(), chance=st.randoms())
@settings(deadline=None)
def test_the_order_of_findings_never_matters(case: tuple[Compiled, list[Evidence]], chance: object) -> None:
    compiled, evidence = case
    shuffled = list(evidence)
    chance.shuffle(shuffled)  # type: ignore[attr-defined]  # hypothesis hands out a random.Random

    assert np.array_equal(weigh(compiled, evidence).weights, weigh(compiled, shuffled).weights)


@given(case=cases(), scale=st.floats(0.001, 1000))
@settings(deadline=None)
def test_only_ratios_of_a_reading_count(case: tuple[Compiled, list[Evidence]], scale: float) -> None:
    compiled, evidence = case
    scaled = [
        found(
            FindingId(e.about.partition(":")[2]),
            {s: p * scale for s, p in e.likelihood.items()},
            check=e.check,
        )
        for e in evidence
    ]

    assert weigh(compiled, scaled).weights == pytest.approx(weigh(compiled, evidence).weights, abs=1e-12)


@given(case=cases(), finding=st.integers(0, 7))
@settings(deadline=None)
def test_dont_know_is_the_identity(case: tuple[Compiled, list[Evidence]], finding: int) -> None:
    compiled, evidence = case
    name = FindingId(f"f{finding:03}")
    without = [e for e in evidence if e.about != finding_node(name)]

    even = weigh(compiled, [*without, told(compiled, name, [1.0] * 4)])

    assert even.weights == pytest.approx(weigh(compiled, without).weights, abs=1e-12)


@given(case=cases())
@settings(deadline=None)
def test_belief_sums_to_one_and_every_part_is_a_probability(case: tuple[Compiled, list[Evidence]]) -> None:
    belief = weigh(*case)

    assert belief.weights.sum() == pytest.approx(1.0, abs=1e-12)
    assert (belief.weights >= 0).all()
    assert (belief.probability <= 1 + 1e-12).all()
    assert 0 <= belief.dropped <= 0.001 + 1e-12


def test_three_hundred_findings_do_not_underflow() -> None:
    compiled = compiled_of(random_knowledge(1, causes=20, findings=300, mentions=0.2), SHARES)
    evidence = [told(compiled, f, [0.01, 0.02, 0.3, 1.0]) for f in compiled.knowledge.findings]

    belief = weigh(compiled, evidence)

    logs = np.log(belief.hypotheses.prior[1:]) + sum(np.log(item.likelihood[1:]) for item in belief.items)
    in_logs = np.exp(logs - logs.max())
    assert belief.weights[1:] == pytest.approx(in_logs / in_logs.sum(), rel=1e-9, abs=1e-12)
    assert belief.weights.sum() == pytest.approx(1.0, abs=1e-12)


@given(case=cases())
@settings(deadline=None)
def test_gains_stay_within_their_bounds(case: tuple[Compiled, list[Evidence]]) -> None:
    compiled, evidence = case
    belief = weigh(compiled, evidence)
    remedies = remedies_of(compiled, belief, compiled.knowledge.fixes)
    of_classes = float(entropy_bits(remedies.share))

    for ranked in rank(compiled, belief, list(compiled.knowledge.checks)):
        states = len(compiled.shows[finding_node(ranked.finding)].states)
        assert -1e-12 <= ranked.gain_causes_bits <= min(belief.entropy_bits, np.log2(states)) + 1e-9
        assert (
            -1e-12 <= ranked.gain_bits <= min(of_classes + 0.02, ranked.gain_causes_bits + 0.02)
        )  # .999 of the mass


def joint_of(case: tuple[Compiled, list[Evidence]], finding: FindingId) -> Floats:
    """(hypotheses, states) P(h, s)."""
    belief = weigh(*case)
    shown = belief.hypotheses.shown[finding_node(finding)]
    strength = np.tile(shown.shows.background, (len(belief.weights), 1))
    strength[shown.rows] = shown.strength
    return belief.weights[:, None] * strength


@given(case=cases(), finding=st.integers(0, 7))
@settings(deadline=None)
def test_entropy_after_the_answer_averages_to_what_the_gain_promised(
    case: tuple[Compiled, list[Evidence]], finding: int
) -> None:
    compiled, evidence = case
    name = FindingId(f"f{finding:03}")
    without = [e for e in evidence if e.about != finding_node(name)]
    before = weigh(compiled, without)
    gain = next(r.gain_causes_bits for r in rank(compiled, before, [CheckId(f"look_at_{name}")]))
    states = list(compiled.knowledge.findings[name].states)

    after = [
        weigh(compiled, [*without, told(compiled, name, [float(s == t) for t in states])]) for s in states
    ]

    p = 2.0 ** np.array(
        [a.log2_evidence for a in after]
    )  # up to a scale of each answer's own, so weigh by the marginals
    joint = joint_of((compiled, without), name)
    right = (0.97, 0.03 / (len(states) - 1))
    through = np.full((len(states),) * 2, right[1]) + (right[0] - right[1]) * np.eye(len(states))
    marginal = (joint @ through).sum(axis=0)
    expected = sum(m * a.entropy_bits for m, a in zip(marginal, after, strict=True))
    assert len(p) == len(states)
    assert expected == pytest.approx(before.entropy_bits - gain, abs=1e-9)


@given(case=cases(), finding=st.integers(0, 7))
@settings(deadline=None)
def test_merging_states_and_adding_noise_never_gain(
    case: tuple[Compiled, list[Evidence]], finding: int
) -> None:
    joint = joint_of(case, FindingId(f"f{finding:03}"))
    whole = float(gain_on_classes_bits(joint[None])[0])
    merged = np.stack([joint[:, 0], joint[:, 1:].sum(axis=1)], axis=1)
    noisy = 0.7 * joint + 0.3 * joint.sum(axis=1, keepdims=True) / joint.shape[1]

    assert float(gain_on_classes_bits(merged[None])[0]) <= whole + 1e-12
    assert float(gain_on_classes_bits(noisy[None])[0]) <= whole + 1e-12


@given(case=cases(), one=st.integers(0, 3), other=st.integers(4, 7))
@settings(deadline=None)
def test_two_answers_gain_what_the_first_gains_and_then_the_second(
    case: tuple[Compiled, list[Evidence]], one: int, other: int
) -> None:
    first, second = (joint_of(case, FindingId(f"f{f:03}")) for f in (one, other))
    weights = first.sum(axis=1)
    both = first[:, :, None] * (second / np.maximum(weights, 1e-300)[:, None])[:, None, :]
    together = float(gain_on_classes_bits(both.reshape(1, len(weights), -1))[0])
    alone = float(gain_on_classes_bits(first[None])[0])
    then = sum(
        both[:, a].sum() * float(gain_on_classes_bits(both[None, :, a] / both[:, a].sum())[0])
        for a in range(both.shape[1])
    )

    assert together == pytest.approx(alone + then, abs=1e-9)


def test_a_cause_in_two_identical_halves_changes_nothing_for_the_others() -> None:
    def base(halves: int) -> Compiled:
        findings = [
            a_finding("f", {"no": 0.9, "yes": 0.1}, normal="no"),
            a_finding("g", {"no": 0.8, "yes": 0.2}, normal="no"),
        ]
        split = [a_cause(f"c{i}", {"f": {"yes": "usually"}}, ["mend_c"]) for i in range(halves)]
        causes = [a_cause("a", {"g": {"yes": "usually"}}), a_cause("b", {"f": {"yes": "often"}}), *split]
        return compiled_of(
            knowledge_of(findings=findings, causes=causes), weight=[1, 1, *[1 / halves] * halves]
        )

    yes = found(FindingId("f"), {StateId("yes"): 1.0})
    whole, split = (weigh(base(n), [yes]) for n in (1, 2))

    assert split.probability[:2] == pytest.approx(whole.probability[:2], abs=1e-12)
    asked = [CheckId("look_at_g")]
    assert rank(base(2), split, asked)[0].gain_bits == pytest.approx(
        rank(base(1), whole, asked)[0].gain_bits, abs=1e-12
    )


@given(
    p=st.lists(st.floats(0.01, 1.0), min_size=2, max_size=6),
    cost=st.lists(st.floats(1.0, 50.0), min_size=6, max_size=6),
)
@settings(deadline=None, max_examples=40)
def test_probability_over_cost_is_the_best_order_of_independent_repairs(
    p: list[float], cost: list[float]
) -> None:
    # Simon & Kadane 1975; brute force over all orders
    share, n = np.array(p) / sum(p), len(p)
    board = Board(
        class_of=np.arange(n),
        answers=np.zeros((0, n, 2)),
        ask_minutes=np.zeros(0),
        fix_minutes=np.array(cost[:n]),
        works=np.ones(n),
        hand_over_minutes=1e6,
    )
    orders = itertools.permutations(range(n))
    best = min(
        sum(cost[r] * (1 - share[list(order[:i])].sum()) for i, r in enumerate(order)) for order in orders
    )

    assert fixes_only_minutes(board, root(board, share))[0] == pytest.approx(best, abs=1e-6)


def test_the_same_arguments_give_the_same_belief_to_the_last_bit() -> None:
    evidence = [found(FindingId("ice"), {StateId("solid"): 0.7, StateId("none"): 0.3})]

    assert np.array_equal(weigh(a8(), evidence).weights, weigh(a8(), evidence).weights)
