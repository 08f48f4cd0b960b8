"""Dangers told by several words together, in any order: one word of each group, in one breath.

"Grandpa went to fetch beets and it has been a while, that door sticks" holds somebody, going in, not coming back and a
door that does not open. No list of phrases foresees it; four groups of words do.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Final, NamedTuple

from assistant.reading.clauses import HARD_MARKS
from assistant.reading.matching import Match, PhraseBook
from assistant.reading.normalise import Token, words_of
from assistant.reading.spelling import sound
from assistant.reading.stems import stem
from assistant.reading.wordsets import word_set
from kb.ids import LANGUAGES, HazardId, WordGroupId
from kb.knowledge import Knowledge
from kb.schema import Told

_NEAR: Final = 9
"""Words that may stand between for nothing (ours, from reading texts aloud)."""
_FAR_PRICE: Final = 0.012
_STOP_PRICE: Final = 0.06
"""A full stop between parts one breath from another."""
_MOST_STOPS: Final = 2
_TRIED: Final = 3
"""Places of a group that are tried, the nearest first."""
_MOST_HEADS: Final = 40
"""Of one group in one text: the rest of a very long one is left unread."""
_LEAST_PHRASE: Final = 0.8
_STEM_FROM: Final = 5
"""Letters that a lone word must share with its group's word: "bare" is no "barra"."""
_SAME: Final = 1e-9
_MOST_DOUBT: Final = 0.09
"""A short word with a slip in it may be another word; alone it tells no part of a danger."""
_SOUND_FROM: Final = 4
_SOUND_DOUBT: Final = 0.03
_SIMILE: Final = word_set("like como tipo")
_SIMILE_WITHIN: Final = 9


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldBook:
    """The groups of words, findable, and what they tell together."""

    book: PhraseBook[WordGroupId]
    told: tuple[tuple[HazardId, Told], ...]
    words: frozenset[str] = field(repr=False)
    """Every word of every group: real words, never put right into others."""
    by_sound: Mapping[str, str] = field(repr=False)
    """The word of a group that sounds so, where only one does."""


class ToldHeard(NamedTuple):
    """A hazard told by several words: where each part stands, the head first."""

    hazard: HazardId
    told: Told
    parts: tuple[tuple[int, int], ...]
    trust: float


Places = Mapping[WordGroupId, Sequence[Match[WordGroupId]]]


def told_book(knowledge: Knowledge) -> ToldBook:
    """The book of `knowledge`, in order of the hazards."""
    book: PhraseBook[WordGroupId] = PhraseBook()
    words: set[str] = set()
    for group_id, group in knowledge.word_groups.items():
        for language in LANGUAGES:
            for wording in group.in_(language):
                phrase = words_of(wording)
                book.add(phrase, group_id)
                words.update(word for word in phrase if word.isalpha())
    told = tuple((hazard, one) for hazard, node in knowledge.hazards.items() for one in node.told)
    return ToldBook(book=book, told=told, words=frozenset(words), by_sound=_by_sound(words))


def _by_sound(words: Iterable[str]) -> dict[str, str]:
    heard: dict[str, list[str]] = {}
    for word in sorted(words):
        if len(word) >= _SOUND_FROM:
            heard.setdefault(sound(word), []).append(word)
    return {key: alike[0] for key, alike in heard.items() if len({stem(word) for word in alike}) == 1}


def told_in(book: ToldBook, tokens: Sequence[Token], places: Places) -> Iterator[ToldHeard]:
    """Every hazard that words of this text tell together; what they say of it in time and doubt is not judged here."""
    for hazard, told in book.told:
        if not all(group in places for group in told.all_):
            continue
        for head in places[told.all_[0]][:_MOST_HEADS]:
            parts = _parts(told, head, places)
            if parts is None:
                continue
            trust = _trust(tokens, parts, told.within)
            if trust > 0 and not explained(told.unless, tokens, (parts[0].first, parts[0].last), places):
                yield ToldHeard(hazard, told, tuple((part.first, part.last) for part in parts), trust)


def places_of(book: ToldBook, tokens: Sequence[Token]) -> Places:
    """Where the words of each group stand."""
    places: dict[WordGroupId, list[Match[WordGroupId]]] = {}
    for match in book.book.find([_by_ear(book, token) for token in tokens]):
        if match.score >= _LEAST_PHRASE and match.gaps <= 1 and _stands(tokens, match):
            places.setdefault(match.target, []).append(match)
    return places


def _by_ear(book: ToldBook, token: Token) -> Token:
    """A word written as it sounds ("vivora", "habre") is the word."""
    if token.kind != "word" or token.word in book.words or len(token.word) < _SOUND_FROM:
        return token
    heard = book.by_sound.get(sound(token.word))
    return token if heard is None else replace(token, word=heard, doubt=token.doubt + _SOUND_DOUBT)


def _stands(tokens: Sequence[Token], match: Match[WordGroupId]) -> bool:
    token = tokens[match.first]
    exact = match.score + token.doubt >= 1 - _SAME
    if match.words == 1 and token.doubt > _MOST_DOUBT:
        return False
    return match.words > 1 or exact or len(stem(token.word)) >= _STEM_FROM


def _parts(told: Told, head: Match[WordGroupId], places: Places) -> tuple[Match[WordGroupId], ...] | None:
    """The head and the nearest words of every other group, none of them used twice."""
    return _filled(told.all_[1:], (head,), places)


def _filled(
    groups: Sequence[WordGroupId], parts: tuple[Match[WordGroupId], ...], places: Places
) -> tuple[Match[WordGroupId], ...] | None:
    if not groups:
        return parts
    free = [match for match in places[groups[0]] if not any(_touch(match, part) for part in parts)]
    nearest = sorted(free, key=lambda match: (_apart(parts[0], match), -match.words, match.first))
    for match in nearest[:_TRIED]:
        whole = _filled(groups[1:], (*parts, match), places)
        if whole is not None:
            return whole
    return None


def _touch(one: Match[WordGroupId], other: Match[WordGroupId]) -> bool:
    return one.first < other.last and other.first < one.last


def _apart(one: Match[WordGroupId], other: Match[WordGroupId]) -> int:
    return max(one.first, other.first) - min(one.last, other.last)


def _trust(tokens: Sequence[Token], parts: Sequence[Match[WordGroupId]], within: int) -> float:
    first, last = min(part.first for part in parts), max(part.last for part in parts)
    inside = {place for part in parts for place in range(part.first, part.last)}
    between = [tokens[place] for place in range(first, last) if place not in inside]
    words = sum(token.kind != "mark" for token in between)
    stops = sum(token.kind == "mark" and token.word in HARD_MARKS for token in between)
    if words > within or stops > _MOST_STOPS:
        return 0.0
    exact = min(part.score for part in parts)
    return exact - _FAR_PRICE * max(0, words - _NEAR) - _STOP_PRICE * stops


def explained(
    unless: Iterable[WordGroupId], tokens: Sequence[Token], head: tuple[int, int], places: Places
) -> tuple[Match[WordGroupId], ...]:
    """Words of the groups `unless` in the same sentence as the head, that explain it away."""
    first, last = head
    while first and tokens[first - 1].word not in HARD_MARKS:
        first -= 1
    while last < len(tokens) and tokens[last].word not in HARD_MARKS:
        last += 1
    return tuple(
        match
        for group in unless
        for match in places.get(group, ())
        if first <= match.first < last and not _is_simile(tokens, match)
    )


def _is_simile(tokens: Sequence[Token], match: Match[WordGroupId]) -> bool:
    """What something smells *like* explains nothing: "like when the beans stick to the pot"."""
    before = tokens[max(0, match.first - _SIMILE_WITHIN) : match.first]
    return any(token.word in _SIMILE for token in before)
