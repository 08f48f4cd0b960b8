"""What people complain of: whole phrases, and things × qualities."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from assistant.reading.agreed import agreed_complaints
from assistant.reading.attach import attach
from assistant.reading.ear import Like
from assistant.reading.lexicon import Lexicon
from assistant.reading.said import ComplaintSaid, FindingSaid, Span
from assistant.reading.scene import Scene, around_of
from assistant.reading.scope import Scope, scope_of
from assistant.reading.senses import Pair, Sense
from assistant.reading.thresholds import LEAST
from kb.ids import SymptomId

_PHRASE: Final = 0.95
_SHORT_PHRASE: Final = 0.85
_PAIR: Final = 0.95
_ALIKE: Final = 0.6
_BEFORE: Final = 0.5
_PLAIN: Final = 0.9

Heard = tuple[SymptomId, int, int, float]


def complaints_of(
    lexicon: Lexicon,
    scene: Scene,
    alike: Iterable[tuple[Sense, int, int, float]],
    findings: Sequence[FindingSaid],
    likes: Sequence[Like] = (),
    *,
    replying: bool,
) -> tuple[ComplaintSaid, ...]:
    """Every complaint, the surest words of each, in the order of the text.

    A finding that is another name of a complaint is that complaint as well, unless it only answers our question;
    later rooms count the two once. Beside an answer the ear is not asked: the words answer first.
    """
    best = composed_complaints(lexicon, scene, alike, findings, replying=replying)
    if not replying:
        best = agreed_complaints(lexicon, scene, best, likes)
    return tuple(sorted(best.values(), key=lambda said: (said.span, said.symptom)))


def composed_complaints(
    lexicon: Lexicon,
    scene: Scene,
    alike: Iterable[tuple[Sense, int, int, float]],
    findings: Sequence[FindingSaid],
    *,
    replying: bool,
) -> dict[SymptomId, ComplaintSaid]:
    """What the words complain of by phrases, pairs and findings of the same name."""
    best: dict[SymptomId, ComplaintSaid] = {}
    for symptom, first, last, trust in (*_phrases(scene), *_pairs(lexicon, scene), *_alike(alike)):
        around = around_of(scene, first)
        if around is None or (replying and not _is_added(scene, first, trust, findings)):
            continue
        scope = scope_of(scene.tokens, around.chunk, first, last, frozenset())
        sure = trust * _weight(scope, request=lexicon.knowledge.symptoms[symptom].request)
        if sure < LEAST or (symptom in best and best[symptom].confidence >= sure):
            continue
        span = Span(scene.tokens[first].start, scene.tokens[last - 1].end)
        best[symptom] = ComplaintSaid(symptom=symptom, confidence=min(sure, 0.98), span=span)
    for said in () if replying else _same(lexicon, findings):
        if said.symptom not in best or best[said.symptom].confidence < said.confidence:
            best[said.symptom] = said
    return best


def _is_added(scene: Scene, first: int, trust: float, findings: Sequence[FindingSaid]) -> bool:
    """In a reply the first statement answers; a complaint comes after it, plainly, in words that tell no finding."""
    place = scene.tokens[first].start
    answers = not scene.chunks or first < scene.chunks[0].segments[0][1]
    told = any(said.span.start <= place < said.span.end for said in findings)
    return trust >= _PLAIN and not answers and not told


def _same(lexicon: Lexicon, findings: Sequence[FindingSaid]) -> Iterator[ComplaintSaid]:
    for symptom in lexicon.knowledge.symptoms.values():
        for said in findings:
            if symptom.same_as.get(said.finding) == said.state and said.when in {"now", "by_another"}:
                yield ComplaintSaid(symptom=symptom.symptom, confidence=said.confidence, span=said.span)


def _phrases(scene: Scene) -> Iterator[Heard]:
    for match in scene.matches:
        if match.target.kind == "symptom":
            trust = _PHRASE if match.words > 1 else _SHORT_PHRASE
            yield SymptomId(match.target.id), match.first, match.last, trust * match.score


def _pairs(lexicon: Lexicon, scene: Scene) -> Iterator[Heard]:
    for quality in scene.qualities:
        around = around_of(scene, quality.first)
        if around is None:
            continue
        for name in quality.ids:
            fits = lexicon.symptom_things.get(name)
            if fits is None:
                continue
            for one in attach(scene.tokens, quality, around, fits.__contains__):
                for symptom in lexicon.symptoms_of[Pair(one.thing, name)]:
                    yield symptom, quality.first, quality.last, _PAIR * one.trust * quality.score


def _alike(alike: Iterable[tuple[Sense, int, int, float]]) -> Iterator[Heard]:
    for sense, first, last, likeness in alike:
        if sense.kind == "symptom":
            yield SymptomId(sense.id), first, last, _ALIKE * likeness


def _weight(scope: Scope, *, request: bool) -> float:
    if scope.denied or (scope.when in {"would_be", "asked"} and not request):
        return 0.0
    return (_BEFORE if scope.when == "before" else 1.0) * max(scope.trust, 0.7)
