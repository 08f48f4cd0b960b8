"""What can hurt somebody, heard in direct and indirect words, whatever else the text is about.

A hazard comes before thrift: a phrase half heard is reported with a low confidence, and the conversation asks. What
is denied, only supposed, long past, or a figure of speech is not a hazard.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Final, NamedTuple

from assistant.reading.alike import Alike
from assistant.reading.attach import Around, attach
from assistant.reading.lexicon import Lexicon
from assistant.reading.matching import Match
from assistant.reading.said import HazardSaid, Span
from assistant.reading.scene import Scene, around_of
from assistant.reading.scope import Scope, scope_of
from assistant.reading.senses import Pair, Sense
from assistant.reading.thresholds import LEAST_HAZARD
from assistant.reading.wordsets import word_set
from kb.ids import HazardId

_PHRASE: Final = 0.96
_PAIR: Final = 0.92
_ALIKE: Final = 0.45
_ASKED: Final = 0.5
_WOULD_BE: Final = 0.0
_BEFORE: Final = 0.7
_OF_NOTHING: Final = 0.4
"""A word that only hazards speak of, said of nothing that we know."""
_VERY_LIKE: Final = 0.86
_NEARLY: Final = 0.2
_NEAR: Final = 3
"""Tokens between a figure of speech and the hazard phrase that it explains away."""
_CLEARLY: Final = 0.02
_RIVALS: Final = {"shut_in": "shut_in_self", "shut_in_self": "shut_in"}
"""Inside or outside the door: where the words do not settle it, both are said, since either may save a life."""
_VAGUER: Final = {
    "unwell_inside": ("co2", "carbon_monoxide", "refrigerant", "chemicals", "tingle", "cold_person"),
    "leak_device": ("breaker_again",),
}
"""Hazards of which another one says more: dizzy from a cause that the words name, and so on."""
_REPEATED: Final = word_set(
    "again keeps twice repeatedly every always third otra nuevamente vuelve vuelto siempre tercera cada sigue"
)
_TIMES: Final = word_set("times veces")
_ONCE: Final = word_set("one 1 una un a algunas")


class _Heard(NamedTuple):
    hazard: HazardId
    first: int
    last: int
    trust: float


def hazards_of(lexicon: Lexicon, scene: Scene, alike: Iterable[Alike]) -> tuple[HazardSaid, ...]:
    """Every hazard heard, the surest words of each, in the order of the text."""
    best: dict[HazardId, HazardSaid] = {}
    harmless = [match for match in scene.matches if match.target.kind == "not_hazard"]
    for heard in (*_phrases(scene), *_pairs(lexicon, scene), *_alike(alike, harmless)):
        around = around_of(scene, heard.first)
        if around is None or _explained(heard, harmless):
            continue
        scope = scope_of(scene.tokens, around.chunk, heard.first, heard.last, frozenset())
        sure = heard.trust * _weight(scope)
        if sure < LEAST_HAZARD:
            continue
        hazard = _again(lexicon, scene, around, heard)
        span = Span(scene.tokens[heard.first].start, scene.tokens[heard.last - 1].end)
        if hazard not in best or sure > best[hazard].confidence:
            best[hazard] = HazardSaid(hazard=hazard, confidence=min(sure, 0.98), span=span)
    left = {hazard: said for hazard, said in best.items() if not _gives_way(said, best)}
    return tuple(sorted(left.values(), key=lambda said: (said.span, said.hazard)))


def _again(lexicon: Lexicon, scene: Scene, around: Around, heard: _Heard) -> HazardId:
    """A second time turns a hazard into the danger that it becomes: "it tripped again", "ya van tres veces"."""
    becomes = lexicon.knowledge.hazards[heard.hazard].becomes
    words = [token.word for token in scene.tokens[around.chunk.first : around.chunk.last]]
    pairs = pairwise(words)
    counted = any(two in _TIMES and one not in _ONCE for one, two in pairs)
    return becomes if becomes is not None and (_REPEATED & set(words) or counted) else heard.hazard


def _gives_way(said: HazardSaid, heard: Mapping[HazardId, HazardSaid]) -> bool:
    """The vaguer of two goes where the words tell the cause; of two rivals the one that is less the very words."""
    rival = heard.get(HazardId(_RIVALS.get(said.hazard, "")))
    if rival is not None and rival.confidence > said.confidence + _CLEARLY:
        return True
    others = [heard[HazardId(other)] for other in _VAGUER.get(said.hazard, ()) if HazardId(other) in heard]
    return any(other.confidence >= said.confidence - _NEARLY for other in others)


def _phrases(scene: Scene) -> Iterator[_Heard]:
    for match in scene.matches:
        if match.target.kind == "hazard":
            yield _Heard(HazardId(match.target.id), match.first, match.last, _PHRASE * match.score)


def _pairs(lexicon: Lexicon, scene: Scene) -> Iterator[_Heard]:
    for quality in scene.qualities:
        around = around_of(scene, quality.first)
        if around is None:
            continue
        for name in quality.ids:
            fits = lexicon.hazard_things.get(name)
            if fits is None:
                continue
            found = attach(scene.tokens, quality, around, fits.__contains__)
            for one in found:
                for hazard in lexicon.hazards_of[Pair(one.thing, name)]:
                    yield _Heard(hazard, quality.first, quality.last, _PAIR * one.trust * quality.score)
            if not found and quality.score >= 1 and name in lexicon.only_hazards:
                for hazard in lexicon.only_hazards[name]:
                    yield _Heard(hazard, quality.first, quality.last, _OF_NOTHING * quality.score)


def _alike(alike: Iterable[Alike], harmless: Sequence[Match[Sense]]) -> Iterator[_Heard]:
    for sense, first, last, likeness in alike:
        explained = any(match.first < last and first < match.last for match in harmless)
        if sense.kind == "hazard" and likeness >= _VERY_LIKE and not explained:
            yield _Heard(HazardId(sense.id), first, last, _ALIKE * likeness)


def _explained(heard: _Heard, harmless: Sequence[Match[Sense]]) -> bool:
    """A figure of speech over the same words explains them away, for its own hazard only."""
    return any(
        match.target.id == heard.hazard
        and match.first < heard.last + _NEAR
        and heard.first < match.last + _NEAR
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
