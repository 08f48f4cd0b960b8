"""The way a text takes, in order."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from typing import Final

from assistant.reading.agreed_findings import agreed_findings
from assistant.reading.alike import Alike
from assistant.reading.changes import OTHER_NUMBERS
from assistant.reading.clauses import chunks_of
from assistant.reading.complaints import complaints_of
from assistant.reading.compose import Claim, claims_of, echoes_of
from assistant.reading.corrections import corrected_from
from assistant.reading.ear import Like, likes_in
from assistant.reading.hazards import hazards_of
from assistant.reading.language import language_of
from assistant.reading.lexicon import Lexicon, lexicon_of
from assistant.reading.mentions import Mention
from assistant.reading.moves import moves_in
from assistant.reading.normalise import Token, tokens_of
from assistant.reading.products import products_in
from assistant.reading.quantities import Asked, Numbers, numbers_in, settled_by_cold
from assistant.reading.ranges import seconds_in
from assistant.reading.replies import Reply, answer_to
from assistant.reading.said import Answer, FindingSaid, OpenQuestion, Outcome, QuantitySaid, Reading, Span
from assistant.reading.scene import Scene, scene_of
from assistant.reading.second_voice import claims_alike, second_voice
from assistant.reading.spelling import mend
from assistant.reading.thresholds import TAKE, outcome_of
from assistant.reading.units import Degrees
from assistant.reading.unread import unread_in
from assistant.reading.weigh import findings_of
from kb.ids import FindingId, HazardId, Language, SymptomId, ThingId
from kb.knowledge import Knowledge

_COLD: Final = frozenset({SymptomId("too_cold"), SymptomId("frozen_in_one_place")})
_FROZEN: Final = frozenset({FindingId("frozen_product")})
_UNMARKED: Final = 0.82
_FEW: Final = 3
_STRAY: Final = 0.4
_STRAY_UP_TO: Final = 12
"""A bare small number that chooses nothing may be a slip of the thumb as well as a temperature."""


def read(
    knowledge: Knowledge,
    text: str,
    *,
    about: OpenQuestion | None = None,
    language: Language | None = None,
    units: Degrees | None = None,
    last_thing: ThingId | None = None,
    met: Collection[HazardId] = frozenset(),
) -> Reading:
    """What `text` says, read as a reply to `about` where a question is open; never fails, whatever the text.

    `language` and `units` are what is known of the person; `last_thing` is what "it" means if nothing else is named;
    `met` are the hazards of the case so far: some words tell of one only the second time.
    """
    question, replying = about or OpenQuestion(), about is not None
    laid = lay_out(knowledge, text, question, language, units, last_thing)
    lexicon, scene, tokens, numbers = laid.lexicon, laid.scene, laid.scene.tokens, laid.numbers
    findings = agreed_findings(lexicon, scene, laid.findings, laid.likes, question.finding, replying=replying)
    moves = moves_in(tokens, scene.matches, scene.chunks, replying=replying)
    reply = Reply(tokens, scene.chunks, findings, numbers.said, seconds_in(text), moves, laid.taken_back)
    answer = answer_to(question, reply)
    complaints = complaints_of(lexicon, scene, laid.alike, findings, laid.likes, replying=replying)
    cold = {c.symptom for c in complaints} & _COLD or {f.finding for f in findings} & _FROZEN
    said = settled_by_cold(numbers.said) if cold else numbers.said
    return Reading(
        language=laid.language,
        language_confidence=laid.language_confidence,
        complaints=complaints,
        findings=findings,
        quantities=_without_choice(question, answer, said, tokens=tokens)
        or _only_a_correction(tokens, numbers, corrects=laid.taken_back is not None),
        hazards=hazards_of(lexicon, scene, met, laid.likes, replying=replying),
        products=products_in(knowledge, laid.as_sent),
        moves=moves,
        answer=answer,
        outcome=_outcome(about, answer, findings),
        corrects=laid.taken_back is not None,
        unread=unread_in(text, tokens, scene, laid.claims, numbers),
        last_thing=_last_thing(scene),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidOut:
    """A text before the two voices are weighed against each other."""

    lexicon: Lexicon
    as_sent: tuple[Token, ...]
    language: Language
    language_confidence: float
    taken_back: int | None
    """The first token after words of correction."""
    scene: Scene
    numbers: Numbers
    alike: tuple[Alike, ...]
    claims: tuple[Claim, ...]
    findings: tuple[FindingSaid, ...]
    """As composed."""
    likes: tuple[Like, ...]
    """What the ear finds the text like."""


def lay_out(
    knowledge: Knowledge,
    text: str,
    question: OpenQuestion,
    language: Language | None = None,
    units: Degrees | None = None,
    last_thing: ThingId | None = None,
) -> LaidOut:
    """Everything found in `text` by composition, and what the ear finds it like."""
    lexicon = lexicon_of(knowledge)
    as_sent = tokens_of(text)
    tokens = mend(lexicon.speller, _without_idle_marks(as_sent))
    spoken, sureness = language_of(tokens, lexicon.words, language)
    chunks, matches = chunks_of(tokens), lexicon.found_in(tokens)
    taken_back = corrected_from(tokens)
    asked = _asked(lexicon, question, spoken, units, taken_back)
    numbers = numbers_in(tokens, chunks, matches, knowledge.quantities, asked)
    about_things, degrees = things_asked(knowledge, question), degrees_in(lexicon, numbers)
    scene = scene_of(lexicon, tokens, chunks, matches, about_things, last_thing, degrees)
    composed = (*claims_of(lexicon, scene, question.finding), *echoes_of(lexicon, scene))
    alike = second_voice(lexicon, scene, composed)
    claims = (*composed, *claims_alike(alike))
    return LaidOut(
        lexicon=lexicon,
        as_sent=as_sent,
        language=spoken,
        language_confidence=sureness,
        taken_back=taken_back,
        scene=scene,
        numbers=numbers,
        alike=alike,
        claims=claims,
        findings=findings_of(lexicon, tokens, claims, taken_back, question.finding),
        likes=likes_in(knowledge.ear, tokens, chunks),
    )


def _without_idle_marks(tokens: Sequence[Token]) -> tuple[Token, ...]:
    """Without opening marks and a last full stop, which many leave out and which change nothing."""
    last = len(tokens)
    while last and tokens[last - 1].word in {".", "!"}:
        last -= 1
    return tuple(token for token in tokens[:last] if token.word not in {"¿", "¡"})


def _asked(
    lexicon: Lexicon,
    question: OpenQuestion,
    language: Language,
    units: Degrees | None,
    corrected_from_: int | None,
) -> Asked:
    return Asked(
        language=language,
        number_of=question.number_of,
        number_tells=question.number_tells,
        elsewhere=_about_another_number(lexicon, question),
        units=units,
        corrected_from=corrected_from_,
        quantity_of=lexicon.quantity_of,
    )


def _about_another_number(lexicon: Lexicon, question: OpenQuestion) -> bool:
    """The question is about a thing with a number of its own that is none of ours: the unit's thermostat."""
    things = set(things_asked(lexicon.knowledge, question))
    return bool(things) and things <= OTHER_NUMBERS


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


def _without_choice(
    question: OpenQuestion, answer: Answer, said: Sequence[QuantitySaid], *, tokens: Sequence[Token]
) -> tuple[QuantitySaid, ...]:
    """A bare number that chose an option is no temperature; one with a unit of another kind is what it says."""
    options = len(question.options)
    if not options:
        return tuple(said)
    kept = [one for one in said if not _may_be_a_choice(one, options)]
    if answer.kind == "state":
        short = sum(token.kind != "mark" for token in tokens) <= _FEW
        return tuple(one for one in kept if not (short and _is_bare_degrees(one)))
    if answer.kind == "none" and len(said) == 1:
        return tuple(
            replace(one, confidence=_STRAY) if one.value <= _STRAY_UP_TO and _is_bare_degrees(one) else one
            for one in said
        )
    return tuple(said)


def _may_be_a_choice(one: QuantitySaid, options: int) -> bool:
    return _is_bare_degrees(one) and one.value.is_integer() and 1 <= one.value <= options


def _is_bare_degrees(one: QuantitySaid) -> bool:
    return one.quantity is not None and one.quantity.endswith("_c") and one.confidence <= _UNMARKED


def _only_a_correction(
    tokens: Sequence[Token], numbers: Numbers, *, corrects: bool
) -> tuple[QuantitySaid, ...]:
    """A correction alone, like "I meant 13": the number, of which only an earlier text knows what it is."""
    if not corrects or numbers.said or len(numbers.plain) != 1:
        return ()
    number = numbers.plain[0]
    span = Span(tokens[number.first].start, tokens[number.last - 1].end)
    return (QuantitySaid(quantity=None, value=number.value, unit=None, si=None, confidence=TAKE, span=span),)


def _outcome(about: OpenQuestion | None, answer: Answer, findings: Sequence[FindingSaid]) -> Outcome:
    if about is not None:
        return outcome_of(answer.confidence)
    return outcome_of(min((said.confidence for said in findings), default=1.0))


def _last_thing(scene: Scene) -> ThingId | None:
    return ThingId(scene.things[-1].ids[0]) if scene.things else None
