"""The way a text takes, in order."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from assistant.reading.alike import Alike, alike_in
from assistant.reading.clauses import chunks_of
from assistant.reading.complaints import complaints_of
from assistant.reading.compose import Claim, claims_of, echoes_of
from assistant.reading.corrections import corrected_from
from assistant.reading.hazards import hazards_of
from assistant.reading.language import language_of
from assistant.reading.lexicon import Lexicon, lexicon_of
from assistant.reading.matching import DETERMINERS, LIGHT
from assistant.reading.mentions import Mention
from assistant.reading.moves import moves_in
from assistant.reading.normalise import LONGEST_TEXT, Token, tokens_of
from assistant.reading.quantities import Asked, Numbers, numbers_in
from assistant.reading.ranges import seconds_in
from assistant.reading.replies import Reply, answer_to
from assistant.reading.said import Answer, OpenQuestion, Outcome, QuantitySaid, Reading, Span, Unread
from assistant.reading.scene import Scene, scene_of
from assistant.reading.scope import Scope
from assistant.reading.spelling import mend
from assistant.reading.thresholds import outcome_of
from assistant.reading.units import Degrees
from assistant.reading.weigh import findings_of, span_of
from kb.ids import FindingId, Language, StateId, ThingId
from kb.knowledge import Knowledge

_ALIKE: Final = 0.62
_UNMARKED: Final = 0.82
_FEW: Final = 3
_STRAY: Final = 0.4
_STRAY_UP_TO: Final = 12
"""A bare small number that chooses nothing may be a slip of the thumb as well as a temperature."""
_ALIKE_WORDS: Final = 2
"""A statement that is merely like an example weighs as much as two words of a composed one."""


def read(
    knowledge: Knowledge,
    text: str,
    *,
    about: OpenQuestion | None = None,
    language: Language | None = None,
    units: Degrees | None = None,
    last_thing: ThingId | None = None,
) -> Reading:
    """What `text` says, read as a reply to `about` where a question is open; never fails, whatever the text.

    `language` and `units` are what is known of the person; `last_thing` is what "it" means if nothing else is named.
    """
    question = about or OpenQuestion()
    lexicon = lexicon_of(knowledge)
    tokens = mend(lexicon.speller, tokens_of(text))
    spoken, sureness = language_of(tokens, lexicon.words, language)
    chunks = chunks_of(tokens)
    matches = lexicon.found_in(tokens)
    taken_back = corrected_from(tokens)
    asked = Asked(
        language=spoken,
        number_of=question.number_of,
        units=units,
        corrected_from=taken_back,
        quantity_of=lexicon.quantity_of,
    )
    numbers = numbers_in(tokens, chunks, matches, knowledge.quantities, asked)
    scene = scene_of(
        lexicon,
        tokens,
        chunks,
        matches,
        things_asked(knowledge, question),
        last_thing,
        degrees_in(lexicon, numbers),
    )
    claims = claims_of(lexicon, scene, question.finding)
    claims = (*claims, *echoes_of(lexicon, scene))
    alike = alike_in(lexicon, tokens, chunks, _read_places(scene, claims))
    claims = (*claims, *_second_voice(alike))
    findings = findings_of(lexicon, tokens, claims, taken_back)
    moves = moves_in(tokens, matches)
    reply = Reply(
        tokens=tokens,
        chunks=chunks,
        findings=findings,
        quantities=numbers.said,
        durations=seconds_in(text) if question.options else (),
        moves=moves,
        corrected_from=taken_back,
        speller=lexicon.speller,
    )
    answer = answer_to(question, reply)
    quantities = _without_choice(question, answer, numbers.said, tokens=tokens)
    hazards = hazards_of(lexicon, scene, alike)
    complaints = complaints_of(lexicon, scene, alike, findings, replying=about is not None)
    return Reading(
        language=spoken,
        language_confidence=sureness,
        complaints=complaints,
        findings=findings,
        quantities=quantities,
        hazards=hazards,
        moves=moves,
        answer=answer,
        outcome=_outcome(about, answer, [finding.confidence for finding in findings]),
        corrects=taken_back is not None,
        unread=_unread(text, tokens, scene, claims, numbers),
        last_thing=_last_thing(scene),
    )


def things_asked(knowledge: Knowledge, question: OpenQuestion) -> tuple[ThingId, ...]:
    """The things that the open question is about."""
    finding = None if question.finding is None else knowledge.findings.get(question.finding)
    return () if finding is None else finding.things


def degrees_in(lexicon: Lexicon, numbers: Numbers) -> tuple[Mention, ...]:
    """The room's temperatures as mentions of the thing that is called temperature."""
    if _TEMPERATURE not in lexicon.knowledge.things:
        return ()
    return tuple(
        Mention(ids=(_TEMPERATURE,), first=first, last=last, score=1.0, words=2)
        for first, last in numbers.room_at
    )


_TEMPERATURE: Final = ThingId("temperature")


def _read_places(scene: Scene, claims: Sequence[Claim]) -> set[int]:
    places = {place for claim in claims for place in range(claim.first, claim.last)}
    for match in scene.matches:
        if match.target.kind in {"hazard", "symptom", "move"} and match.words > 1:
            places.update(range(match.first, match.last))
    return places


def _second_voice(alike: Sequence[Alike]) -> Iterator[Claim]:
    for sense, first, last, likeness in alike:
        if sense.kind in {"saying", "state"}:
            yield Claim(
                finding=FindingId(sense.id),
                states={StateId(sense.state): 1.0},
                first=first,
                last=last,
                trust=_ALIKE * likeness,
                scope=Scope(),
                source="alike",
                words=_ALIKE_WORDS,
            )


def _without_choice(
    question: OpenQuestion, answer: Answer, said: Sequence[QuantitySaid], *, tokens: Sequence[Token]
) -> tuple[QuantitySaid, ...]:
    """A bare number that chose an option is no temperature."""
    if question.options and answer.kind == "none" and len(said) == 1 and said[0].confidence <= _UNMARKED:
        return tuple(replace(one, confidence=_STRAY) if one.value <= _STRAY_UP_TO else one for one in said)
    if not question.options or answer.kind != "state" or len(said) != 1 or said[0].confidence > _UNMARKED:
        return tuple(said)
    place = [option.value for option in question.options].index(answer.state or "") + 1
    short = sum(token.kind != "mark" for token in tokens) <= _FEW
    return () if said[0].value == place or short else tuple(said)


def _outcome(about: OpenQuestion | None, answer: Answer, confidences: Sequence[float]) -> Outcome:
    if about is not None:
        return outcome_of(answer.confidence)
    return outcome_of(min(confidences, default=1.0))


def _last_thing(scene: Scene) -> ThingId | None:
    return ThingId(scene.things[-1].ids[0]) if scene.things else None


def _unread(
    text: str, tokens: Sequence[Token], scene: Scene, claims: Sequence[Claim], numbers: Numbers
) -> tuple[Unread, ...]:
    """Runs of two words or more of which nothing was made, and what lies beyond the longest text."""
    read_places = {place for claim in claims for place in range(claim.first, claim.last)}
    for match in scene.matches:
        if match.target.kind not in {"quantity", "not_hazard"}:
            read_places.update(range(match.first, match.last))
    spans = [said.span for said in numbers.said]
    found: list[Unread] = []
    run: list[int] = []
    for place, token in enumerate((*tokens, None)):
        known = token is None or token.kind == "mark" or place in read_places or _in_spans(token, spans)
        if not known:
            run.append(place)
            continue
        heavy = [at for at in run if tokens[at].word not in LIGHT and tokens[at].word not in DETERMINERS]
        if len(heavy) > 1:
            span = span_of(tokens, run[0], run[-1] + 1)
            found.append(Unread(text=text[span.start : span.end], span=span))
        run = []
    if len(text) > LONGEST_TEXT:
        found.append(Unread(text=text[LONGEST_TEXT:], span=Span(LONGEST_TEXT, len(text))))
    return tuple(found)


def _in_spans(token: Token, spans: Sequence[Span]) -> bool:
    return any(span.start <= token.start < span.end for span in spans)
