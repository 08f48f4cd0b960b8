"""Information measures (reference cases B1-B6, C6, C8) and noise on answers."""

import itertools
from collections import Counter

import numpy as np
import pytest

from assistant.reasoning.board import Board
from assistant.reasoning.evidence import channel
from assistant.reasoning.gains import edges_cut, entropy_bits, gain_on_classes_bits
from kb.compiling import Floats, finding_node
from kb.ids import FindingId
from tests.reasoning.bases import A8_WEIGHT, a8
from tests.reasoning.policies import least_minutes_to_identify

# Quinlan, "Induction of decision trees", Machine Learning 1 (1986): outlook, temperature, humidity, wind → play
TENNIS = [
    "shhwN",
    "shhsN",
    "ohhwY",
    "rmhwY",
    "rcnwY",
    "rcnsN",
    "ocnsY",
    "smhwN",
    "scnwY",
    "rmnwY",
    "smnsY",
    "omhsY",
    "ohnwY",
    "rmhsN",
]


def gain_of(days: list[str], column: int) -> float:
    counts = Counter((day[-1], day[column]) for day in days)
    classes, answers = sorted({c for c, _ in counts}), sorted({a for _, a in counts})
    joint = np.array([[[counts[c, a] / len(days) for a in answers] for c in classes]])
    return float(gain_on_classes_bits(joint)[0])


def test_fourteen_days_of_tennis_gain_what_quinlan_printed() -> None:
    # printed .246, .029, .151, .048 (the paper truncates, so 1e-3); further digits by enumeration
    gains = [gain_of(TENNIS, column) for column in range(4)]

    assert gains == pytest.approx([0.246, 0.029, 0.151, 0.048], abs=1e-3)
    assert gains == pytest.approx([0.246750, 0.029223, 0.151836, 0.048127], abs=6e-7)


def test_on_sunny_days_humidity_decides() -> None:
    sunny = [day for day in TENNIS if day[0] == "s"]

    assert [gain_of(sunny, c) for c in (2, 1, 3)] == pytest.approx([0.970951, 0.570951, 0.019973], abs=6e-7)


def test_a_table_with_empty_cells_has_the_textbook_entropies() -> None:
    # Cover & Thomas, Elements of Information Theory, example 2.2.1: H(X) 7/4, H(Y) 2, H(X,Y) 27/8, I 3/8
    table = np.array([[4, 2, 1, 1], [2, 4, 1, 1], [2, 2, 2, 2], [8, 0, 0, 0]]) / 32

    assert float(entropy_bits(table.sum(axis=0))) == pytest.approx(7 / 4, abs=1e-12)
    assert float(entropy_bits(table.sum(axis=1))) == pytest.approx(2.0, abs=1e-12)
    assert float(entropy_bits(table.ravel())) == pytest.approx(27 / 8, abs=1e-12)
    assert float(gain_on_classes_bits(table[None])[0]) == pytest.approx(3 / 8, abs=1e-12)


def test_among_twelve_coins_four_against_four_weighs_best() -> None:
    # the classic puzzle: one false coin, heavier or lighter; 1.5, log2 3, 1.483356, 1.0 bits (by enumeration)
    def bits(on_each_side: int) -> float:
        falls: Counter[int] = Counter()
        for coin, sign in itertools.product(range(12), (1, -1)):
            side = 1 if coin < on_each_side else -1 if coin < 2 * on_each_side else 0
            falls[side * sign] += 1
        return float(entropy_bits(np.array(list(falls.values())) / 24))

    assert [bits(n) for n in (3, 4, 5, 6)] == pytest.approx([1.5, np.log2(3), 1.483356, 1.0], abs=6e-7)


def test_with_every_yes_or_no_question_the_optimum_is_huffmans() -> None:
    # B4: p = (.4, .2, .2, .1, .1): H = 2.121928, optimum 2.2
    p = np.array([0.4, 0.2, 0.2, 0.1, 0.1])
    sets = np.array([[(mask >> h) & 1 for h in range(5)] for mask in range(1, 16)], dtype=np.float64)
    board = Board(
        class_of=np.arange(5),
        answers=np.stack([sets, 1 - sets], axis=2),
        ask_minutes=np.ones(len(sets)),
        fix_minutes=np.ones(5),
        works=np.ones(5),
        hand_over_minutes=1e6,
    )

    assert float(entropy_bits(p)) == pytest.approx(2.121928, abs=6e-7)
    assert least_minutes_to_identify(board, p) == pytest.approx(2.2, abs=1e-12)


def joint_of(
    finding: str, through: Floats | None = None, classes: Floats | None = None, given: Floats | None = None
) -> Floats:
    prior = np.array(A8_WEIGHT) if given is None else given
    strength = a8().shows[finding_node(FindingId(finding))].strength
    answers = strength if through is None else strength @ through
    return np.asarray(((np.eye(4) if classes is None else classes).T @ (prior[:, None] * answers))[None])


REMEDIES = np.array([[1, 0, 0], [1, 0, 0], [0, 1, 0], [0, 0, 1]], dtype=np.float64)
"""a and b are mended alike."""


def test_what_to_ask_turns_over_when_only_the_remedy_matters() -> None:
    # B5, by enumeration: on causes ask about ice, on what to do next ask about amps
    on_causes = [float(gain_on_classes_bits(joint_of(f))[0]) for f in ("ice", "air", "amps")]
    on_remedies = [
        float(gain_on_classes_bits(joint_of(f, classes=REMEDIES))[0]) for f in ("ice", "air", "amps")
    ]

    assert on_causes == pytest.approx([0.355769, 0.285471, 0.234080], abs=6e-7)
    assert on_remedies == pytest.approx([0.151689, 0.149212, 0.232476], abs=6e-7)


def test_after_solid_ice_the_air_tells_more_than_the_amps() -> None:
    iced = np.array(A8_WEIGHT) * a8().shows[finding_node(FindingId("ice"))].strength[:, 0]
    gains = [float(gain_on_classes_bits(joint_of(f, given=iced / iced.sum()))[0]) for f in ("air", "amps")]

    assert gains == pytest.approx([0.151571, 0.066027], abs=6e-7)


@pytest.mark.parametrize(
    ("error", "bits"), [(0.0, 1.0), (0.05, 0.713603), (0.1, 0.531004), (0.2, 0.278072), (0.5, 0.0)]
)
def test_errors_cost_what_a_binary_symmetric_channel_costs(error: float, bits: float) -> None:
    # Cover & Thomas ch. 7: capacity 1 − H(error)
    answers = np.array([[[1 - error, error], [error, 1 - error]]]) / 2

    assert float(gain_on_classes_bits(answers)[0]) == pytest.approx(bits, abs=6e-7)


def test_the_worth_of_a_question_falls_with_the_reliability_of_its_answers() -> None:
    # B6, by enumeration: amps through p(said high | high) = .9, p(said high | low) = .2
    through = np.array([[0.9, 0.1], [0.2, 0.8]])

    assert float(gain_on_classes_bits(joint_of("amps", through))[0]) == pytest.approx(0.109434, abs=6e-7)
    # 20 % "don't know" whatever the cause: .8 of the gain
    silent = np.array([[0.8, 0.0, 0.2], [0.0, 0.8, 0.2]])
    assert float(gain_on_classes_bits(joint_of("amps", silent))[0]) == pytest.approx(0.187264, abs=6e-7)


def test_a_fifth_who_dont_know_cost_a_fifth_of_the_gain() -> None:
    # B6, by enumeration: .8 × .234080 = .187264
    knows = np.array([[0.8, 0.0, 0.2], [0.0, 0.8, 0.2]])

    assert float(gain_on_classes_bits(joint_of("amps", through=knows))[0]) == pytest.approx(
        0.187264, abs=6e-7
    )


def test_a_channel_is_right_as_often_as_its_word_says() -> None:
    assert channel(4, "usually").sum(axis=1) == pytest.approx(np.ones(4))
    assert np.diag(channel(4, "usually")) == pytest.approx(np.full(4, channel(2, "usually")[0, 0]))


def test_one_of_two_bits_cuts_three_quarters_of_the_edges_though_it_gains_nothing() -> None:
    # C6: four equally likely (u, v), remedy by u = v; edges cut .1875 of .25
    joint = np.full((1, 2, 2), 0.25)

    assert float(gain_on_classes_bits(joint)[0]) == pytest.approx(0.0, abs=1e-12)
    assert float(edges_cut(joint)[0]) == pytest.approx(0.1875, abs=1e-12)


C8 = [
    (
        (0.15, 0.10, 0.10, 0.30, 0.15, 0.20),
        (1, 0, 1, 1, 1, 0),
        ("110111", "000011", "100000", "101110"),
        (0.055, 0.134, 0.085, 0.881),
        (0.048, 0.16375, 0.06975, 0.21),
    ),
    (
        (0.30, 0.10, 0.20, 0.15, 0.05, 0.20),
        (1, 1, 1, 0, 1, 0),
        ("101111", "111101", "011100", "011001"),
        (0.066397, 0.032089, 0.000722, 0.007947),
        (0.05425, 0.028, 0.16875, 0.17125),
    ),
]


@pytest.mark.parametrize(("p", "remedy", "tests", "gains", "edges"), C8)
def test_gains_on_remedies_and_edges_cut_are_those_of_the_reference_case(
    p: tuple[float, ...],
    remedy: tuple[int, ...],
    tests: tuple[str, ...],
    gains: tuple[float, ...],
    edges: tuple[float, ...],
) -> None:
    # C8; edges cut: Golovin, Krause & Ray, NeurIPS 2010; values by enumeration
    joint = np.zeros((len(tests), 2, 2))  # (checks, answers, classes)
    for (k, answers), (h, weight) in itertools.product(enumerate(tests), enumerate(p)):
        joint[k, int(answers[h]), remedy[h]] += weight

    assert gain_on_classes_bits(joint) == pytest.approx(gains, abs=6e-4)
    assert edges_cut(joint) == pytest.approx(edges, abs=6e-7)
