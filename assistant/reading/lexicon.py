"""What the reading room knows of one knowledge edition: its phrases, its pairs of thing and quality, its words.

Built once per knowledge by `lexicon_of`; a reading only looks into it.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Final, TypeVar

from assistant.reading import everyday, numerals
from assistant.reading.matching import PhraseBook
from assistant.reading.moves import MOVE_WORDS, add_moves
from assistant.reading.normalise import words_of
from assistant.reading.scope import SCOPE_WORDS
from assistant.reading.senses import Pair, Sense, SenseKind
from assistant.reading.spelling import Speller, speller_of
from kb.ids import LANGUAGES, FindingId, HazardId, Language, QualityId, StateId, SymptomId, ThingId
from kb.knowledge import Knowledge
from kb.likelihood import strength
from kb.schema import Finding, Said, Wordings

Id = TypeVar("Id", SymptomId, HazardId)
WHOLE_PHRASE: Final = 3
"""Words from which an example phrase may be compared as a whole."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lexicon:
    """All that a reading looks up."""

    knowledge: Knowledge
    book: PhraseBook[Sense]
    speller: Speller
    findings_of: Mapping[Pair, tuple[tuple[FindingId, StateId], ...]]
    symptoms_of: Mapping[Pair, tuple[SymptomId, ...]]
    hazards_of: Mapping[Pair, tuple[HazardId, ...]]
    sayings_of: Mapping[tuple[str, ...], tuple[Sense, ...]]
    """Whole example phrases, for the second voice."""
    background: Mapping[FindingId, Mapping[StateId, float]]
    words: Mapping[Language, frozenset[str]] = field(repr=False)
    """Words that speak for a language."""
    thing_words: Mapping[ThingId, tuple[tuple[str, ...], ...]] = field(repr=False)


class _Same:
    """A knowledge by identity, so that its lexicon can be kept."""

    __slots__ = ("knowledge",)

    def __init__(self, knowledge: Knowledge) -> None:
        self.knowledge = knowledge

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and other.knowledge is self.knowledge

    def __hash__(self) -> int:
        return id(self.knowledge)


def lexicon_of(knowledge: Knowledge) -> Lexicon:
    """The lexicon of `knowledge`, built on first use."""
    return _built(_Same(knowledge))


@lru_cache(maxsize=4)
def _built(same: _Same) -> Lexicon:
    knowledge = same.knowledge
    book: PhraseBook[Sense] = PhraseBook()
    sayings: dict[tuple[str, ...], list[Sense]] = {}
    for sense, wording in _wordings(knowledge):
        words = words_of(wording)
        book.add(words, sense)
        if sense.kind in {"saying", "symptom", "hazard", "state"} and len(words) >= WHOLE_PHRASE:
            sayings.setdefault(words, []).append(sense)
    own = frozenset(book.words)
    add_moves(book)
    return Lexicon(
        knowledge=knowledge,
        book=book,
        speller=_speller(own),
        findings_of=_findings_of(knowledge),
        symptoms_of=_pairs({s.symptom: s.says for s in knowledge.symptoms.values()}),
        hazards_of=_pairs({h.hazard: h.says for h in knowledge.hazards.values()}),
        sayings_of={words: tuple(senses) for words, senses in sayings.items()},
        background={finding: background_of(node) for finding, node in knowledge.findings.items()},
        words=_language_words(knowledge),
        thing_words={
            thing: tuple(words_of(name) for name in (*node.en, *node.es))
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


def _pairs(says: Mapping[Id, tuple[Said, ...]]) -> dict[Pair, tuple[Id, ...]]:
    pairs: dict[Pair, list[Id]] = {}
    for node, combinations in says.items():
        for said in combinations:
            for thing in said.things:
                for quality in said.is_:
                    pairs.setdefault(Pair(thing, quality), []).append(node)
    return {pair: tuple(dict.fromkeys(found)) for pair, found in pairs.items()}


def _speller(own: frozenset[str]) -> Speller:
    plain = everyday.ENGLISH | everyday.SPANISH | SCOPE_WORDS | numerals.WORDS | MOVE_WORDS
    worth = own | MOVE_WORDS | numerals.WORDS
    return speller_of(frozenset(word for word in worth if word.isalpha()), plain)


def _language_words(knowledge: Knowledge) -> dict[Language, frozenset[str]]:
    words: dict[Language, set[str]] = {"en": set(everyday.ENGLISH), "es": set(everyday.SPANISH)}
    for sense, wording in _wordings(knowledge):
        words[sense.language].update(words_of(wording))
    both = (words["en"] & words["es"]) | everyday.SHARED
    return {language: frozenset(found - both) for language, found in words.items()}


def qualities_of(knowledge: Knowledge, word: str, language: Language) -> tuple[QualityId, ...]:
    """The qualities that list `word` as one of their ways to say it."""
    return tuple(quality for quality, node in knowledge.qualities.items() if word in node.in_(language))
