"""Whether a reply is nothing but a question of theirs: "where is the filter", "do you mean the panels?"."""

from collections.abc import Sequence
from typing import Final

from assistant.reading.clauses import Chunk
from assistant.reading.normalise import Token
from assistant.reading.wordsets import word_set

_OPENING: Final = word_set(
    "and but so ok okay um uh well hey oh sorry wait y pero pues bueno oiga perdon disculpe eh este , ¿ - lol haha"
)
_WHICH: Final = word_set("where how what which who why when")
_AFTER_WHICH: Final = word_set(
    "is are am do does did can could should would will was was one part way close long far much many end side button kind "
    "the even exactly am"
)
_AUXILIARY: Final = word_set("do does did is are can could should would will am have has was")
_SUBJECT: Final = word_set("you i it that this the they we there my your")
_PREGUNTA: Final = word_set(
    "donde como que cual cuales cuanto cuantos cuanta cuando quien por para se debo puedo hay es"
)
_AFTER_PREGUNTA: Final = {
    "donde": word_set("esta queda miro va veo hay busco lo la"),
    "como": word_set("le se lo la hago puedo saco reviso abro quito mido veo"),
    "cual": word_set("es de filtro de los cable"),
    "que": word_set("es quiere significa hago le"),
}
"""Without a question mark: a *como* or *donde* may as well begin an answer ("como siempre", "donde sopla")."""
_TWO: Final = 2


def only_asks(tokens: Sequence[Token], chunks: Sequence[Chunk]) -> bool:
    """Every statement of the reply is a question, told by how it opens."""
    said = [
        chunk
        for chunk in chunks
        if any(token.word not in _OPENING for token in tokens[chunk.first : chunk.last])
    ]
    return bool(said) and all(_asks(tokens, chunk) for chunk in said)


def _asks(tokens: Sequence[Token], chunk: Chunk) -> bool:
    first = chunk.first
    while first < chunk.last and tokens[first].word in _OPENING:
        first += 1
    words = [token.word for token in tokens[first : chunk.last] if token.kind != "mark"]
    if len(words) < _TWO:
        return False
    if words[0] in _WHICH and words[1] in _AFTER_WHICH:
        return chunk.asks or words[1] in _AUXILIARY | {"close", "long", "far"}
    if words[0] in _AUXILIARY and words[1] in _SUBJECT:
        return chunk.asks or words[1] in {"you", "i"}
    if chunk.asks and words[0] in _PREGUNTA:
        return True
    return words[1] in _AFTER_PREGUNTA.get(words[0], ())
