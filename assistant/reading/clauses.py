"""Where one statement ends and the next begins.

A *chunk* runs to a full stop, a question mark, a line end or a word of contrast: what is said of a thing stays inside.
A *segment* runs to a comma or a joining word as well: negation, tense and doubt stay inside.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from assistant.reading.normalise import Token
from assistant.reading.wordsets import word_set

HARD_MARKS: Final = frozenset(".!?;\n")
SOFT_MARKS: Final = frozenset(",:()/-")
CONTRAST: Final = word_set("but pero although though whereas mientras aunque except however yet sino")
_LONGEST: Final = 60
"""Tokens of the longest chunk: nobody says a thing of something farther away, and a text without stops stays fast."""
JOINING: Final = word_set(
    "and y then so because porque entonces luego which since if when si cuando pues & plus unless before after que "
    "while until antes despues e"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Chunk:
    """`[first, last)` in tokens."""

    first: int
    last: int
    asks: bool
    """A question mark ends it."""
    contrasts: bool
    """A word of contrast opens it."""
    segments: tuple[tuple[int, int], ...]


def chunks_of(tokens: Sequence[Token]) -> tuple[Chunk, ...]:
    """The chunks of a text, in order; every token that is not a boundary stands in exactly one."""
    return tuple(_chunks(tokens))


def _chunks(tokens: Sequence[Token]) -> Iterator[Chunk]:
    first, contrasts = 0, False
    for place, token in enumerate(tokens):
        hard = token.kind == "mark" and token.word in HARD_MARKS
        contrast = token.kind == "word" and token.word in CONTRAST
        endless = place - first >= _LONGEST
        if not (hard or contrast or endless):
            continue
        if place > first:
            yield _chunk(tokens, first, place, asks=token.word == "?", contrasts=contrasts)
        first, contrasts = (place if endless and not (hard or contrast) else place + 1), contrast
    if first < len(tokens):
        yield _chunk(tokens, first, len(tokens), asks=False, contrasts=contrasts)


def _chunk(tokens: Sequence[Token], first: int, last: int, *, asks: bool, contrasts: bool) -> Chunk:
    starts = [first]
    for place in range(first + 1, last):
        token = tokens[place]
        soft = token.kind == "mark" and token.word in SOFT_MARKS
        if soft or (token.kind == "word" and token.word in JOINING):
            starts.append(place)
    segments = tuple(zip(starts, [*starts[1:], last], strict=True))
    return Chunk(first=first, last=last, asks=asks, contrasts=contrasts, segments=segments)


def segment_at(chunk: Chunk, place: int) -> tuple[int, int]:
    """The segment of `chunk` in which a token stands."""
    return next(segment for segment in chunk.segments if segment[0] <= place < segment[1])
