"""The arrays agree with the plain loops to 1e-12: pairs, hiding, soft evidence, fixes, epochs, gains."""

import numpy as np
import pytest

from assistant.reasoning import FixTried, complained, found, rank, weigh
from assistant.reasoning.belief import Belief
from assistant.reasoning.evidence import Evidence
from kb.compiling import SHARES, Compiled, finding_node
from kb.ids import CheckId, FindingId, FixId, StateId, SymptomId
from kb.likelihood import HOW_RIGHT
from tests.reasoning import plain
from tests.reasoning.bases import (
    a_cause,
    a_check,
    a_finding,
    a_fix,
    a_symptom,
    compiled_of,
    knowledge_of,
    random_knowledge,
)


def by_hypothesis(belief: Belief) -> dict[plain.Hypothesis, float]:
    names = [*belief.causes, ""]
    rows = zip(belief.hypotheses.first, belief.hypotheses.second, belief.weights, strict=True)
    named = {
        tuple(n for n in (names[a], names[b]) if n): float(w)
        for a, b, w in rows
        if (a, b) != (len(names) - 1,) * 2
    }
    return named | {plain.ELSE: belief.something_else, (): belief.mended}


def some_evidence(compiled: Compiled, seed: int, *, epochs: int = 1) -> list[Evidence]:
    chance = np.random.default_rng(seed)  # noqa: TID251 - seeded: the same base each time
    evidence = []
    for finding, node in compiled.knowledge.findings.items():
        for epoch in range(epochs):
            if chance.random() < 0.7:
                read = dict(zip(node.states, chance.dirichlet(np.ones(len(node.states))), strict=True))
                check = None if chance.random() < 0.3 else CheckId(f"look_at_{finding}")
                evidence.append(
                    found(finding, read, check=check, computed=chance.random() < 0.2, epoch=epoch)
                )
    return evidence


def agree(belief: Belief, plainly: dict[plain.Hypothesis, float]) -> None:
    ours = by_hypothesis(belief)
    assert set(plainly) <= set(ours)
    assert max(abs(ours[h] - plainly.get(h, 0.0)) for h in ours) < 1e-12


@pytest.mark.parametrize("seed", range(8))
def test_belief_is_what_the_plain_loop_says_pairs_included(seed: int) -> None:
    compiled = compiled_of(random_knowledge(seed, causes=7, findings=7), SHARES)
    evidence = some_evidence(compiled, seed)

    agree(weigh(compiled, evidence), plain.weigh(compiled, evidence))


@pytest.mark.parametrize("seed", range(4))
def test_fixes_and_epochs_are_what_enumerating_all_ways_they_can_have_gone_says(seed: int) -> None:
    compiled = compiled_of(random_knowledge(seed, causes=5, findings=4, fixes=3), SHARES)
    evidence = some_evidence(compiled, seed, epochs=3)
    tried = [
        FixTried(fix=FixId("fix000"), epoch=0, worked=0.2, moved=0.85),
        FixTried(fix=FixId("fix001"), epoch=1),
    ]

    agree(weigh(compiled, evidence, tried), plain.weigh(compiled, evidence, tried))


def room_with_everything() -> Compiled:
    """Two-sided, worse-and-worse, unordered, no normal state; a hidden cause; kinds of nothing wrong; complaints."""
    findings = [
        a_finding("reading", {"low": 0.05, "right": 0.9, "high": 0.05}, normal="right"),
        a_finding("ice", {"none": 0.8, "patchy": 0.15, "solid": 0.05}, normal="none"),
        a_finding("noise", {"usual": 0.8, "rattle": 0.1, "hum": 0.1}, normal="usual", ordered=False),
        a_finding("equipment", {"window": 0.5, "mini_split": 0.3, "packaged": 0.2}, lasts="always"),
    ]
    causes = [
        a_cause("reads_high", {"reading": {"high": "usually"}, "noise": {"usual": 0.95}}),
        a_cause(
            "reads_low",
            {"reading": {"low": "nearly always"}, "ice": {"patchy": "often"}},
            equipment=["window"],
        ),
        a_cause(
            "iced", {"ice": {"solid": "nearly always"}, "noise": {"rattle": "sometimes"}}, hides=["dirty"]
        ),
        a_cause(
            "dirty", {"ice": {"solid": "sometimes"}, "noise": {"hum": "usually"}}, equipment=["mini_split"]
        ),
        a_cause("fine", {"reading": {"right": 0.96}}, ["explain"], kind="normal"),
    ]
    fixes = [
        *(a_fix(f"mend_{c}") for c in ("reads_high", "reads_low", "iced", "dirty")),
        a_fix("explain", who="nobody"),
    ]
    knowledge = knowledge_of(
        findings=findings,
        causes=causes,
        fixes=fixes,
        symptoms=[a_symptom("warm", background="sometimes"), a_symptom("iced_up", same_as={"ice": "solid"})],
    )
    return compiled_of(knowledge, SHARES)


def test_every_rule_for_two_causes_is_what_the_plain_loop_says() -> None:
    compiled = room_with_everything()
    evidence = [
        found(
            FindingId("reading"),
            {StateId("right"): 0.7, StateId("high"): 0.3},
            check=CheckId("look_at_reading"),
        ),
        found(FindingId("ice"), {StateId("solid"): 0.9, StateId("patchy"): 0.1}),
        found(FindingId("noise"), {StateId("rattle"): 1.0}, check=CheckId("look_at_noise")),
        found(FindingId("equipment"), {StateId("window"): 1.0}, check=CheckId("look_at_equipment")),
        complained(SymptomId("warm"), 0.9),
    ]
    tried = [
        FixTried(fix=FixId("mend_iced"), epoch=0, worked=0.9),
        FixTried(fix=FixId("explain"), epoch=1, worked=0.1),
    ]

    agree(weigh(compiled, evidence, tried), plain.weigh(compiled, evidence, tried))


@pytest.mark.parametrize("seed", range(4))
def test_gains_of_both_kinds_are_what_the_plain_loop_says(seed: int) -> None:
    compiled = compiled_of(random_knowledge(seed, causes=6, findings=5, fixes=3), SHARES)
    evidence = some_evidence(compiled, seed)[:2]
    belief = weigh(compiled, evidence)
    plainly = plain.weigh(compiled, evidence)

    for ranked in rank(compiled, belief, list(compiled.knowledge.checks)):
        shows = compiled.shows[finding_node(ranked.finding)]
        right, states = HOW_RIGHT["nearly always"], range(len(shows.states))
        joint: dict[tuple[object, int], float] = {}
        noise = 0.0
        for h, p in plainly.items():
            true = [plain.p_state(compiled, shows, h, s) for s in states]
            told = [
                sum(true[s] * (right if s == a else (1 - right) / (len(states) - 1)) for s in states)
                for a in states
            ]
            noise += p * plain.entropy(told)
            for a in states:
                joint[remedy_of(compiled, plainly, h), a] = (
                    joint.get((remedy_of(compiled, plainly, h), a), 0) + p * told[a]
                )
        answers = [sum(p for (_, b), p in joint.items() if a == b) for a in states]
        classes = {r: sum(p for (q, _), p in joint.items() if q == r) for r, _ in joint}
        assert ranked.gain_causes_bits == pytest.approx(plain.entropy(answers) - noise, abs=1e-12)
        on_classes = (
            plain.entropy(answers)
            + plain.entropy(list(classes.values()))
            - plain.entropy(list(joint.values()))
        )
        # the heaviest hypotheses hold at least .999 of belief: no more than what is left out can be missing
        assert ranked.gain_bits == pytest.approx(on_classes, abs=20 * belief.dropped + 1e-12)


def remedy_of(compiled: Compiled, plainly: dict[plain.Hypothesis, float], h: plain.Hypothesis) -> str:
    """The first fix of the likelier class of its causes."""
    if h in (plain.ELSE, ()):
        return "".join(h)
    fix = {c: compiled.knowledge.causes[c].fixes[0] for c in compiled.causes}
    share: dict[str, float] = {}
    for other, p in plainly.items():
        for name in other:
            if name != "~":
                share[fix[name]] = share.get(fix[name], 0.0) + p  # type: ignore[index]  # names are cause ids
    return min((fix[name] for name in h), key=lambda f: (-round(share[f], 9), f))  # type: ignore[index]  # as above


def test_a_check_that_the_knowledge_trusts_less_gains_less() -> None:
    findings = [a_finding("seen", {"no": 0.9, "yes": 0.1}, normal="no")]
    causes = [a_cause("a", {"seen": {"yes": "nearly always"}}), a_cause("b", {})]
    checks = [
        a_check("seen", "look", people_are_right="nearly always"),
        a_check("seen", "guess", people_are_right="often"),
    ]
    compiled = compiled_of(knowledge_of(findings=findings, causes=causes, checks=checks))

    gains = {
        r.check: r.gain_bits for r in rank(compiled, weigh(compiled, []), [CheckId("look"), CheckId("guess")])
    }

    assert gains[CheckId("look")] > 2 * gains[CheckId("guess")] > 0
