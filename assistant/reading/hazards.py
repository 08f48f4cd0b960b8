"""What can hurt somebody, heard in direct and indirect words, whatever else the text is about.

A hazard comes before thrift: a phrase half heard is reported with a low confidence, and the conversation asks. What
is denied, only supposed, long past, mended since, or a figure of speech is not a hazard.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Final, NamedTuple

from assistant.reading.agreed import agreed_hazards
from assistant.reading.attach import attach
from assistant.reading.danger_scope import left_of, spelled
from assistant.reading.ear import Like
from assistant.reading.lexicon import Lexicon
from assistant.reading.matching import Match
from assistant.reading.mentions import Mention
from assistant.reading.said import HazardSaid, Span
from assistant.reading.scene import Scene, around_of
from assistant.reading.scope import scope_of
from assistant.reading.senses import Pair, Sense
from assistant.reading.stems import stem
from assistant.reading.thresholds import LEAST_HAZARD, SAY_BACK
from assistant.reading.told import Places, explained, places_of, told_in
from assistant.reading.wordsets import word_set
from kb.ids import HazardId, WordGroupId

_PHRASE: Final = 0.96
_LEAST_PHRASE: Final = 0.8
"""Below it too many words stand between, or too many are other forms."""
_PAIR: Final = 0.92
_STEM_FROM: Final = 5
_TOLD: Final = 0.93
_DOUBTFUL: Final = 0.5
_MENDED: Final = WordGroupId("mended_since")
"""The words by which people say that it is over: "the electrician replaced it"."""
_MACHINE: Final = WordGroupId("our_machine")
_MENDED_WITHIN: Final = 12
_NEARLY: Final = 0.2
_CLEARLY: Final = 0.02
_REPEATED: Final = word_set(
    "again keeps twice repeatedly every always third otra nuevamente vuelve vuelto siempre tercera cada sigue"
)
_REPEATED_WITHIN: Final = 6
_TIMES: Final = word_set("times veces")
_ONCE: Final = word_set("one 1 una un a algunas")


class _Heard(NamedTuple):
    hazard: HazardId
    parts: tuple[tuple[int, int], ...]
    """Places `[first, last)` of the words that tell it, the head first."""
    trust: float
    act: bool


def hazards_of(
    lexicon: Lexicon,
    scene: Scene,
    met: Collection[HazardId] = frozenset(),
    likes: Sequence[Like] = (),
    *,
    replying: bool = False,
) -> tuple[HazardSaid, ...]:
    """Every hazard heard, the surest words of each, in the order of the text; `met` are those of the case so far."""
    composed, refused = composed_hazards(lexicon, scene, met)
    best = agreed_hazards(
        lexicon, scene, composed, likes, harmless_in(scene), replying=replying, refused=refused
    )
    left = {hazard: said for hazard, said in best.items() if not _gives_way(lexicon, said, best)}
    return tuple(sorted(left.values(), key=lambda said: (said.span, said.hazard)))


def harmless_in(scene: Scene) -> tuple[Match[Sense], ...]:
    """Figures of speech and the like, each for its own hazard."""
    return tuple(m for m in scene.matches if m.target.kind == "not_hazard" and m.gaps == 0)


def composed_hazards(
    lexicon: Lexicon, scene: Scene, met: Collection[HazardId] = frozenset()
) -> tuple[dict[HazardId, HazardSaid], frozenset[HazardId]]:
    """What the words say by phrases, pairs and what is told together, the surest words of each hazard.

    Second, those whose words stand there and are denied, explained or mended: no likeness brings them back.
    """
    best: dict[HazardId, HazardSaid] = {}
    refused: set[HazardId] = set()
    harmless = harmless_in(scene)
    places = places_of(lexicon.told, scene.tokens)
    mended = [match.first for match in places.get(_MENDED, ()) if match.gaps == 0]
    for heard in (*_phrases(lexicon, scene), *_pairs(lexicon, scene), *_told(lexicon, scene, places, met)):
        if _explained(heard, harmless):
            refused.add(heard.hazard)
            continue
        trust = heard.trust * _left(scene, heard) * _unexplained(lexicon, scene, heard, places)
        sure = spelled(scene.tokens, heard.parts, trust)
        last = max(end for _, end in heard.parts)
        if sure < LEAST_HAZARD or any(last <= place <= last + _MENDED_WITHIN for place in mended):
            refused.add(heard.hazard)
            continue
        hazard = _again(lexicon, scene, heard)
        first = min(start for start, _ in heard.parts)
        span = Span(scene.tokens[first].start, scene.tokens[last - 1].end)
        if hazard not in best or sure > best[hazard].confidence:
            best[hazard] = HazardSaid(hazard=hazard, confidence=min(sure, 0.98), span=span)
    return best, frozenset(refused)


def _left(scene: Scene, heard: _Heard) -> float:
    """What denial, doubt and time leave: of the head its time, of every part its denial."""
    taken = frozenset(place for first, last in heard.parts for place in range(first, last))
    left = 1.0
    for number, (first, last) in enumerate(heard.parts):
        around = around_of(scene, first)
        if around is None:
            return 0.0
        own = frozenset(range(first, last))
        scope = scope_of(scene.tokens, around.chunk, first, last, taken - own)
        if scope.denied:
            return 0.0
        if number == 0:
            left = left_of(scene.tokens, around.chunk, scope, first, act=heard.act)
    return left


def _again(lexicon: Lexicon, scene: Scene, heard: _Heard) -> HazardId:
    """A second time turns a hazard into the danger that it becomes: "it tripped again", "ya van tres veces"."""
    becomes = lexicon.knowledge.hazards[heard.hazard].becomes
    if becomes is None:
        return heard.hazard
    first, last = heard.parts[0]
    around = around_of(scene, first)
    start = first if around is None else max(around.chunk.first, first - _REPEATED_WITHIN)
    end = last if around is None else min(around.chunk.last, last + _REPEATED_WITHIN)
    words = [token.word for token in scene.tokens[start:end]]
    counted = any(two in _TIMES and one not in _ONCE for one, two in pairwise(words))
    return becomes if _REPEATED & set(words) or counted else heard.hazard


def _gives_way(lexicon: Lexicon, said: HazardSaid, heard: Mapping[HazardId, HazardSaid]) -> bool:
    """The one of which another says more goes; of two rivals the one that is less the very words."""
    hazards = lexicon.knowledge.hazards
    for other in heard.values():
        if said.hazard not in hazards[other.hazard].covers:
            continue
        rivals = other.hazard in hazards[said.hazard].covers
        if rivals and _is_part(said.span, other.span):
            return True
        least = said.confidence + _CLEARLY if rivals else said.confidence - _NEARLY
        if other.confidence > least:
            return True
    return False


def _is_part(one: Span, other: Span) -> bool:
    """The longer words decide: "I'm locked in the cooler" is more than "locked in the cooler"."""
    return other.start <= one.start and one.start < other.end and one != other


def _phrases(lexicon: Lexicon, scene: Scene) -> Iterator[_Heard]:
    for match in scene.matches:
        close = match.score >= _LEAST_PHRASE and match.gaps * 2 <= match.words
        if match.target.kind == "hazard" and close:
            hazard = HazardId(match.target.id)
            act = lexicon.knowledge.hazards[hazard].act
            yield _Heard(hazard, ((match.first, match.last),), _PHRASE * match.score, act)


def _pairs(lexicon: Lexicon, scene: Scene) -> Iterator[_Heard]:
    for quality in scene.qualities:
        around = around_of(scene, quality.first)
        if around is None or not _stands(scene, quality):
            continue
        for name in quality.ids:
            fits = lexicon.hazard_things.get(name)
            if fits is None:
                continue
            for one in attach(scene.tokens, quality, around, fits.__contains__):
                for hazard in lexicon.hazards_of[Pair(one.thing, name)]:
                    trust = _PAIR * one.trust * quality.score
                    yield _Heard(hazard, ((quality.first, quality.last),), trust, act=False)


def _stands(scene: Scene, quality: Mention) -> bool:
    """A lone word that only shares its first four letters with the quality's ("trapo", "trapped") is another."""
    exact = quality.score >= 1
    return exact or quality.words > 1 or len(stem(scene.tokens[quality.first].word)) >= _STEM_FROM


def _told(lexicon: Lexicon, scene: Scene, places: Places, met: Collection[HazardId]) -> Iterator[_Heard]:
    for one in told_in(lexicon.told, scene.tokens, places):
        if one.told.after is not None and one.told.after not in met:
            continue
        act = one.told.act or lexicon.knowledge.hazards[one.hazard].act
        trust = min(_DOUBTFUL, SAY_BACK) * one.trust if one.told.doubtful else _TOLD * one.trust
        yield _Heard(one.hazard, one.parts, trust, act)


def _unexplained(lexicon: Lexicon, scene: Scene, heard: _Heard, places: Places) -> float:
    """Coffee that is roasted next door explains a burnt smell, unless the sentence names one of our own machines."""
    node = lexicon.knowledge.hazards[heard.hazard]
    if explained(node.unless, scene.tokens, heard.parts[0], places):
        return 0.0
    why = explained(node.unless_ours_is_named, scene.tokens, heard.parts[0], places)
    if not why:
        return 1.0
    inside = {place for match in why for place in range(match.first, match.last)}
    own = explained((_MACHINE,), scene.tokens, heard.parts[0], places)
    return _DOUBTFUL if any(match.first not in inside for match in own) else 0.0


def _explained(heard: _Heard, harmless: Sequence[Match[Sense]]) -> bool:
    """A figure of speech over the head of the very words explains them away, for its own hazard only."""
    first, last = heard.parts[0]
    return any(
        match.target.id == heard.hazard and match.first < last and first < match.last for match in harmless
    )
