"""Where the ear heard something: its stretch as a place in the text, and whether it is said of what is so now."""

from collections.abc import Iterator, Sequence
from typing import Final

from assistant.reading.clauses import Chunk
from assistant.reading.ear import Like
from assistant.reading.lexicon import Lexicon
from assistant.reading.normalise import Token
from assistant.reading.said import Span
from assistant.reading.scene import Scene
from assistant.reading.scope import scope_of

LIVE: Final = frozenset({"now", "by_another"})
Label = tuple[str, str]
"""An id and a state; the state is empty where there are none."""


def taught(lexicon: Lexicon, kind: str) -> frozenset[Label]:
    """The labels of a kind that the ear was trained on."""
    ear = lexicon.knowledge.ear
    return frozenset((id_, state) for of, id_, state in ear.labels if of == kind) if ear else frozenset()


def is_unreal(scene: Scene, like: Like, *, past_counts: bool = False) -> bool:
    """The end of the stretch is asked, only supposed, or past where the past does not count."""
    place = like.last - 1
    chunk = next(iter(chunk_at(scene.chunks, place)), None)
    if chunk is None:
        return False
    when = scope_of(scene.tokens, chunk, place, place + 1, frozenset()).when
    return when not in LIVE and not (past_counts and when == "before")


def chunk_at(chunks: Sequence[Chunk], place: int) -> Iterator[Chunk]:
    """The sentence in which a token stands, if any."""
    return (chunk for chunk in chunks if chunk.first <= place < chunk.last)


def span_of_like(tokens: Sequence[Token], like: Like) -> Span:
    """The stretch of a like in the text as sent."""
    return span_between(tokens, like.first, like.last)


def span_between(tokens: Sequence[Token], first: int, last: int) -> Span:
    """The place of tokens `[first, last)` in the text as sent."""
    return Span(tokens[first].start, tokens[last - 1].end)
