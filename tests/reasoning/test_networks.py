"""Exact posteriors against published networks (reference cases A1-A3) and data conflict on one of them (G4)."""

import pytest

from assistant.reasoning.conflict import conflict_on
from assistant.reasoning.evidence import found
from kb.ids import FindingId
from tests.reasoning.networks import NO, YES, alarm, asia, sprinkler

ASIA = [
    # Lauritzen & Spiegelhalter 1988; rows 1-2 printed by public test suites, the others by plain enumeration
    ({}, (0.01, 0.5, 0.0104, 0.055, 0.45, 0.064828, 0.110290, 0.435971)),
    ({"x": 1}, (0.013156, 0.687754, 0.092411, 0.488711, 0.506326, 0.576040, 1, 0.640766)),
    ({"d": 1}, (0.010325, 0.633997, 0.018845, 0.102759, 0.833967, 0.120536, 0.162098, 1)),
    ({"a": 1, "d": 1}, (1, 0.625920, 0.087751, 0.099525, 0.811402, 0.182300, 0.219539, 1)),
    ({"a": 1, "s": 1, "d": 1}, (1, 1, 0.072760, 0.145519, 0.867258, 0.211003, 0.246232, 1)),
    ({"a": 1, "s": 1, "d": 1, "x": 1}, (1, 1, 0.289581, 0.579163, 0.700920, 0.839786, 1, 1)),
    ({"a": 1, "s": 1, "d": 1, "x": 0}, (1, 1, 0.001931, 0.003861, 0.921596, 0.005599, 0, 1)),
    ({"s": 0, "d": 0, "x": 1}, (0.012040, 0, 0.063414, 0.060975, 0.091665, 0.123754, 1, 0)),
]


@pytest.mark.parametrize(("seen", "published"), ASIA)
def test_the_chest_clinic_gives_the_published_posteriors(
    seen: dict[str, int], published: tuple[float, ...]
) -> None:
    network = asia()
    belief = network.given(**seen)

    ours = [network.probability(belief, name) for name in "astlbexd"]

    assert ours == pytest.approx(published, abs=6e-7)


@pytest.mark.parametrize(
    ("seen", "p"), [({"x": 1}, 0.11029004), ({"d": 1}, 0.43597060), ({"s": 0, "d": 0, "x": 1}, 0.01928670)]
)
def test_the_chest_clinic_gives_the_probability_of_the_evidence(seen: dict[str, int], p: float) -> None:
    assert 2 ** asia().given(**seen).log2_evidence == pytest.approx(p, abs=1e-8)


def test_the_wet_grass_is_explained_away_when_rain_is_learnt() -> None:
    # Murphy's tutorial: P(S|W) = .430, P(R|W) = .708, P(S|W,R) = .1945; further digits by enumeration
    network = sprinkler()

    assert network.probability(network.given(), "w") == pytest.approx(0.6471, abs=1e-12)
    assert network.probability(network.given(w=1), "s") == pytest.approx(0.42976356, abs=1e-8)
    assert network.probability(network.given(w=1), "r") == pytest.approx(0.70792768, abs=1e-8)
    assert network.probability(network.given(w=1, r=1), "s") == pytest.approx(0.19449902, abs=1e-8)
    assert network.probability(network.given(w=1, s=1), "r") == pytest.approx(0.32038835, abs=1e-8)
    assert network.probability(network.given(w=1), "c") == pytest.approx(0.57579972, abs=1e-8)


@pytest.mark.parametrize(
    ("seen", "about", "p"),
    [
        # Russell & Norvig: .284 and .00513 printed (public doctest); the others by enumeration
        ({"j": 1, "m": 1}, "b", 0.28417184),
        ({"j": 1, "m": 0}, "b", 0.00512986),
        ({"j": 1}, "b", 0.01628373),
        ({"j": 1, "m": 1}, "a", 0.76069204),
        ({"j": 1, "m": 1}, "e", 0.17606684),
        ({"a": 1}, "b", 0.37355123),
        ({"a": 1, "e": 1}, "b", 0.00326842),
        ({"j": 1, "e": 0}, "a", 0.03378824),
    ],
)
def test_the_burglar_alarm_gives_the_textbook_posteriors(seen: dict[str, int], about: str, p: float) -> None:
    network = alarm()

    assert network.probability(network.given(**seen), about) == pytest.approx(p, abs=6e-9)


@pytest.mark.parametrize(
    ("seen", "bits"),
    [
        # Jensen et al., UAI 1990, conf(e) = log P(e1)…P(en)/P(e); values by enumeration
        ({"x": 1, "d": 1}, -0.555567),
        ({"x": 1, "d": 0}, 0.650846),
        ({"s": 0, "x": 1, "d": 0}, 0.689466),
        ({"a": 1, "s": 1, "d": 1, "x": 1}, -1.528903),
        ({"a": 1, "s": 1, "d": 1, "x": 0}, -0.130969),
    ],
)
def test_conflict_in_the_chest_clinic_is_as_computed_by_enumeration(
    seen: dict[str, int], bits: float
) -> None:
    evidence = [found(FindingId(n), {YES if v else NO: 1.0}, computed=True) for n, v in seen.items()]

    assert conflict_on(asia().hypotheses(), evidence).bits == pytest.approx(bits, abs=1e-6)
