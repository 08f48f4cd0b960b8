"""The small pieces of wording that the ear weighs: words, stems, groups of letters, pairs of neighbours.

A misspelt word keeps most of its letter groups, an inflected one its stem, and "not iced" is a pair of its own.
"""

from collections.abc import Sequence
from functools import lru_cache
from typing import Final

from assistant.reading.clauses import Chunk
from assistant.reading.normalise import Token
from assistant.reading.stems import stem

_GROUPS: Final = (3, 4)
SHORTEST, LONGEST = 2, 30
"""Words of a stretch of text that is heard as a whole."""
MOST_SEGMENTS: Final = 4
_NUMBER: Final = "#"

_LONG: Final = 8
_INSIDE: Final = (4, 6, 8)
"""Tokens of the stretches inside a long statement, which a comma left out made of several."""

Stretch = tuple[int, int, int]
"""First and last token, and how many statements it spans."""


@lru_cache(maxsize=1 << 14)
def pieces_of_word(word: str) -> tuple[str, ...]:
    """The pieces of one folded word; numbers are all alike.

    >>> pieces_of_word("iced")
    ('w iced', 's iced', 'c _ic', 'c ice', 'c ced', 'c ed_', 'c _ice', 'c iced', 'c ced_')
    >>> pieces_of_word("52.5")
    ('w #',)
    """
    if _plain(word) == _NUMBER:
        return (f"w {_NUMBER}",)
    inside = f"_{word}_"
    groups = [inside[at : at + size] for size in _GROUPS for at in range(len(inside) - size + 1)]
    return (f"w {word}", f"s {stem(word)}", *(f"c {group}" for group in groups))


def pieces_of_pair(one: str, two: str) -> tuple[str, str]:
    """The pieces of two neighbouring words: as they stand, and their stems in either order."""
    one, two = _plain(one), _plain(two)
    return f"b {one} {two}", "k " + " ".join(sorted((stem(one), stem(two))))


def _plain(word: str) -> str:
    return _NUMBER if word.replace(".", "", 1).isdigit() else word


def is_word(token: Token) -> bool:
    """Marks are heard past."""
    return token.kind != "mark"


def stretches(tokens: Sequence[Token], chunks: Sequence[Chunk], most: int = MOST_SEGMENTS) -> list[Stretch]:
    """Runs of up to `most` neighbouring statements, over the bounds of sentences too, with some words in them."""
    segments = [segment for chunk in chunks for segment in chunk.segments]
    before = [0]
    for token in tokens:
        before.append(before[-1] + is_word(token))
    found = []
    for start in range(len(segments)):
        for end in range(start, min(start + most, len(segments))):
            first, last = segments[start][0], segments[end][1]
            if SHORTEST <= before[last] - before[first] <= LONGEST:
                found.append((first, last, end - start + 1))
    return found


def inner_stretches(chunks: Sequence[Chunk]) -> list[Stretch]:
    """Stretches inside long statements, for what takes few words."""
    return [
        (at, at + size, 1)
        for chunk in chunks
        for first, last in chunk.segments
        if last - first >= _LONG
        for size in _INSIDE
        for at in range(first, last - size + 1)
        if size < last - first
    ]
