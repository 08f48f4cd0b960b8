"""Small knowledge bases for tests: written by hand in a line, or drawn at random. All invented."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

import networkx as nx
import numpy as np

from kb.compiling import Compiled, Shares, compile_
from kb.ids import CauseId, CheckId, FindingId, FixId, StateId, SymptomId
from kb.knowledge import Knowledge
from kb.schema import Cause, Check, Effort, Finding, Fix, Symptom, Text, Verify, Wordings

ALONE = Shares(nothing_wrong=0.0, something_else=0.0, two_causes=0.0)
"""Only the listed causes, one at a time."""
T = Text(en="x", es="x")


def a_finding(
    name: str, background: Mapping[str, float | str], normal: str | None = None, **more: object
) -> Finding:
    """A finding with these states in order; `background` names them all but leaves the normal one's share open."""
    return Finding.model_validate(
        {
            "finding": name,
            "means": T,
            "topic": T,
            "normal": normal,
            "background": {s: p for s, p in background.items() if s != normal},
            "states": {s: {"en": [s], "es": [s]} for s in background},
            **more,
        }
    )


def a_cause(
    name: str, shows: Mapping[str, Mapping[str, float | str]], fixes: Sequence[str] = (), **more: object
) -> Cause:
    return Cause.model_validate(
        {
            "cause": name,
            "means": T,
            "equipment": ["window", "through_wall", "mini_split"],
            "how_common": "common",
            "shows": shows,
            "fixes": list(fixes) or [f"mend_{name}"],
            **more,
        }
    )


def a_check(finding: str, name: str | None = None, minutes: float = 1.0, **more: object) -> Check:
    return Check.model_validate(
        {
            "check": name or f"look_at_{finding}",
            "finds": finding,
            "ask": T,
            "again": T,
            "why": T,
            "how": T,
            "effort": {"minutes": minutes},
            "people_are_right": "nearly always",
            **more,
        }
    )


def a_fix(name: str, **more: object) -> Fix:
    return Fix.model_validate(
        {
            "fix": name,
            "means": T,
            "who": "customer",
            "steps": [],
            "minutes": 10.0,
            "works": "nearly always",
            "verify": Verify(after_hours=1),
            "should_change": T,
            **more,
        }
    )


def a_symptom(name: str, **more: object) -> Symptom:
    return Symptom.model_validate({"symptom": name, "means": T, "say_back": T, "sayings": Wordings(), **more})


def knowledge_of(
    *,
    findings: Sequence[Finding],
    causes: Sequence[Cause],
    checks: Sequence[Check] | None = None,
    fixes: Sequence[Fix] | None = None,
    symptoms: Sequence[Symptom] = (),
    edition: str = "0123456789ab",
) -> Knowledge:
    checks = [a_check(f.finding) for f in findings] if checks is None else checks
    fixes = [a_fix(name) for name in sorted({x for c in causes for x in c.fixes})] if fixes is None else fixes
    return Knowledge(
        edition=edition,
        symptoms=MappingProxyType({x.symptom: x for x in sorted(symptoms, key=lambda x: x.symptom)}),
        findings=MappingProxyType({x.finding: x for x in sorted(findings, key=lambda x: x.finding)}),
        checks=MappingProxyType({x.check: x for x in sorted(checks, key=lambda x: x.check)}),
        causes=MappingProxyType({x.cause: x for x in sorted(causes, key=lambda x: x.cause)}),
        fixes=MappingProxyType({x.fix: x for x in sorted(fixes, key=lambda x: x.fix)}),
        hazards=MappingProxyType({}),
        things=MappingProxyType({}),
        qualities=MappingProxyType({}),
        quantities=MappingProxyType({}),
        word_groups=MappingProxyType({}),
        graph=nx.DiGraph(),
    )


def compiled_of(
    knowledge: Knowledge, shares: Shares = ALONE, weight: Sequence[float] | None = None
) -> Compiled:
    """Compiled, with weights of its own for the causes where words are too coarse."""
    compiled = compile_(knowledge, shares)
    return compiled if weight is None else replace(compiled, weight=np.array(weight, dtype=np.float64))


A8_WEIGHT = (0.40, 0.25, 0.20, 0.15)


def a8() -> Compiled:
    """Case A8 of the reference cases: four causes, three findings; arithmetic on made-up numbers."""
    tables: dict[str, dict[str, tuple[float, ...]]] = {
        "ice": {"a": (0.7, 0.2, 0.1), "b": (0.1, 0.3, 0.6), "c": (0.05, 0.15, 0.8), "d": (0.2, 0.3, 0.5)},
        "air": {"a": (0.1, 0.9), "b": (0.6, 0.4), "c": (0.85, 0.15), "d": (0.5, 0.5)},
        "amps": {"a": (0.8, 0.2), "b": (0.75, 0.25), "c": (0.1, 0.9), "d": (0.5, 0.5)},
    }
    states = {"ice": ("solid", "patchy", "none"), "air": ("cold", "warm"), "amps": ("high", "low")}
    findings = [a_finding(f, dict.fromkeys(states[f], 1 / len(states[f]))) for f in tables]
    causes = [
        a_cause(c, {f: dict(zip(states[f], tables[f][c], strict=True)) for f in tables})
        for c in ("a", "b", "c", "d")
    ]
    return compiled_of(knowledge_of(findings=findings, causes=causes), weight=A8_WEIGHT)


def random_knowledge(
    seed: int,
    *,
    causes: int = 6,
    findings: int = 6,
    mentions: float = 0.5,
    ordered: bool = True,
    fixes: int | None = None,
    edition: str | None = None,
) -> Knowledge:
    """Findings of two to four states, the first one normal; causes that mention some of them."""
    chance = np.random.default_rng(seed)  # noqa: TID251 - seeded: the same base each time
    made = []
    for f in range(findings):
        states = [f"s{i}" for i in range(int(chance.integers(2, 5)))]
        usual = dict(zip(states, chance.dirichlet(np.ones(len(states))) * 0.4, strict=True))
        made.append(
            a_finding(
                f"f{f:03}",
                {s: max(p, 0.01) for s, p in usual.items()},
                normal="s0",
                ordered=ordered and f % 2 == 0,
            )
        )
    classes = causes if fixes is None else fixes
    listed = []
    for c in range(causes):
        shows = {}
        for node in made:
            if chance.random() < mentions:
                states = list(node.states)
                shows[str(node.finding)] = {states[-1]: float(chance.choice([0.92, 0.77, 0.67, 0.3]))}
        common = str(chance.choice(["very common", "common", "uncommon", "rare"]))
        listed.append(a_cause(f"c{c:03}", shows, [f"fix{c % classes:03}"], how_common=common))
    return knowledge_of(
        findings=made, causes=listed, edition=edition or f"random{seed:06}{causes:04}{findings:04}"
    )


__all__ = [
    "A8_WEIGHT",
    "ALONE",
    "CauseId",
    "CheckId",
    "Effort",
    "FindingId",
    "FixId",
    "StateId",
    "SymptomId",
    "a8",
    "a_cause",
    "a_check",
    "a_finding",
    "a_fix",
    "a_symptom",
    "compiled_of",
    "knowledge_of",
    "random_knowledge",
]
