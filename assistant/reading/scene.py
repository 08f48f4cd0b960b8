"""A text laid out for composing: its chunks, the things named in each, the statements, and what "it" may mean."""

from bisect import bisect_right
from collections.abc import Collection, Sequence
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
    things = _outdoors(lexicon, tokens, chunks, tuple(sorted(things, key=lambda thing: thing.first)), asked)
    qualities = _said_apart(tokens, things, mentions_of(matches, "quality"))
    around = _around(lexicon, tokens, chunks, (things, qualities, matches), asked, last_thing)
    return Scene(
        tokens=tokens,
        chunks=chunks,
        matches=matches,
        things=things,
        qualities=qualities,
        around=around,
        starts=tuple(chunk.first for chunk in chunks),
    )


_OF_PEOPLE: Final = word_set("he i we")
_BE: Final = word_set("is am are was were be")
_OPENED: Final = word_set("open opened opn")


def _said_apart(
    tokens: Sequence[Token], things: Sequence[Mention], qualities: Sequence[Mention]
) -> tuple[Mention, ...]:
    """Without the "cold" of "cold room", the "long" of "how long", what is said of people, what people do with a door."""
    names = [thing for thing in things if thing.last - thing.first > 1]
    return tuple(
        one
        for one in qualities
        if not any(
            name.first <= one.first and one.last <= name.last and name.words > one.words for name in names
        )
        and not _is_of_people(tokens, one)
    )


def _is_of_people(tokens: Sequence[Token], said: Mention) -> bool:
    before = [token.word for token in tokens[max(0, said.first - 2) : said.first]]
    if before[-1:] == ["how"]:
        return True
    if before[-1:] and before[-1] in _OF_PEOPLE | {"you", "they"} and tokens[said.first].word in _OPENED:
        return True
    return len(before) > 1 and before[0] in _OF_PEOPLE and before[1] in _BE


def _around(
    lexicon: Lexicon,
    tokens: Sequence[Token],
    chunks: Sequence[Chunk],
    found: tuple[Sequence[Mention], Sequence[Mention], Sequence[Match[Sense]]],
    asked: tuple[ThingId, ...],
    last_thing: ThingId | None,
) -> tuple[Around, ...]:
    """What stands around a mention in each chunk; `found` are the things, the qualities and all phrases."""
    things, qualities = _by_chunk(chunks, found[0]), _by_chunk(chunks, found[1])
    matches = _by_chunk(chunks, found[2])
    carried: tuple[str, ...] = () if last_thing is None else (last_thing,)
    around: list[Around] = []
    for place, chunk in enumerate(chunks):
        named = named_in(tokens, chunk, things[place], lexicon.thing_words)
        around.append(
            Around(
                chunk=chunk,
                things=tuple(things[place]),
                spelled=lexicon.thing_words,
                named=named,
                matches=tuple(matches[place]),
                others=tuple(qualities[place]),
                carried=carried,
                asked=tuple(asked),
            )
        )
        carried = _last_of(named) or carried
    return tuple(around)


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


def _outdoors(
    lexicon: Lexicon,
    tokens: Sequence[Token],
    chunks: Sequence[Chunk],
    things: Sequence[Mention],
    asked: Collection[ThingId],
) -> tuple[Mention, ...]:
    """As in "Went out back and the fins are matted": a thing named after a word for outdoors is the one outdoors.

    So it is where the open question is about the outdoor side.
    """
    sent_out = not set(lexicon.outdoors.values()).isdisjoint(asked)
    found: list[Mention] = []
    starts = [chunk.first for chunk in chunks]
    for thing in things:
        at = bisect_right(starts, thing.first) - 1
        chunk = chunks[at] if at >= 0 and thing.first < chunks[at].last else None
        swapped = lexicon.outdoors.get(tokens[thing.first].word) if thing.words == 1 else None
        if swapped is not None and chunk is not None and (sent_out or _said_outdoors(tokens, chunk, thing)):
            found.append(replace(thing, ids=(swapped,)))
        else:
            found.append(thing)
    return tuple(found)


_OUT: Final = word_set("outside outdoors afuera")
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
