"""Posteriors and gains against pyAgrum, a general-purpose Bayesian-network library, on random small bases to 1e-9."""

# The library comes without types:
# mypy: disable-error-code="no-untyped-call"

import warnings
from collections.abc import Mapping

import numpy as np
import pytest

from assistant.reasoning import Evidence, found, rank, weigh
from assistant.reasoning.belief import Belief
from kb.compiling import SHARES, Compiled, Floats, finding_node
from kb.ids import CheckId, FindingId, StateId
from kb.likelihood import HOW_RIGHT
from tests.reasoning.bases import a_cause, a_finding, compiled_of, knowledge_of
from tests.reasoning.plain import ELSE, Hypothesis, p_state, priors

with warnings.catch_warnings():
    # its binding warns of itself on import, and crashes where warnings are errors
    warnings.simplefilter("ignore")
    import pyagrum as gum

CAUSES, FINDINGS = 5, 5


def random_yes_or_no_base(seed: int) -> Compiled:
    """Causes that never show a finding less than the background does: what a leaky noisy-or can say."""
    chance = np.random.default_rng(seed)  # noqa: TID251 - seeded: the same base each time
    usual = chance.uniform(0.02, 0.3, size=FINDINGS)
    findings = [a_finding(f"f{f}", {"no": 1 - p, "yes": float(p)}, normal="no") for f, p in enumerate(usual)]
    causes = [
        a_cause(
            f"c{c}",
            {
                f"f{f}": {"yes": float(chance.uniform(usual[f], 0.95))}
                for f in range(FINDINGS)
                if chance.random() < 0.6
            },
            how_common=str(chance.choice(["very common", "common", "rare"])),
        )
        for c in range(CAUSES)
    ]
    return compiled_of(knowledge_of(findings=findings, causes=causes, edition=f"library{seed}"), SHARES)


def network_of(compiled: Compiled) -> tuple[gum.BayesNet, list[Hypothesis]]:
    """One node says which hypothesis holds, a node for each cause whether it is there, a noisy-or for each finding.

    The library's compound noisy-or takes strengths with the leak included (Henrion), as ours are written.
    """
    prior = priors(compiled)
    names = list(prior)
    network = gum.BayesNet()
    network.add(gum.LabelizedVariable("h", "h", len(names)))
    network.cpt("h")[:] = [prior[h] for h in names]
    for cause in (*compiled.causes, *ELSE):
        network.add(gum.LabelizedVariable(cause, cause, 2))
        network.addArc("h", cause)
        network.cpt(cause)[:] = [[0.0, 1.0] if cause in h else [1.0, 0.0] for h in names]
    for finding in compiled.knowledge.findings:
        shows = compiled.shows[finding_node(finding)]
        leak = float(shows.background[1])
        network.addNoisyORCompound(gum.LabelizedVariable(finding, finding, 2), leak)
        rows = zip([compiled.causes[c] for c in shows.causes], shows.strength, strict=True)
        for cause, strength in rows:
            network.addWeightedArc(cause, finding, float(strength[1]))
        network.addWeightedArc(ELSE[0], finding, p_state(compiled, shows, ELSE, 1))
        answer, right = f"said {finding}", HOW_RIGHT["nearly always"]
        network.add(gum.LabelizedVariable(answer, answer, 2))
        network.addArc(finding, answer)
        network.cpt(answer)[:] = [[right, 1 - right], [1 - right, right]]
    return network, names


def by_name(belief: Belief) -> dict[Hypothesis, float]:
    names = [*belief.causes, ""]
    rows = list(zip(belief.hypotheses.first, belief.hypotheses.second, belief.weights, strict=True))[1:]
    named = {tuple(n for n in (names[a], names[b]) if n): float(w) for a, b, w in rows}
    return {(h or ELSE): w for h, w in named.items()}


@pytest.mark.parametrize("seed", range(12))
def test_posteriors_with_pairs_and_doubtful_answers_are_the_librarys(seed: int) -> None:
    compiled = random_yes_or_no_base(seed)
    chance = np.random.default_rng(1000 + seed)  # noqa: TID251 - as above
    read = {f: chance.dirichlet((1.0, 1.0)) for f in list(compiled.knowledge.findings)[: 2 + seed % 4]}
    network, names = network_of(compiled)
    engine = gum.LazyPropagation(network)
    engine.setEvidence({f"said {f}": list(p) for f, p in read.items()})

    belief = weigh(compiled, [told(f, p) for f, p in read.items()])

    ours = by_name(belief)
    assert [ours[h] for h in names] == pytest.approx(engine.posterior("h").tolist(), abs=1e-9)
    for place, cause in enumerate(compiled.causes):
        assert belief.probability[place] == pytest.approx(engine.posterior(cause)[1], abs=1e-9)


@pytest.mark.parametrize("seed", range(6))
def test_gains_on_hypotheses_are_the_librarys_mutual_information(seed: int) -> None:
    compiled = random_yes_or_no_base(seed)
    network, _ = network_of(compiled)
    engine = gum.LazyPropagation(network)
    first, *others = compiled.knowledge.findings
    engine.setEvidence({f"said {first}": [0.2, 0.8]})
    belief = weigh(compiled, [told(first, np.array([0.2, 0.8]))])

    gains = {
        r.finding: r.gain_causes_bits
        for r in rank(compiled, belief, [CheckId(f"look_at_{f}") for f in others])
    }

    for finding in others:
        information = gum.InformationTheory(engine, ["h"], [f"said {finding}"])
        assert gains[finding] == pytest.approx(information.mutualInformationXY(), abs=1e-9)


def told(finding: FindingId, p: Floats | Mapping[int, float]) -> Evidence:
    read = {StateId("no"): float(p[0]), StateId("yes"): float(p[1])}
    return found(finding, read, check=CheckId(f"look_at_{finding}"))
