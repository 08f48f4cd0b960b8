"""Mending misspelt words against the words we know; a real word of either language is never changed.

One word is taken only where it is clearly the nearest: what could be two things that differ in sense stays unmended.
"""

from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from importlib.resources import files
from typing import Final

from rapidfuzz import process
from rapidfuzz.distance import OSA

from assistant.reading.normalise import Token
from assistant.reading.stems import stem
from assistant.reading.wordsets import word_set

_SHORTEST: Final = 4
_LONGEST: Final = 24
_TWO_SLIPS_FROM: Final = 8
_SOUND_DOUBT: Final = 0.03
_SLIP_DOUBT: Final = 0.05
_SHORT_SLIP_DOUBT: Final = 0.1
_SHORT: Final = 6
"""Letters up to which a slip may well have made another real word."""
_GLUED_DOUBT: Final = 0.05
_GLUED_FROM: Final = 6
_PART_FROM: Final = 2
_PLAIN_PART: Final = 4
_GLUES: Final = word_set(
    "the its not no is it el la se lo me mi my de ya en esta hay muy los las and air fan"
)
"""Short words that thumbs glue to the next one."""

GUARD: Final = frozenset(
    frozenset(pair.split("/"))
    for pair in [
        "hot/not",
        "on/no",
        "in/on",
        "si/no",
        "of/off",
        "off/on",
        "cold/could",
        "cool/could",
        "warm/worm",
        "here/there",
        "never/ever",
        "open/often",
        "close/clothes",
        "tight/light",
        "tingle/single",
        "smoke/spoke",
        "dice/hielo",
        "hot/how",
        "low/now",
        "dead/deal",
    ]
)
"""Pairs that one slip of a finger joins and that mean different things: never crossed."""

_SOUNDS: Final = (
    ("hie", "ie"), ("ye", "ie"), ("ll", "i"), ("y", "i"), ("h", ""), ("qu", "k"), ("q", "k"), ("ce", "se"),
    ("ci", "si"), ("z", "s"), ("c", "k"), ("v", "b"), ("ge", "je"), ("gi", "ji"), ("w", "gu"), ("ph", "f"),
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Speller:
    """The words we know, sorted for looking near ones up."""

    known: frozenset[str]
    """Real words: never changed."""
    everyday: frozenset[str]
    """Ordinary words of either language."""
    worth: frozenset[str]
    """The knowledge's own words: what a misspelt word may become."""
    ordinary: frozenset[str] = field(repr=False)
    """Common words of both languages: written on purpose, so never changed either."""
    senses: Mapping[str, frozenset[str]] = field(repr=False)
    """What words stand for by themselves: two that mean one thing are no rivals."""
    by_sound: dict[str, tuple[str, ...]] = field(repr=False)
    by_length: dict[int, tuple[str, ...]] = field(repr=False)

    def __hash__(self) -> int:
        """By identity: one speller a lexicon."""
        return id(self)


def speller_of(
    worth: Collection[str],
    everyday: Collection[str],
    senses: Mapping[str, frozenset[str]],
    real: Collection[str] = (),
) -> Speller:
    """The speller for the knowledge's words among everyday ones; `real` are others that are written on purpose."""
    able = sorted(word for word in worth if len(word) >= _SHORTEST and word.isalpha())
    by_sound: dict[str, list[str]] = defaultdict(list)
    by_length: dict[int, list[str]] = defaultdict(list)
    for word in able:
        by_sound[sound(word)].append(word)
        by_length[len(word)].append(word)
    return Speller(
        ordinary=ordinary_words() | frozenset(real),
        known=frozenset(worth) | frozenset(everyday),
        everyday=frozenset(everyday),
        worth=frozenset(able),
        senses=senses,
        by_sound={key: tuple(words) for key, words in by_sound.items()},
        by_length={key: tuple(words) for key, words in by_length.items()},
    )


@lru_cache(maxsize=1)
def ordinary_words() -> frozenset[str]:
    """Common words of both languages, folded (the file names its source)."""
    text = files("assistant.reading").joinpath("ordinary_words.txt").read_text("utf-8")
    lines = (line for line in text.splitlines() if not line.startswith("#"))
    return frozenset(word for line in lines for word in line.split())


def sound(word: str) -> str:
    """How a word sounds to somebody who writes by ear, Spanish above all: h is mute, b is v, s is c is z.

    >>> sound("yelo") == sound("hielo"), sound("serpentin") == sound("cerpentin")
    (True, True)
    """
    for written, heard in _SOUNDS:
        word = word.replace(written, heard)
    return "".join(letter for place, letter in enumerate(word) if place == 0 or letter != word[place - 1])


def mend(speller: Speller, tokens: Sequence[Token]) -> tuple[Token, ...]:
    """The tokens with misspelt words put right, glued ones parted; each repair leaves its doubt."""
    return tuple(_mended(speller, tokens))


def _mended(speller: Speller, tokens: Sequence[Token]) -> Iterator[Token]:
    skip = False
    for place, token in enumerate(tokens):
        if skip:
            skip = False
            continue
        if token.kind != "word" or is_word(speller, token.word) or _is_inflected(speller, token.word):
            yield token
            continue
        after = tokens[place + 1] if place + 1 < len(tokens) else None
        joined = _joined(speller, token, after)
        if joined is not None:
            skip = True
            yield joined
            continue
        parts = _parted(speller, token)
        word, doubt = repaired(speller, token.word)
        if len(parts) > 1 and (not doubt or doubt > _SOUND_DOUBT):
            yield from parts  # a slip must not swallow the "no" of "noenfria"
        elif doubt:
            yield replace(token, word=word, doubt=doubt)
        else:
            yield token


def is_word(speller: Speller, word: str) -> bool:
    """A real word of either language, of the trade or not."""
    return word in speller.known or word in speller.ordinary


def _joined(speller: Speller, token: Token, after: Token | None) -> Token | None:
    if after is None or after.kind != "word" or after.word in speller.known:
        return None
    whole = token.word + after.word
    if whole in speller.worth:
        return replace(token, word=whole, end=after.end, doubt=_GLUED_DOUBT)
    return None


def _parted(speller: Speller, token: Token) -> tuple[Token, ...]:
    word = token.word
    if not _GLUED_FROM <= len(word) <= _LONGEST:
        return (token,)
    for cut in range(len(word) - _PART_FROM, _PART_FROM - 1, -1):
        left, right = word[:cut], word[cut:]
        if (
            left in speller.known
            and right in speller.known
            and (left in speller.worth or right in speller.worth)
        ):
            parts = (left, right)
            return tuple(replace(token, word=part, doubt=_GLUED_DOUBT) for part in parts)
    return (token,)


@lru_cache(maxsize=20_000)
def _known_stems(speller: Speller) -> frozenset[str]:
    return frozenset(stem(word) for word in speller.known)


def _is_inflected(speller: Speller, word: str) -> bool:
    return len(word) > _SHORTEST and stem(word) in _known_stems(speller)


@lru_cache(maxsize=20_000)
def repaired(speller: Speller, word: str) -> tuple[str, float]:
    """The word meant, and the doubt that the repair leaves; 0 where nothing was repaired."""
    if not _SHORTEST <= len(word) <= _LONGEST or not word.isalpha():
        return word, 0.0
    alike = [near for near in speller.by_sound.get(sound(word), ()) if not _guarded(word, near)]
    if alike and _one_sense(speller, alike):
        return alike[0], _SOUND_DOUBT
    slips = 2 if len(word) >= _TWO_SLIPS_FROM else 1
    near = [found for found in _near(speller, word, slips) if _may_become(word, found)]
    if not near:
        return word, 0.0
    least = min(OSA.distance(word, found) for found in near)
    nearest = [found for found in near if OSA.distance(word, found) == least]
    likeliest = [found for found in nearest if found[0] == word[0]] or nearest
    if not _one_sense(speller, likeliest):
        same_length = [found for found in likeliest if sorted(found) == sorted(word)]
        if not same_length or not _one_sense(speller, same_length):
            return word, 0.0
        likeliest = same_length
    return likeliest[0], least * (_SLIP_DOUBT if len(word) > _SHORT else _SHORT_SLIP_DOUBT)


def _near(speller: Speller, word: str, slips: int) -> list[str]:
    found: list[str] = []
    for length in range(len(word) - slips, len(word) + slips + 1):
        pool = speller.by_length.get(length, ())
        hits = process.extract(word, pool, scorer=OSA.distance, score_cutoff=slips, limit=8)
        found.extend(hit[0] for hit in hits)
    return sorted(found)


def _one_sense(speller: Speller, words: Sequence[str]) -> bool:
    if len({stem(word) for word in words}) == 1:
        return True
    return bool(frozenset.intersection(*(speller.senses.get(word, frozenset()) for word in words)))


def _may_become(word: str, found: str) -> bool:
    """A short word keeps its first letter, unless the first two only changed places."""
    swapped = word[1] == found[0] and word[0] == found[1]
    return not _guarded(word, found) and (word[0] == found[0] or swapped or len(word) >= _TWO_SLIPS_FROM)


def _guarded(one: str, other: str) -> bool:
    return frozenset({one, other}) in GUARD
