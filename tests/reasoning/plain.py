"""The arithmetic said plainly, in loops over hypotheses, states and the ways in which fixes can have gone."""

import itertools
import math
from collections.abc import Sequence

from assistant.reasoning import Evidence, FixTried
from kb.compiling import Compiled, Floats, Node, Shows
from kb.ids import CauseId
from kb.likelihood import HOW_RIGHT, HOW_STRONGLY

Hypothesis = tuple[str, ...]
"""Names of the causes at work; `("~",)` is something else, `()` is nothing."""
ELSE: Hypothesis = ("~",)


def priors(compiled: Compiled) -> dict[Hypothesis, float]:
    shares, names = compiled.shares, compiled.causes
    faults = [i for i in range(len(names)) if not compiled.normal[i]]
    normals = [i for i in range(len(names)) if compiled.normal[i]]
    pairs = [(i, j) for i, j in itertools.combinations(faults, 2) if compiled.reach[i, j] > 0]
    kinds: list[tuple[float, dict[Hypothesis, float]]] = [
        (
            1 - shares.nothing_wrong - shares.something_else - shares.two_causes,
            {(names[i],): compiled.weight[i] * compiled.reach[i, i] for i in faults},
        ),
        (shares.nothing_wrong, {(names[i],): compiled.weight[i] * compiled.reach[i, i] for i in normals}),
        (
            shares.two_causes,
            {
                (names[i], names[j]): compiled.weight[i] * compiled.weight[j] * compiled.reach[i, j]
                for i, j in pairs
            },
        ),
    ]
    kinds = [(share, weights) for share, weights in kinds if share > 0 and sum(weights.values()) > 0]
    left = (1 - shares.something_else) / sum(share for share, _ in kinds)
    prior = {ELSE: shares.something_else} if shares.something_else > 0 else {}
    for share, weights in kinds:
        prior |= {h: left * share * w / sum(weights.values()) for h, w in weights.items()}
    return prior


def p_state(compiled: Compiled, shows: Shows, hypothesis: Hypothesis, state: int) -> float:
    """P(state | exactly these causes at work)."""
    if hypothesis == ELSE:
        listed = {h: p for h, p in priors(compiled).items() if h != ELSE}
        return sum(p * p_state(compiled, shows, h, state) for h, p in listed.items()) / sum(listed.values())
    rows = []
    for name in hypothesis:
        place = compiled.causes.index(CauseId(name))
        hidden = any(compiled.hides[compiled.causes.index(CauseId(other)), place] for other in hypothesis)
        if not hidden and place in list(shows.causes):
            rows.append(shows.strength[list(shows.causes).index(place)])
    usual = shows.background
    if not rows:
        return float(usual[state])
    return float(rows[0][state]) if len(rows) == 1 else both(shows, rows[0], rows[1])[state]


def both(shows: Shows, a: Floats, b: Floats) -> list[float]:
    usual, normal, states = shows.background, shows.normal, range(len(shows.states))
    if normal is None:
        raw = [a[s] * b[s] / usual[s] for s in states]
    elif shows.ordered and len(states) > 2 and normal in (0, len(states) - 1):
        order = list(states) if normal == 0 else list(reversed(states))
        raw, below = [0.0] * len(states), 0.0
        for n in range(len(states)):
            up_to = [sum(p[s] for s in order[: n + 1]) for p in (usual, a, b)]
            cumulative = up_to[0] * min(1, up_to[1] / up_to[0]) * min(1, up_to[2] / up_to[0])
            raw[order[n]] = max(0.0, cumulative - below)
            below = max(below, cumulative)
    else:
        if shows.ordered and len(states) > 2:
            p_n = min(max(a[normal], b[normal], usual[normal]), a[normal] * b[normal] / usual[normal])
        else:
            p_n = usual[normal] * min(1, a[normal] / usual[normal]) * min(1, b[normal] / usual[normal])
        rest = [0.0 if s == normal else max(a[s] + b[s] - usual[s], min(a[s], b[s])) for s in states]
        raw = [p_n if s == normal else (1 - p_n) * rest[s] / sum(rest) for s in states]
    raw = [max(raw[s], 0.01 * min(a[s], b[s])) for s in states]
    return [float(x / sum(raw)) for x in raw]


def p_words(compiled: Compiled, shows: Shows, evidence: Evidence, state: int) -> float:
    """P(words | true state), up to scale."""
    lam = [evidence.likelihood.get(s, 0.0) / max(evidence.likelihood.values()) for s in shows.states]
    if evidence.computed:
        return lam[state]
    check = compiled.knowledge.checks.get(evidence.check) if evidence.check else None
    right = HOW_RIGHT[check.people_are_right if check else "usually"]
    wrong = (1 - right) / (len(lam) - 1)
    return sum((right if a == state else wrong) * lam[a] for a in range(len(lam)))


def p_item(compiled: Compiled, about: Node, evidence: Evidence, hypothesis: Hypothesis) -> float:
    shows = compiled.shows[about]
    return sum(
        p_state(compiled, shows, hypothesis, s) * p_words(compiled, shows, evidence, s)
        for s in range(len(shows.states))
    )


def weigh(
    compiled: Compiled, evidence: Sequence[Evidence], tried: Sequence[FixTried] = ()
) -> dict[Hypothesis, float]:
    """P(what is at work now), by enumeration. Each piece of evidence must be about another finding or epoch."""
    now: dict[Hypothesis, float] = {}
    for hypothesis, prior in priors(compiled).items():
        for path, chance in paths(compiled, hypothesis, tried):
            weight = prior * chance
            for e in evidence:
                epoch = 0 if compiled.shows[e.about].past else e.epoch
                weight *= p_item(compiled, e.about, e, at_epoch(hypothesis, path, epoch))
            for fix in tried:
                left = at_epoch(hypothesis, path, fix.epoch + 1)
                moved = left != at_epoch(hypothesis, path, fix.epoch)
                weight *= p_result(compiled, fix, left, moved=moved)
            last = at_epoch(hypothesis, path, 10**6)
            now[last] = now.get(last, 0.0) + weight
    total = math.fsum(now.values())
    return {h: w / total for h, w in now.items()}


Path = tuple[int | None, ...]
"""For each cause of the hypothesis, the epoch whose fix cured it, or None."""


def paths(compiled: Compiled, hypothesis: Hypothesis, tried: Sequence[FixTried]) -> list[tuple[Path, float]]:
    choices = []
    for name in hypothesis:
        options, left = [], 1.0
        for fix in sorted(tried, key=lambda f: f.epoch):
            works = p_cures(compiled, fix, name)
            options.append((fix.epoch, left * works))
            left *= 1 - works
        choices.append([*options, (None, left)])
    return [
        (tuple(e for e, _ in path), math.prod(p for _, p in path)) for path in itertools.product(*choices)
    ]


def p_cures(compiled: Compiled, fix: FixTried, name: str) -> float:
    node, cause = compiled.knowledge.fixes[fix.fix], compiled.knowledge.causes.get(CauseId(name))
    if cause is None or fix.fix not in cause.fixes or node.who == "nobody":
        return 0.0
    return HOW_STRONGLY[node.works_for.get(cause.cause, node.works)]


def at_epoch(hypothesis: Hypothesis, path: Path, epoch: int) -> Hypothesis:
    return tuple(
        name for name, cured in zip(hypothesis, path, strict=True) if cured is None or cured >= epoch
    )


def p_result(compiled: Compiled, fix: FixTried, left: Hypothesis, *, moved: bool) -> float:
    if fix.worked is None:
        return 1.0
    seen = 0.5 if fix.moved is None else min(max(fix.moved, 0.02), 0.98)
    worked = min(max(fix.worked, 0.02), 0.98)
    fine = all(name != "~" and compiled.knowledge.causes[CauseId(name)].kind == "normal" for name in left)
    return worked if fine else (1 - worked) * 2 * (seen if moved else 1 - seen)


def entropy(p: Sequence[float]) -> float:
    return -math.fsum(x * math.log2(x) for x in p if x > 0)
