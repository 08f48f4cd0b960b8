"""Speed as ratios taken in one run on one machine: never seconds. Long; run by `.ci/long`."""

import time  # noqa: TID251 - a bench takes times, and compares them only with one another
import warnings
from collections.abc import Callable

import numpy as np
import pytest
from scipy.sparse import csr_array

from assistant.reasoning import choose, found, rank, weigh
from assistant.reasoning.gains import Usual, entropy_bits, gain_bits, gain_bits_beyond
from assistant.reasoning.hypotheses import hypotheses_of
from assistant.reasoning.stacked import gain_on_hypotheses_bits, stacked
from kb.compiling import SHARES, Compiled, Floats, compile_
from tests.reasoning.bases import random_knowledge

# The library comes without types:
# mypy: disable-error-code="no-untyped-call"
with warnings.catch_warnings():
    warnings.simplefilter(
        "ignore"
    )  # its binding warns of itself on import, and crashes where warnings are errors
    import pyagrum as gum

pytestmark = pytest.mark.long

CAUSES, CHECKS, MENTIONED = 2_000, 4_000, 0.05


def least_ms(work: Callable[[], object], times: int = 7) -> float:
    """The least of several times in milliseconds: what the work takes when nothing disturbs it."""
    taken = []
    for _ in range(times):
        begun = time.perf_counter()
        work()
        taken.append(time.perf_counter() - begun)
    return 1e3 * min(taken)


def say(figures: str) -> None:
    """What the run measured."""
    print(figures)  # noqa: T201 - the figures are asked for


class Many:
    """Many checks of two or three answers, of which each cause mentions a twentieth."""

    def __init__(self) -> None:
        chance = np.random.default_rng(1)  # noqa: TID251 - seeded: the same base each time
        answers = chance.integers(2, 4, size=CHECKS)
        self.starts = np.concatenate([[0], np.cumsum(answers)[:-1]])
        usual = np.concatenate([chance.dirichlet(np.ones(n)) for n in answers])
        self.strength = np.repeat(usual[:, None], CAUSES, axis=1)
        for check, (start, n) in enumerate(zip(self.starts, answers, strict=True)):
            told = chance.choice(CAUSES, int(CAUSES * MENTIONED), replace=False)
            self.strength[start : start + n, told] = chance.dirichlet(np.ones(n), size=len(told)).T
            assert check < CHECKS
        self.belief = chance.dirichlet(np.ones(CAUSES))
        self.noise = np.array(
            [-np.nansum(self._logs(s, n), axis=0) for s, n in zip(self.starts, answers, strict=True)]
        )
        self.usual = Usual(
            answer=usual,
            noise_bits=np.array(
                [float(entropy_bits(usual[s : s + n])) for s, n in zip(self.starts, answers, strict=True)]
            ),
        )
        beyond, noise_beyond = self.strength - usual[:, None], self.noise - self.usual.noise_bits[:, None]
        noise_beyond[np.abs(noise_beyond) < 1e-12] = 0.0
        self.strength_beyond, self.noise_beyond = csr_array(beyond), csr_array(noise_beyond)

    def _logs(self, start: int, n: int) -> Floats:
        part = self.strength[start : start + n]
        return np.asarray(part * np.log2(part))


def test_ranking_all_questions_costs_about_one_pass_over_the_strengths() -> None:
    many = Many()

    dense = gain_bits(many.belief, many.strength, many.noise, many.starts)
    written = gain_bits_beyond(many.belief, many.usual, many.strength_beyond, many.noise_beyond, many.starts)
    one_pass = least_ms(many.strength.sum)
    all_stored = least_ms(lambda: gain_bits(many.belief, many.strength, many.noise, many.starts))
    only_written = least_ms(
        lambda: gain_bits_beyond(
            many.belief, many.usual, many.strength_beyond, many.noise_beyond, many.starts
        )
    )

    say(
        f"one pass {one_pass:.1f} ms; dense {all_stored / one_pass:.2f}; as written {only_written / one_pass:.2f}"
    )
    assert written == pytest.approx(dense, abs=1e-9)
    assert all_stored <= 1.5 * one_pass
    assert only_written <= 0.3 * one_pass


def a_base(causes: int, findings: int, fixes: int) -> Compiled:
    return compile_(random_knowledge(3, causes=causes, findings=findings, mentions=0.06, fixes=fixes), SHARES)


def test_three_hundred_causes_with_all_pairs_are_ranked_within_passes_over_their_strengths() -> None:
    compiled = a_base(300, 300, 100)
    belief = weigh(compiled, [])
    stack = stacked(hypotheses_of(compiled))
    dense = np.ones((len(stack.usual.answer), 2_000))  # a slice of the dense array: scaled up below
    one_pass = least_ms(dense.sum) * len(belief.weights) / dense.shape[1]

    gains = least_ms(lambda: gain_on_hypotheses_bits(stack, belief.weights))
    ranking = least_ms(lambda: rank(compiled, belief, list(compiled.knowledge.checks)), times=3)

    say(
        f"{len(belief.weights)} hypotheses, 300 checks: one dense pass {one_pass:.0f} ms, gains {gains:.1f} ms,"
        f" whole ranking with remedies {ranking:.1f} ms"
    )
    assert gains <= 2 * one_pass


def test_a_whole_step_on_a_hundred_and_fifty_causes_costs_few_passes() -> None:
    compiled = a_base(150, 80, 60)
    checks, fixes = list(compiled.knowledge.checks), list(compiled.knowledge.fixes)
    evidence = [
        found(f, {s: float(i == 0) for i, s in enumerate(node.states)})
        for f, node in list(compiled.knowledge.findings.items())[:8]
    ]
    asked = checks[8:]
    belief = weigh(compiled, evidence)
    stack = stacked(belief.hypotheses)
    one_pass = least_ms(np.ones((len(stack.usual.answer), len(belief.weights))).sum)

    step = least_ms(lambda: choose(compiled, weigh(compiled, evidence), asked, fixes))

    say(f"{len(belief.weights)} hypotheses: whole step {step:.1f} ms, {step / one_pass:.1f} dense passes")
    assert step <= 20 * one_pass


def test_posteriors_and_gains_are_faster_than_a_general_purpose_library() -> None:
    # one node for the cause, 40 for the findings: posterior and mutual information of each, by pyAgrum
    compiled = a_base(30, 40, 30)
    hypotheses = hypotheses_of(compiled)
    network = gum.BayesNet()
    network.add(gum.LabelizedVariable("h", "h", len(hypotheses) - 1))
    network.cpt("h")[:] = hypotheses.prior[1:]
    for shown in hypotheses.shown.values():
        name, states = shown.shows.about, len(shown.shows.states)
        strength = np.tile(shown.shows.background, (len(hypotheses), 1))
        strength[shown.rows] = shown.strength
        network.add(gum.LabelizedVariable(name, name, states))
        network.addArc("h", name)
        network.cpt(name)[:] = strength[1:]
    names = [shown.shows.about for shown in hypotheses.shown.values()]

    def by_library() -> None:
        engine = gum.LazyPropagation(network)
        engine.setEvidence({names[0]: 0})
        engine.makeInference()
        for name in names[1:]:
            gum.InformationTheory(engine, ["h"], [name]).mutualInformationXY()

    evidence = [
        found(f, {next(iter(node.states)): 1.0}, computed=True)
        for f, node in list(compiled.knowledge.findings.items())[:1]
    ]

    def by_us() -> None:
        rank(compiled, weigh(compiled, evidence), list(compiled.knowledge.checks)[1:])

    ours, theirs = least_ms(by_us), least_ms(by_library, times=3)

    say(f"ours {ours:.2f} ms, the library {theirs:.1f} ms: {theirs / ours:.0f} times")
    assert ours < theirs
