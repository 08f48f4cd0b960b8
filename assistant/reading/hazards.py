"""What can hurt somebody, heard in direct and indirect words, whatever else the text is about.

A hazard comes before thrift: a phrase half heard is reported with a low confidence, and the conversation asks. What
is denied, only supposed, long past, or a figure of speech is not a hazard.
"""

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from assistant.reading.attach import attach
from assistant.reading.lexicon import Lexicon
from assistant.reading.matching import Match
from assistant.reading.said import HazardSaid, Span
from assistant.reading.scene import Scene, around_of
from assistant.reading.scope import Scope, scope_of
from assistant.reading.senses import Pair, Sense
from assistant.reading.thresholds import LEAST_HAZARD
from kb.ids import HazardId

_PHRASE: Final = 0.96
_PAIR: Final = 0.92
_ALIKE: Final = 0.45
_ASKED: Final = 0.5
_WOULD_BE: Final = 0.0
_BEFORE: Final = 0.7
_NEAR: Final = 3
"""Tokens between a figure of speech and the hazard phrase that it explains away."""


def hazards_of(
    lexicon: Lexicon, scene: Scene, alike: Iterable[tuple[Sense, int, int, float]]
) -> tuple[HazardSaid, ...]:
    """Every hazard heard, the surest words of each, in the order of the text."""
    best: dict[HazardId, HazardSaid] = {}
    harmless = [match for match in scene.matches if match.target.kind == "not_hazard"]
    for hazard, first, last, trust in (*_phrases(scene), *_pairs(lexicon, scene), *_alike(alike)):
        around = around_of(scene, first)
        if around is None or _explained(hazard, first, last, harmless):
            continue
        scope = scope_of(scene.tokens, around.chunk, first, last, frozenset())
        sure = trust * _weight(scope)
        if sure < LEAST_HAZARD:
            continue
        said = HazardSaid(
            hazard=hazard,
            confidence=min(sure, 0.98),
            span=Span(scene.tokens[first].start, scene.tokens[last - 1].end),
        )
        if hazard not in best or said.confidence > best[hazard].confidence:
            best[hazard] = said
    return tuple(sorted(best.values(), key=lambda said: (said.span, said.hazard)))


def _phrases(scene: Scene) -> Iterator[tuple[HazardId, int, int, float]]:
    for match in scene.matches:
        if match.target.kind == "hazard":
            yield HazardId(match.target.id), match.first, match.last, _PHRASE * match.score


def _pairs(lexicon: Lexicon, scene: Scene) -> Iterator[tuple[HazardId, int, int, float]]:
    for quality in scene.qualities:
        around = around_of(scene, quality.first)
        if around is None:
            continue
        for name in quality.ids:
            fits = lexicon.hazard_things.get(name)
            if fits is None:
                continue
            for one in attach(scene.tokens, quality, around, fits.__contains__):
                for hazard in lexicon.hazards_of[Pair(one.thing, name)]:
                    yield hazard, quality.first, quality.last, _PAIR * one.trust * quality.score


def _alike(alike: Iterable[tuple[Sense, int, int, float]]) -> Iterator[tuple[HazardId, int, int, float]]:
    for sense, first, last, likeness in alike:
        if sense.kind == "hazard":
            yield HazardId(sense.id), first, last, _ALIKE * likeness


def _explained(hazard: HazardId, first: int, last: int, harmless: Sequence[Match[Sense]]) -> bool:
    """A figure of speech over the same words explains them away, for its own hazard only."""
    return any(
        match.target.id == hazard and match.first < last + _NEAR and first < match.last + _NEAR
        for match in harmless
    )


def _weight(scope: Scope) -> float:
    if scope.denied or scope.when == "would_be":
        return _WOULD_BE
    if not scope.recent:
        return _WOULD_BE
    if scope.when == "asked":
        return _ASKED
    if scope.when == "before":
        return _BEFORE
    return max(scope.trust, 0.6)
