"""How much of a danger the words leave: denied, only supposed, past and mended, or meant and asked about.

What somebody *does* (opens a cover, climbs, reaches in) is told as well by meaning to do it, or by asking whether one
may; what simply *is* (smoke, a tingle) is not told by "what if".
"""

from collections.abc import Sequence
from typing import Final

from assistant.reading.clauses import Chunk
from assistant.reading.matching import DETERMINERS, LIGHT
from assistant.reading.normalise import Token
from assistant.reading.scope import Scope
from assistant.reading.wordsets import word_set

_ASKED: Final = 0.5
_ASKED_ACT: Final = 0.9
_MEANT: Final = 0.95
_IF_DONE: Final = 0.75
_BEFORE: Final = 0.7
_HEDGED: Final = 0.6
_INVENTED_AT_MOST: Final = 0.45
"""What a danger may weigh that stands on repaired spelling alone: it is asked about, never acted on."""
_IF: Final = word_set("if unless si")
_THIN: Final = DETERMINERS | LIGHT | word_set("a an to in on at en con por i it he she me we y and")


def left_of(tokens: Sequence[Token], chunk: Chunk, scope: Scope, first: int, *, act: bool) -> float:
    """The share of our trust that the scope of the words at `first` leaves."""
    if scope.denied or not scope.recent:
        return 0.0
    if scope.when == "would_be":
        return _of_plan(tokens, chunk, first) if act else 0.0
    if scope.when == "asked":
        return _ASKED_ACT if act else _ASKED
    if scope.when == "before":
        return _BEFORE
    return max(scope.trust, _HEDGED)


def _of_plan(tokens: Sequence[Token], chunk: Chunk, first: int) -> float:
    supposed = any(
        token.word in _IF and not token.seen.startswith("sí") for token in tokens[chunk.first : first]
    )
    return _IF_DONE if supposed else _MEANT


def spelled(tokens: Sequence[Token], parts: Sequence[tuple[int, int]], trust: float) -> float:
    """What is left of `trust` where the telling words had to be put right: a repair alone never makes a danger."""
    words = [
        token
        for first, last in parts
        for token in tokens[first:last]
        if token.kind == "word" and token.word not in _THIN
    ]
    if words and all(token.doubt > 0 for token in words):
        return min(trust, _INVENTED_AT_MOST)
    return trust
