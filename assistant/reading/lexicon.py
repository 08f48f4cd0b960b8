"""What the reading room knows of one knowledge edition: its phrases, its pairs of thing and quality, its words.

Built once per knowledge by `lexicon_of`; a reading only looks into it.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Final, TypeVar

from assistant.reading import everyday, numerals
from assistant.reading.answers import add_answers
from assistant.reading.examples import WHOLE_PHRASE, Examples, examples_of
from assistant.reading.matching import DETERMINERS, LIGHT, Match, PhraseBook
from assistant.reading.moves import MOVE_WORDS, add_moves
from assistant.reading.normalise import Token, words_of
from assistant.reading.scope import SCOPE_WORDS
from assistant.reading.senses import Pair, Sense, SenseKind
from assistant.reading.spelling import Speller, speller_of
from assistant.reading.told import ToldBook, told_book
from assistant.reading.units import UNIT_WORDS
from assistant.reading.wordsets import word_set
from kb.ids import LANGUAGES, FindingId, HazardId, Language, QuantityId, StateId, SymptomId, ThingId
from kb.knowledge import Knowledge
from kb.likelihood import strength
from kb.schema import Finding, Said, Wordings

Id = TypeVar("Id", SymptomId, HazardId)
_PARTICLES: Final = word_set("on off up down out in open full")
_SAME: Final = 1e-9
_INFLECTED: Final = 4
"""Letters from which a word may stand for another by its ending."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lexicon:
    """All that a reading looks up."""

    knowledge: Knowledge
    book: PhraseBook[Sense]
    single: frozenset[str]
    """Words that are a whole phrase of their own: never taken for an inflection of another."""
    speller: Speller
    findings_of: Mapping[Pair, tuple[tuple[FindingId, StateId], ...]]
    symptoms_of: Mapping[Pair, tuple[SymptomId, ...]]
    hazards_of: Mapping[Pair, tuple[HazardId, ...]]
    examples: Examples = field(repr=False)
    """Whole example phrases, for the second voice."""
    background: Mapping[FindingId, Mapping[StateId, float]]
    words: Mapping[Language, frozenset[str]] = field(repr=False)
    """Words that speak for a language."""
    things_of: Mapping[str, frozenset[str]] = field(repr=False)
    """For each quality, the things of which it tells a finding."""
    complained: frozenset[tuple[FindingId, StateId]] = field(repr=False)
    """States that are complaints by another name: what people mean when they name nothing."""
    symptom_things: Mapping[str, frozenset[str]] = field(repr=False)
    hazard_things: Mapping[str, frozenset[str]] = field(repr=False)
    outdoors: Mapping[str, str] = field(repr=False)
    """Names that stand for another thing outdoors: "fan" and "outside" make the outdoor fan."""
    quantity_of: Mapping[str, QuantityId] = field(repr=False)
    """Things whose number is a quantity: what the thermometer shows, what the product has."""
    thing_words: Mapping[ThingId, tuple[tuple[str, ...], ...]] = field(repr=False)
    told: ToldBook = field(repr=False)
    """What tells a hazard by several words together."""

    def found_in(self, tokens: Sequence[Token]) -> tuple[Match[Sense], ...]:
        """Every phrase found, without single words that only look like an inflection of one."""
        return tuple(match for match in self.book.find(tokens) if self._stands(tokens, match))

    def _stands(self, tokens: Sequence[Token], match: Match[Sense]) -> bool:
        token = tokens[match.first]
        if token.word in _PARTICLES and match.words == 1 and match.first:
            before = tokens[match.first - 1].word
            parted = tokens[match.first - 1].kind == "mark"
            if not parted and before not in LIGHT and before not in self.book.words:
                return False  # "blew my hat off" is no "off"
        if match.target.kind in _MOVES and not _is_exact(tokens, match):
            return False  # "ahorro no" is not "ahora no"
        if match.words > 1 or match.score + token.doubt >= 1 - _SAME:
            return True
        other: Language = "es" if match.target.language == "en" else "en"
        foreign = token.word in self.words[other]
        return len(token.word) >= _INFLECTED and token.word not in self.single and not foreign

    def things_with(self, quality: str) -> frozenset[str]:
        """The things of which `quality` tells a finding."""
        return self.things_of.get(quality, frozenset())


_MOVES: Final = frozenset({"move", "move_alone"})
_GAP: Final = 0.06


def _is_exact(tokens: Sequence[Token], match: Match[Sense]) -> bool:
    """Its very words, mended or not, and no other inflections of them."""
    doubt = sum(tokens[place].doubt for place in range(match.first, match.last))
    return match.score + doubt + _GAP * match.gaps >= 1 - _SAME


class Same:
    """A knowledge by identity, so that its lexicon can be kept."""

    __slots__ = ("knowledge",)

    def __init__(self, knowledge: Knowledge) -> None:
        self.knowledge = knowledge

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Same) and other.knowledge is self.knowledge

    def __hash__(self) -> int:
        return id(self.knowledge)


def lexicon_of(knowledge: Knowledge) -> Lexicon:
    """The lexicon of `knowledge`, built on first use."""
    return _built(Same(knowledge))


def earless(knowledge: Knowledge) -> Knowledge:
    """The same knowledge without its ear, for who asks what composition alone hears; the same object each time."""
    return _earless(Same(knowledge))


@lru_cache(maxsize=4)
def _earless(same: Same) -> Knowledge:
    return replace(same.knowledge, ear=None)


@lru_cache(maxsize=4)
def _built(same: Same) -> Lexicon:
    knowledge = same.knowledge
    book: PhraseBook[Sense] = PhraseBook()
    sayings: dict[tuple[str, ...], list[Sense]] = {}
    whole: dict[tuple[str, ...], set[str]] = {}
    for sense, wording in _wordings(knowledge):
        words = _words(wording)
        whole.setdefault(words, set()).add(f"{sense.kind} {sense.id} {sense.state}")
        book.add(words, sense)
        if sense.kind in {"saying", "symptom", "hazard", "state"} and len(words) >= WHOLE_PHRASE:
            sayings.setdefault(words, []).append(sense)
    single = {words[0]: frozenset(found) for words, found in whole.items() if len(words) == 1}
    told = told_book(knowledge)
    speller = _speller(frozenset(book.words), single, told.words | add_answers(book, knowledge))
    add_moves(book)
    findings_of = _findings_of(knowledge)
    symptoms_of = _pairs({s.symptom: s.says for s in knowledge.symptoms.values()})
    hazards_of = _pairs({h.hazard: h.says for h in knowledge.hazards.values()})
    return Lexicon(
        knowledge=knowledge,
        book=book,
        told=told,
        single=frozenset(single),
        speller=speller,
        findings_of=findings_of,
        things_of=_things_of(findings_of),
        symptoms_of=symptoms_of,
        hazards_of=hazards_of,
        complained=frozenset(pair for s in knowledge.symptoms.values() for pair in s.same_as.items()),
        symptom_things=_things_of(symptoms_of),
        hazard_things=_things_of(hazards_of),
        examples=examples_of(sayings),
        background={finding: background_of(node) for finding, node in knowledge.findings.items()},
        words=_language_words(knowledge),
        outdoors=_outdoors(knowledge),
        quantity_of=_quantity_of(knowledge),
        thing_words={
            thing: tuple(_words(name) for name in (*node.en, *node.es))
            for thing, node in knowledge.things.items()
        },
    )


def background_of(finding: Finding) -> dict[StateId, float]:
    """How often each state shows where no cause is at work; sums to 1.

    The normal state takes the rest; where nothing is normal the unnamed states share it.
    """
    named = {state: strength(word) for state, word in finding.background.items()}
    unnamed = [state for state in finding.states if state not in named]
    left = max(1.0 - sum(named.values()), 0.02 * max(len(unnamed), 1))
    shares = {state: named.get(state, left / max(len(unnamed), 1)) for state in finding.states}
    if finding.normal is not None and finding.normal in unnamed:
        others = [state for state in unnamed if state != finding.normal]
        for state in others:
            shares[state] = 0.02
        shares[finding.normal] = max(left - 0.02 * len(others), 0.02)
    total = sum(shares.values())
    return {state: share / total for state, share in shares.items()}


def _wordings(knowledge: Knowledge) -> Iterable[tuple[Sense, str]]:
    for thing_id, thing in knowledge.things.items():
        yield from _senses("thing", thing_id, "", thing)
    for quality_id, quality in knowledge.qualities.items():
        yield from _senses("quality", quality_id, "", quality)
    for finding_id, finding in knowledge.findings.items():
        for state_id, state in finding.states.items():
            yield from _senses("state", finding_id, state_id, state)
        for state_id, said in finding.sayings.items():
            yield from _senses("saying", finding_id, state_id, said)
    for symptom_id, symptom in knowledge.symptoms.items():
        yield from _senses("symptom", symptom_id, "", symptom.sayings)
    for hazard_id, hazard in knowledge.hazards.items():
        yield from _senses("hazard", hazard_id, "", hazard.sayings)
        yield from _senses("not_hazard", hazard_id, "", hazard.not_these)
    for quantity_id, quantity in knowledge.quantities.items():
        yield from _senses("quantity", quantity_id, "", quantity.words)


def _senses(kind: SenseKind, node: str, state: str, wordings: Wordings) -> Iterable[tuple[Sense, str]]:
    for language in LANGUAGES:
        for wording in wordings.in_(language):
            yield Sense(kind, node, state, language), wording


def _findings_of(knowledge: Knowledge) -> dict[Pair, tuple[tuple[FindingId, StateId], ...]]:
    pairs: dict[Pair, list[tuple[FindingId, StateId]]] = {}
    for finding in knowledge.findings.values():
        for thing in finding.things:
            for state_id, state in finding.states.items():
                for quality in state.is_:
                    pairs.setdefault(Pair(thing, quality), []).append((finding.finding, state_id))
    return {pair: tuple(found) for pair, found in pairs.items()}


@lru_cache(maxsize=1 << 14)
def _words(phrase: str) -> tuple[str, ...]:
    """The words of a phrase of the knowledge, each of which is met several times; never used on what a person wrote."""
    return words_of(phrase)


OUTDOOR_WORDS: Final = word_set("outside outdoor outdoors exterior afuera")


def _outdoors(knowledge: Knowledge) -> dict[str, str]:
    """As in "Outside fan", "serpentín de afuera": the other word of such a name leads to the thing."""
    found: dict[str, str] = {}
    for thing_id, thing in knowledge.things.items():
        for name in (*thing.en, *thing.es):
            words = [word for word in _words(name) if word not in DETERMINERS]
            heads = [word for word in words if word not in OUTDOOR_WORDS]
            if len(words) == 2 and len(heads) == 1:  # noqa: PLR2004 - a name and where it is
                found.setdefault(heads[0], thing_id)
    return found


def _quantity_of(knowledge: Knowledge) -> dict[str, QuantityId]:
    """Things that share a name with the words of exactly one temperature."""
    marking: dict[tuple[str, ...], set[QuantityId]] = {}
    for quantity_id, quantity in knowledge.quantities.items():
        if quantity.kind == "temperature":
            for word in (*quantity.words.en, *quantity.words.es):
                marking.setdefault(_words(word), set()).add(quantity_id)
    found: dict[str, set[QuantityId]] = {}
    for thing_id, thing in knowledge.things.items():
        for name in (*thing.en, *thing.es):
            found.setdefault(thing_id, set()).update(marking.get(_words(name), ()))
    return {thing: next(iter(of)) for thing, of in found.items() if len(of) == 1 and thing != "temperature"}


def _things_of(pairs: Iterable[Pair]) -> dict[str, frozenset[str]]:
    things: dict[str, set[str]] = {}
    for pair in pairs:
        things.setdefault(pair.quality, set()).add(pair.thing)
    return {quality: frozenset(found) for quality, found in things.items()}


def _pairs(says: Mapping[Id, tuple[Said, ...]]) -> dict[Pair, tuple[Id, ...]]:
    pairs: dict[Pair, list[Id]] = {}
    for node, combinations in says.items():
        for said in combinations:
            for thing in said.things:
                for quality in said.is_:
                    pairs.setdefault(Pair(thing, quality), []).append(node)
    return {pair: tuple(dict.fromkeys(found)) for pair, found in pairs.items()}


def _speller(own: frozenset[str], senses: Mapping[str, frozenset[str]], real: frozenset[str]) -> Speller:
    plain = everyday.ENGLISH | everyday.SPANISH | SCOPE_WORDS | numerals.WORDS | MOVE_WORDS
    worth = own | MOVE_WORDS | numerals.WORDS
    return speller_of(frozenset(word for word in worth if word.isalpha()), plain, senses, real | UNIT_WORDS)


def _language_words(knowledge: Knowledge) -> dict[Language, frozenset[str]]:
    words: dict[Language, set[str]] = {"en": set(everyday.ENGLISH), "es": set(everyday.SPANISH)}
    for sense, wording in _wordings(knowledge):
        words[sense.language].update(_words(wording))
    for group in knowledge.word_groups.values():
        for language in LANGUAGES:
            words[language].update(word for wording in group.in_(language) for word in _words(wording))
    both = (words["en"] & words["es"]) | everyday.SHARED
    return {language: frozenset(found - both) for language, found in words.items()}
