"""Choosing an option by its number: "2", "#2", "two", "dos", "the second one", "la segunda", "b"."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from assistant.reading.normalise import Token
from assistant.reading.wordsets import word_set

_ORDINALS: Final = {
    "first": 1, "1st": 1, "second": 2, "2nd": 2, "third": 3, "3rd": 3, "fourth": 4, "fifth": 5, "sixth": 6,
    "primera": 1, "primero": 1, "primer": 1, "segunda": 2, "segundo": 2, "tercera": 3, "tercero": 3, "tercer": 3,
    "cuarta": 4, "quinta": 5, "sexta": 6,
}  # fmt: skip
_SPOKEN: Final = {
    "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "uno": 1, "dos": 2, "tres": 3, "cuatro": 4,
    "cinco": 5, "seis": 6,
}  # fmt: skip
_LAST: Final = word_set("last ultima ultimo")
_LETTER: Final = re.compile(r"^[b-df]$")
"""Not "a" and "e", ordinary words in one language or the other, unless nothing else is said."""
FILLER: Final = word_set(
    "number option answer choice no num opcion numero la el the one es it is i think its would be say que de creo yo "
    "digo a respuesta pick go with choose for me mas my un una that eso esa # . , ) ( : - ! please por favor ok jefe st "
    "nd rd th ra da do era o's seria"
)
"""Words that may stand around a number that chooses."""
_EITHER: Final = word_set("or o between entre and y")
_PAIR: Final = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """Options chosen by number, from 1: one, or two that the person wavers between; `whole` if nothing else is said."""

    picks: tuple[int, ...]
    place: int
    """Where the number stands, in tokens."""
    whole: bool


def choice_in(tokens: Sequence[Token], count: int) -> Choice | None:
    """The choice among `count` options that a reply is, or begins with.

    >>> from assistant.reading.normalise import tokens_of
    >>> [choice_in(tokens_of(text), 3).picks for text in ("#2", "la segunda", "the second one", "2 or 3")]
    [(2,), (2,), (2,), (2, 3)]
    """
    picked = [
        (place, pick)
        for place, token in enumerate(tokens)
        if (pick := _pick(tokens, place, token, count)) is not None
    ]
    if not picked:
        return None
    places = {place for place, _ in picked}
    picks = tuple(sorted({pick for _, pick in picked}))
    rest = [token.word for at, token in enumerate(tokens) if at not in places]
    first = picked[0][0]
    if len(picks) == _PAIR and set(rest) & _EITHER and all(word in FILLER | _EITHER for word in rest):
        return Choice(picks=picks, place=first, whole=True)
    if len(picks) != 1:
        return None
    whole = all(word in FILLER for word in rest)
    begins = tokens[first].kind == "number" and all(token.word in FILLER for token in tokens[:first])
    return Choice(picks=picks, place=first, whole=whole) if whole or begins else None


def _pick(tokens: Sequence[Token], place: int, token: Token, count: int) -> int | None:
    if token.word in _LAST:
        return count
    if token.word == "one" and place and tokens[place - 1].kind == "word" and len(tokens) > 1:
        return None  # the "one" of "the second one" counts nothing
    value: int | None = None
    if token.kind == "number" and token.word.isdecimal():
        value = int(token.word)
    elif token.word in _ORDINALS or token.word in _SPOKEN:
        value = _ORDINALS.get(token.word) or _SPOKEN[token.word]
    elif token.kind == "word" and (_LETTER.match(token.word) or (token.word in "ae" and len(tokens) == 1)):
        value = ord(token.word) - ord("a") + 1
    return value if value is not None and 1 <= value <= count else None
