"""From claims to findings: a likelihood over all states for each.

The longer wording wins its words, and a correction wins over what it corrects.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Final

from assistant.reading.compose import Claim
from assistant.reading.lexicon import Lexicon
from assistant.reading.normalise import Token
from assistant.reading.said import FindingSaid, Span
from assistant.reading.sureness import probability_of
from assistant.reading.thresholds import LEAST
from kb.ids import FindingId, StateId

_RANK: Final = {
    "saying": 3,
    "state": 2,
    "answer": 1,
    "pair": 2,
    "carried": 2,
    "unnamed": 2,
    "echo": 1,
    "alike": 0,
}
_CONTRADICTED: Final = 0.7
_REPEATED: Final = 0.97
_LASTING: Final = 0.93
_BESIDE: Final = 2
"""Tokens on either side in which a longer wording of the same finding takes a shorter one along."""


def findings_of(
    lexicon: Lexicon,
    tokens: Sequence[Token],
    claims: Sequence[Claim],
    corrected_from: int | None,
    asked: FindingId | None = None,
) -> tuple[FindingSaid, ...]:
    """The findings said, in the order of the text; `asked` is the one that the open question is about."""
    kept = _longest(claims)
    by_finding: dict[tuple[FindingId, bool], list[Claim]] = {}
    for claim in kept:
        claim = _lasting(lexicon, claim)  # noqa: PLW2901 - the same claim, seen in its time
        live = claim.scope.when in {"now", "by_another"}
        by_finding.setdefault((claim.finding, live), []).append(claim)
    settled = [_settled(found, corrected_from) for found in by_finding.values()]
    said = [_said(lexicon, tokens, claim, asked) for claim in settled]
    return tuple(sorted((s for s in said if s.confidence >= LEAST), key=lambda s: (s.span, s.finding)))


def _lasting(lexicon: Lexicon, claim: Claim) -> Claim:
    """What a room is built of or cooled by does not pass: said of the past it holds now."""
    lasts = lexicon.knowledge.findings[claim.finding].lasts == "always"
    if not lasts or claim.scope.when != "before":
        return claim
    return replace(claim, scope=replace(claim.scope, when="now", trust=claim.scope.trust * _LASTING))


def _longest(claims: Sequence[Claim]) -> tuple[Claim, ...]:
    """Of two claims on the same words the one that read more of them stands."""
    order = sorted(claims, key=lambda c: (-c.words, -_RANK[c.source], -c.trust, c.first, c.finding))
    kept: list[Claim] = []
    at: dict[int, list[Claim]] = {}
    for claim in order:
        around = range(claim.first - _BESIDE, claim.last + _BESIDE)
        near = [other for place in around for other in at.get(place, ())]
        if not any(_covers(other, claim) for other in near):
            kept.append(claim)
            for place in range(claim.first, claim.last):
                at.setdefault(place, []).append(claim)
    return tuple(kept)


def _covers(other: Claim, claim: Claim) -> bool:
    inside = other.first <= claim.first and claim.last <= other.last
    crossing = other.first < claim.last and claim.first < other.last
    if other.finding == claim.finding:
        touching = min(abs(other.first - claim.last), abs(claim.first - other.last)) <= 1
        differ = _top(other.states) != _top(claim.states)
        return crossing or (
            touching and differ and other.words > claim.words + 1
        )  # "opened a few times a day"
    return (
        inside
        and other.words > claim.words
        and other.source in {"saying", "state"}
        and other.trust > claim.trust * 0.8
    )


def _settled(claims: Sequence[Claim], corrected_from: int | None) -> Claim:
    """One claim a finding: a correction wins, agreement strengthens, contradiction weakens the surest."""
    in_order = sorted(claims, key=lambda claim: claim.first)
    if corrected_from is not None:
        after = [claim for claim in in_order if claim.first >= corrected_from]
        if after and len(after) < len(in_order):
            return after[-1]
    best = max(in_order, key=lambda claim: (round(claim.trust * claim.scope.trust, 6), claim.first))
    state = _top(best.states)
    if any(_top(claim.states) != state and claim.trust > LEAST for claim in in_order):
        return replace(best, trust=best.trust * _CONTRADICTED)
    if len(in_order) > 1:
        return replace(best, trust=max(best.trust, min(_REPEATED, best.trust * 1.04)))
    return best


def _top(states: Mapping[StateId, float]) -> StateId:
    return max(states, key=lambda state: (states[state], state))


def _said(lexicon: Lexicon, tokens: Sequence[Token], claim: Claim, asked: FindingId | None) -> FindingSaid:
    trust = min(claim.trust * claim.scope.trust, 0.98)
    if claim.finding != asked:
        trust = probability_of(trust, claim.source, replying=asked is not None)
    background = lexicon.background[claim.finding]
    likelihood = {
        state: trust * claim.states.get(state, 0.0) + (1 - trust) * background[state] for state in background
    }
    state = _top(claim.states)
    return FindingSaid(
        finding=claim.finding,
        state=state,
        likelihood=likelihood,
        confidence=trust * claim.states[state],
        when=claim.scope.when,
        source=claim.source,
        denied=claim.scope.denied,
        span=span_of(tokens, claim.first, claim.last),
    )


def span_of(tokens: Sequence[Token], first: int, last: int) -> Span:
    """The place of tokens `[first, last)` in the text as sent."""
    return Span(tokens[first].start, tokens[last - 1].end)
