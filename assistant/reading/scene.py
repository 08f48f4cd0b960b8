"""A text laid out for composing: its chunks, the things named in each, the statements, and what "it" may mean."""

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final, TypeVar

from assistant.reading.attach import Around
from assistant.reading.clauses import Chunk
from assistant.reading.lexicon import Lexicon
from assistant.reading.matching import Match
from assistant.reading.mentions import Mention, Named, mentions_of, named_in
from assistant.reading.normalise import Token
from assistant.reading.senses import Sense
from assistant.reading.wordsets import word_set
from kb.ids import ThingId


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """A text laid out for composing: its tokens, chunks, and what was found in them."""

    tokens: tuple[Token, ...]
    chunks: tuple[Chunk, ...]
    matches: tuple[Match[Sense], ...]
    things: tuple[Mention, ...]
    qualities: tuple[Mention, ...]
    around: tuple[Around, ...]
    """One a chunk."""
    starts: tuple[int, ...]
    """Where each chunk begins."""


def scene_of(
    lexicon: Lexicon,
    tokens: tuple[Token, ...],
    chunks: tuple[Chunk, ...],
    matches: tuple[Match[Sense], ...],
    asked: tuple[ThingId, ...],
    last_thing: ThingId | None,
    degrees: tuple[Mention, ...] = (),
) -> Scene:
    """Lay a text out: things named in each chunk, and what "it" may mean there.

    `degrees` are the room's temperatures that the text says: of a number, too, one can say that it rises.
    """
    things = (*mentions_of(matches, "thing"), *degrees)
    things = _outdoors(lexicon, tokens, chunks, tuple(sorted(things, key=lambda thing: thing.first)))
    qualities = _unshadowed(mentions_of(matches, "quality"), matches)
    around: list[Around] = []
    carried: tuple[str, ...] = () if last_thing is None else (last_thing,)
    things_in = _by_chunk(chunks, things)
    qualities_in = _by_chunk(chunks, qualities)
    matches_in = _by_chunk(chunks, matches)
    for place, chunk in enumerate(chunks):
        named = named_in(tokens, chunk, things_in[place], lexicon.thing_words)
        around.append(
            Around(
                chunk=chunk,
                things=tuple(things_in[place]),
                spelled=lexicon.thing_words,
                named=named,
                matches=tuple(matches_in[place]),
                others=tuple(qualities_in[place]),
                carried=carried,
                asked=tuple(asked),
            )
        )
        carried = _last_of(named) or carried
    return Scene(
        tokens=tokens,
        chunks=chunks,
        matches=matches,
        things=things,
        qualities=qualities,
        around=tuple(around),
        starts=tuple(chunk.first for chunk in chunks),
    )


Placed = TypeVar("Placed", Mention, Match[Sense])


def _by_chunk(chunks: Sequence[Chunk], placed: Sequence[Placed]) -> list[list[Placed]]:
    """What begins and ends in each chunk, in order."""
    inside: list[list[Placed]] = [[] for _ in chunks]
    starts = [chunk.first for chunk in chunks]
    for one in placed:
        at = bisect_right(starts, one.first) - 1
        if at >= 0 and one.last <= chunks[at].last:
            inside[at].append(one)
    return inside


def _unshadowed(qualities: Sequence[Mention], matches: Sequence[Match[Sense]]) -> tuple[Mention, ...]:
    """Without the words inside a longer phrase about a hazard: *dry ice* is no ice on a coil."""
    shaded: dict[int, int] = {}
    for match in matches:
        if match.target.kind in {"hazard", "not_hazard"} and not match.gaps:
            for place in range(match.first, match.last):
                shaded[place] = max(shaded.get(place, 0), match.words)
    return tuple(
        quality
        for quality in qualities
        if not all(shaded.get(place, 0) > quality.words for place in range(quality.first, quality.last))
    )


def _outdoors(
    lexicon: Lexicon, tokens: Sequence[Token], chunks: Sequence[Chunk], things: Sequence[Mention]
) -> tuple[Mention, ...]:
    """As in "Went out back and the fins are matted": a thing named after a word for outdoors is the one outdoors."""
    found: list[Mention] = []
    starts = [chunk.first for chunk in chunks]
    for thing in things:
        at = bisect_right(starts, thing.first) - 1
        chunk = chunks[at] if at >= 0 and thing.first < chunks[at].last else None
        swapped = lexicon.outdoors.get(tokens[thing.first].word) if thing.words == 1 else None
        if swapped is not None and chunk is not None and _said_outdoors(tokens, chunk, thing):
            found.append(replace(thing, ids=(swapped,)))
        else:
            found.append(thing)
    return tuple(found)


_OUT: Final = word_set("outside outdoors afuera atras")
_OUT_PAIRS: Final = word_set("out/back out/there out/here around/back")
_OUT_BEFORE, _OUT_AFTER = 6, 3


def _said_outdoors(tokens: Sequence[Token], chunk: Chunk, thing: Mention) -> bool:
    near = tokens[max(chunk.first, thing.first - _OUT_BEFORE) : min(chunk.last, thing.last + _OUT_AFTER)]
    if any(token.kind == "number" for token in near):
        return False
    words = [token.word for token in near]
    return bool(_OUT & set(words)) or any(f"{one}/{two}" in _OUT_PAIRS for one, two in pairwise(words))


def _last_of(named: Sequence[Named]) -> tuple[str, ...]:
    if not named:
        return ()
    group = named[-1].group
    return tuple(dict.fromkeys(thing for one in named if one.group == group for thing in one.ids))


def around_of(scene: Scene, first: int) -> Around | None:
    """What stands around a place; None on a boundary."""
    at = bisect_right(scene.starts, first) - 1
    return scene.around[at] if at >= 0 and first < scene.chunks[at].last else None
