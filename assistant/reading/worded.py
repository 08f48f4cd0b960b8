"""Which option a reply describes: by its label, by another wording of it, by words that only that option has."""

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from assistant.reading.choices import FILLER
from assistant.reading.clauses import Chunk
from assistant.reading.matching import DETERMINERS, LIGHT, Match, PhraseBook
from assistant.reading.normalise import Token, words_of
from assistant.reading.numerals import WORDS as NUMERALS
from assistant.reading.said import Option
from assistant.reading.scope import is_past, scope_of
from assistant.reading.stems import stem
from assistant.reading.wordsets import word_set
from assistant.reading.yes_or_no import NO, YES

_LABEL: Final = 0.97
_WORDING: Final = 0.95
_LONG_REPLY: Final = 6
_SHORT_MATCH: Final = 0.84
"""One word of a long reply."""
_MATCH: Final = 0.9
_PART: Final = 0.84
_PAST: Final = 0.5
_OVERLAP: Final = 0.66
_OVERLAP_LEAST: Final = 0.3
_BETWEEN: Final = 0.55
_WEAKER: Final = 0.75
_DENIED: Final = 0.8
_FEW: Final = 4
_PARTICLES: Final = word_set("on off up down out in open full")
_PLAIN: Final = FILLER | LIGHT | DETERMINERS
_WEIGHTLESS: Final = _PLAIN | YES | NO
_BARE: Final = word_set("same igual usual normal other otro always siempre never nunca both")
"""Words that answer only where hardly anything else is said."""
_ANSWER_ALONE: Final = word_set(
    "otra nothing none nada ninguno ninguna all todo toda todos todas everything some algo little poco poca poquito lot "
    "lots much mucho mucha bit good fine bien bad mal well half medio media mitad full lleno free libre high low big new "
    "nuevo more mas less menos hot cold warm caliente frio open abierta abierto close cerca cerrado cerrada there ahi "
    "inside adentro outside afuera front back out atras abajo arriba down up light luz night noche day dia morning tarde "
    "water agua air aire wall pared box boxes cajas fan door puerta"
)
"""The same for a word that is the whole wording: in a longer reply it mostly belongs to something else."""
_COUNTED: Final = word_set(
    "inch inches foot feet minute minutes min mins hour hours pulgada pulgadas minuto minutos hora horas pie pies"
)
_CATCH_ALL: Final = frozenset({"other", "something_else"})
"""States for whatever is not named: they yield to what is."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Vote:
    """One option, how sure, and the one that it may be mistaken for."""

    value: str
    confidence: float
    rival: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class _Wording:
    value: str
    label: bool
    words: tuple[str, ...]


def described(options: tuple[Option, ...], tokens: Sequence[Token], chunks: Sequence[Chunk]) -> Vote | None:
    """The option that the words describe; None where they describe none. What is denied or past does not describe."""
    words = [token.word for token in tokens if token.kind in {"word", "number"}]
    if not words or all(word in YES or word in NO for word in words if word not in LIGHT):
        return _plainly(options, tuple(words))
    live, denied = _matches(_book_of(options), tokens, chunks, len(words))
    vote = _strongest(live) or _part(options, words)
    if vote is not None:
        return vote
    if denied:
        return _not_these(options, denied)
    return _overlap(options, tokens, chunks)


def _plainly(options: Sequence[Option], words: tuple[str, ...]) -> Vote | None:
    """A "nothing" or "none" that answers by itself: the one option that is worded so."""
    fits = _worded_so(tuple(options)).get(words, ())
    return Vote(value=fits[0], confidence=_MATCH) if len(fits) == 1 else None


@lru_cache(maxsize=256)
def _worded_so(options: tuple[Option, ...]) -> Mapping[tuple[str, ...], tuple[str, ...]]:
    """Which options have exactly these words for a wording."""
    owners: dict[tuple[str, ...], list[str]] = defaultdict(list)
    for option in options:
        for words in {words_of(wording) for wording in (option.label, *option.wordings)}:
            owners[words].append(option.value)
    return {words: tuple(values) for words, values in owners.items()}


def within_wording(options: tuple[Option, ...], tokens: Sequence[Token], first: int, last: int) -> bool:
    """The words `[first, last)` are only part of some option's wording: "can't see" of "can't see the fins"."""
    return any(
        match.first <= first and last <= match.last and last - first < match.last - match.first
        for match in _book_of(options).find(tokens)
    )


@lru_cache(maxsize=256)
def _book_of(options: tuple[Option, ...]) -> PhraseBook[_Wording]:
    """The options' wordings, without those that two of them share."""
    owners: dict[tuple[str, ...], set[str]] = defaultdict(set)
    first: dict[tuple[str, ...], _Wording] = {}
    for option in options:
        for place, wording in enumerate((option.label, *option.wordings)):
            words = words_of(wording)
            owners[words].add(option.value)
            first.setdefault(words, _Wording(value=option.value, label=place == 0, words=words))
    book: PhraseBook[_Wording] = PhraseBook()
    for words, target in first.items():
        if len(owners[words]) == 1 and not all(word in YES | NO for word in words):
            book.add(words, target)
    return book


def _matches(
    book: PhraseBook[_Wording], tokens: Sequence[Token], chunks: Sequence[Chunk], count: int
) -> tuple[list[tuple[Match[_Wording], float]], list[Match[_Wording]]]:
    """Wordings said, with our trust in each, and wordings denied; of two in one place the longer stands."""
    found = sorted(book.find(tokens), key=lambda m: (-m.words, -m.score, m.first, m.target.value))
    taken: set[int] = set()
    live: list[tuple[Match[_Wording], float]] = []
    denied: list[Match[_Wording]] = []
    for match in found:
        places = range(match.first, match.last)
        chunk = next((c for c in chunks if c.first <= match.first < c.last), None)
        bare = _is_bare(match, tokens)
        inflected = (
            match.words == 1
            and match.score + tokens[match.first].doubt < 1
            and len(tokens[match.first].word) < _FEW
        )
        stray = (
            match.words == 1
            and tokens[match.first].word in _PARTICLES
            and not _carried_by(book, tokens, match.first)
        )
        stray = stray or _cuts_a_number(tokens, match.first)
        if stray or chunk is None or taken.intersection(places) or inflected or (bare and count > _FEW):
            continue
        taken.update(places)
        scope = scope_of(tokens, chunk, match.first, match.last, frozenset())
        if scope.denied:
            denied.append(match)
        elif scope.when != "would_be":
            past = _PAST if scope.when == "before" and not is_past(match.target.words) else 1.0
            live.append((match, _trust(match, tokens, count) * scope.trust * past))
    return live, denied


def _cuts_a_number(tokens: Sequence[Token], place: int) -> bool:
    """As "five minutes" does in "thirty five minutes", or "inch of foam" in "4 inch of foam"."""
    if place == 0:
        return False
    before, first = tokens[place - 1], tokens[place]
    counted = first.kind == "number" or first.word in NUMERALS or first.word in _COUNTED
    return counted and (before.kind == "number" or before.word in NUMERALS)


def _is_bare(match: Match[_Wording], tokens: Sequence[Token]) -> bool:
    """Words that answer only where hardly anything else is said."""
    words = [tokens[place].word for place in range(match.first, match.last)]
    loose = _ANSWER_ALONE | _BARE if match.words == 1 else _BARE
    return all(word in loose or word in LIGHT for word in words)


def _carried_by(book: PhraseBook[_Wording], tokens: Sequence[Token], place: int) -> bool:
    """A little word like "off" says a state after a light or known word, and not in "blew my hat off"."""
    return place == 0 or tokens[place - 1].word in LIGHT | FILLER or tokens[place - 1].word in book.words


def _trust(match: Match[_Wording], tokens: Sequence[Token], count: int) -> float:
    plain = [t.word for t in tokens if t.kind in {"word", "number"} and t.word not in _PLAIN]
    own = [word for word in match.target.words if word not in _PLAIN]
    if len(plain) <= len(own):
        return (_LABEL if match.target.label else _WORDING) * match.score
    if match.words == 1 and count > _LONG_REPLY:
        return _SHORT_MATCH * match.score
    return _MATCH * match.score + (0.03 if match.words > 1 else 0.0)


def _strongest(live: Sequence[tuple[Match[_Wording], float]]) -> Vote | None:
    best: dict[str, tuple[float, int]] = {}
    for match, trust in live:
        value = match.target.value
        if value not in best or (trust, match.words) > best[value]:
            best[value] = (trust, match.words)
    if not best:
        return None
    if len(best) > 1:
        best = {value: sure for value, sure in best.items() if value not in _CATCH_ALL}
    ranked = sorted(best, key=lambda value: (-best[value][0], -best[value][1], value))
    top = ranked[0]
    if len(ranked) == 1:
        return Vote(value=top, confidence=best[top][0])
    runner = ranked[1]
    if best[runner][0] < _PAST + 0.05 < best[top][0]:
        return Vote(value=top, confidence=best[top][0])
    clear = best[top][1] >= best[runner][1] + 2
    return Vote(value=top, confidence=_WEAKER if clear else _BETWEEN, rival=runner)


def _part(options: Sequence[Option], words: Sequence[str]) -> Vote | None:
    """A short reply made of words of one label: "packed" for "packed with dust"."""
    said = [stem(word) for word in words if word not in _PLAIN]
    if not 0 < len(said) <= _FEW:
        return None
    fits = [
        option.value
        for option in options
        if all(word in {stem(w) for w in words_of(option.label) if w not in DETERMINERS} for word in said)
    ]
    return Vote(value=fits[0], confidence=_PART) if len(fits) == 1 else None


def _not_these(options: Sequence[Option], denied: Sequence[Match[_Wording]]) -> Vote | None:
    """As in "Not clean": with two options the other one."""
    out = {match.target.value for match in denied}
    left = [option.value for option in options if option.value not in out]
    return Vote(value=left[0], confidence=_DENIED) if len(left) == 1 else None


def _overlap(options: tuple[Option, ...], tokens: Sequence[Token], chunks: Sequence[Chunk]) -> Vote | None:
    """The option with most words of its own in one statement; never more than a guess that we say back."""
    known = _own_words(options)
    for chunk in chunks:
        for segment in chunk.segments:
            heavy = [place for place in range(*segment) if _is_heavy(tokens[place])]
            weight: Counter[str] = Counter()
            for place in heavy:
                owners = known.get(stem(tokens[place].word), ())
                scope = scope_of(tokens, chunk, place, place + 1, frozenset())
                if len(owners) == 1 and not scope.denied and scope.when in {"now", "by_another"}:
                    weight[owners[0]] += 1
            ranked = sorted(weight, key=lambda value: (-weight[value], value))
            even = len(ranked) > 1 and weight[ranked[0]] == weight[ranked[1]]
            if ranked and not even and weight[ranked[0]] >= _OVERLAP_LEAST * len(heavy):
                return Vote(
                    value=ranked[0], confidence=_OVERLAP, rival=ranked[1] if len(ranked) > 1 else None
                )
    return None


def _is_heavy(token: Token) -> bool:
    return token.kind == "word" and len(token.word) >= _FEW and token.word not in _WEIGHTLESS


@lru_cache(maxsize=256)
def _own_words(options: tuple[Option, ...]) -> Mapping[str, tuple[str, ...]]:
    owners: dict[str, list[str]] = defaultdict(list)
    for option in options:
        stems = {stem(word) for wording in (option.label, *option.wordings) for word in words_of(wording)}
        for one in sorted(stems):
            owners[one].append(option.value)
    return {one: tuple(values) for one, values in owners.items()}
