"""A plain yes or no, in every shape, and which option it means."""

from collections.abc import Mapping, Sequence
from typing import Final, Literal

from assistant.reading.normalise import Token, words_of
from assistant.reading.said import Move, OpenQuestion
from assistant.reading.wordsets import word_set

YES: Final = word_set(
    "yes yeah yep yup ya sure si sip simon claro correct correcto affirmative yessir aja afirmativo uhuh sii"
)
NO: Final = word_set("no nope nah naw nel nop negative negativo nones nothing none nada ninguno ninguna")
_OPENING: Final = word_set(
    "uh um well pues oh ah ay uy eh so ok okay hola hi hey ¡ - . , bueno honestly la verdad hmm mmm jefe"
)
_LATELY: Final = word_set("now today hoy ya ahora ahorita orita anymore")
_TAIL: Final = 3
_SHORT: Final = 5


def spoken(tokens: Sequence[Token], moves: Sequence[Move]) -> Literal["yes", "no"] | None:
    """What the reply says where it opens with yes or no, or ends with "now no", "hoy ya no"."""
    if {"unsure", "cannot"} & set(moves):
        return None
    if "yes" in moves and "no" not in moves:
        return "yes"
    if "no" in moves and "yes" not in moves:
        return "no"
    place = 0
    while place < len(tokens) and tokens[place].word in _OPENING:
        place += 1
    if place == len(tokens):
        return None
    word = tokens[place].word
    if word in YES and not _is_if(tokens, place):
        return "yes"
    if word in NO:
        return "no"
    words = [token.word for token in tokens if token.kind == "word"]
    if words[-1:] == ["no"] and set(words[-_TAIL:]) & _LATELY:
        return "no"
    return _at_the_end(words)


def _at_the_end(words: Sequence[str]) -> Literal["yes", "no"] | None:
    """As in "Thank god none", "esta vez no": a short reply whose last word is its only yes or no."""
    told = [word for word in words if word in YES or word in NO]
    if not 1 < len(words) <= _SHORT or len(told) != 1 or words[-1] != told[0] or words[-1] == "ya":
        return None
    return "yes" if told[0] in YES else "no"


def _is_if(tokens: Sequence[Token], place: int) -> bool:
    """An unaccented "si" that goes on to a comma later is an *if* ("si se para, le aviso")."""
    if tokens[place].word != "si" or tokens[place].seen.startswith("sí") or place + 1 >= len(tokens):
        return False
    rest = [token.word for token in tokens[place + 1 :]]
    return rest[0] != "," and "," in rest


def meaning_of(question: OpenQuestion) -> Mapping[str, str]:
    """Which option is the yes and which the no: by its value, by how its label begins, by the question's words."""
    means: dict[str, str] = {}
    for option in question.options:
        for wording in (option.value, option.label):
            opening = words_of(wording.replace("_", " "))[:1]
            if opening and opening[0] in YES:
                means.setdefault("yes", option.value)
            elif opening and opening[0] in NO:
                means.setdefault("no", option.value)
    if question.yes_means is not None:
        means.setdefault("yes", question.yes_means)
    if question.no_means is not None:
        means.setdefault("no", question.no_means)
    return means
