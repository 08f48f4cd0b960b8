"""How near a number stands to a word that marks it: the less, the likelier the word tells what the number is."""

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from assistant.reading.markers import LEADS, PRODUCT, TARGET, Marker, is_thin
from assistant.reading.matching import DETERMINERS
from assistant.reading.normalise import Token
from assistant.reading.units import Measured
from assistant.reading.wordsets import word_set

_NOUN: Final = 0.5
_OTHER: Final = 4.0
_SUBJECT: Final = -2.0
_PLACE: Final = 1.5
"""A noun behind "in" says where, not of what ("the beer in the cooler is at 50")."""
_NEVER: Final = 99.0
_HAS_SUBJECT: Final = 3.0
_WANTED: Final = 2.0
_WANTED_STEP: Final = 0.3
"""After "want", "need", "should" the number that follows is the target, whatever stands between ("need it down to 37")."""


def cost_of(
    tokens: Sequence[Token],
    number: Measured,
    marker: Marker,
    numbers: Sequence[Measured],
    inside: Sequence[Marker],
) -> float:
    """How far a number stands from a word that marks it; a thing named ("thermometer") counts before a verb ("says")."""
    before = marker.last <= number.first
    if not before and marker.first < number.numeral.last:
        return _NEVER
    first, last = (marker.last, number.first) if before else (number.last, marker.first)
    wanted = before and marker.quantity == TARGET and not marker.noun
    cost = sum(_step(tokens[place], wanted=wanted) for place in range(first, last))
    cost += _OTHER * sum(1 for other in numbers if first <= other.first and other.last <= last)
    cost += 2 * _OTHER * any(_is_time_word(tokens[place]) for place in range(first, last))
    cost -= 0.6 * (marker.words - 1) + (_NOUN if marker.noun else 0.0)
    if before and marker.quantity == PRODUCT and _opens_clause(tokens, marker, number, inside):
        return min(cost, _SUBJECT)
    if before and marker.noun and _is_place(tokens, marker):
        cost += _PLACE
    if before and _new_subject(tokens, first, last, wanted=wanted):
        cost += _HAS_SUBJECT
    elif wanted:
        cost -= _WANTED
    if before:
        return cost + (_HAS_SUBJECT if not marker.noun and _subject(marker, numbers, inside) else 0.0)
    if not marker.noun and any(tokens[place].word in {"and", "y"} for place in range(first, last)):
        cost += _HAS_SUBJECT  # "dos minutos y se apaga": the rest comes after
    if marker.quantity == TARGET and not marker.noun and not marker.own_noun:
        cost += _HAS_SUBJECT
    if any(tokens[place].kind == "mark" and tokens[place].word not in "'\"°" for place in range(first, last)):
        cost += _HAS_SUBJECT
    return cost + (
        0.4 if first >= last or all(is_thin(tokens[place]) for place in range(first, last)) else 2.0
    )


def _is_time_word(token: Token) -> bool:
    """Past "hace dos horas" the number behind belongs to something else."""
    return token.word in _TIME_WORDS


_TIME_WORDS: Final = word_set("hora horas hour hours minuto minutos minutes dia dias days semana semanas ago")


def _is_place(tokens: Sequence[Token], marker: Marker) -> bool:
    place = marker.first - 1
    while place > 0 and tokens[place].word in DETERMINERS - _INSIDE:
        place -= 1
    return place >= 0 and tokens[place].word in _INSIDE


def _opens_clause(
    tokens: Sequence[Token], marker: Marker, number: Measured, inside: Sequence[Marker]
) -> bool:
    """The goods are what the clause is about, and nothing else is named but where they stand."""
    place = marker.first - 1
    while place >= 0 and tokens[place].word in DETERMINERS:
        place -= 1
    if place >= 0 and tokens[place].kind == "word" and (place == 0 or tokens[place - 1].kind == "mark"):
        place -= 1  # "pulled pork", "raw milk"
    starts = place < 0 or tokens[place].kind == "mark" or tokens[place].word in {"and", "y", "but", "pero"}
    between = [one for one in inside if one.noun and marker.last <= one.first < number.first]
    marks = any(token.kind == "mark" for token in tokens[marker.last : number.first])
    pairs = set(pairwise(token.word for token in tokens[marker.last : number.first]))
    joined = {place for place in range(marker.last, number.first) if tokens[place].word in {"and", "y"}}
    goods = max((one.first for one in between if one.quantity == PRODUCT), default=-1)
    return (
        starts
        and not marks
        and ("it", "is") not in pairs
        and all(place < goods for place in joined)
        and all(
            _is_place(tokens, one) or one.quantity == PRODUCT or one.first in _places(between)
            for one in between
        )
    )


def _places(markers: Sequence[Marker]) -> set[int]:
    """Second words of longer names ("cold *room*")."""
    return {place for one in markers for place in range(one.first + 1, one.last)}


def _new_subject(tokens: Sequence[Token], first: int, last: int, *, wanted: bool) -> bool:
    """Past a mark or an "and" the number has a subject of its own ("I lose the tulips, it is 43").

    After a wish "it is" opens one even without ("need help it is 52").
    """
    words = [token.word for token in tokens[first:last]]
    if wanted and (("it", "is") in pairwise(words) or _SUBJECTS_ES & set(words)):
        return True
    ends = [
        place
        for place, token in enumerate(tokens[first:last])
        if token.kind == "mark" or token.word in {"and", "y"}
    ]
    return bool(ends) and bool(_SUBJECTS & set(words[ends[-1] :]))


_INSIDE: Final = word_set("in inside en")
_SUBJECTS: Final = word_set("it esta anda va marca")
_SUBJECTS_ES: Final = word_set("esta anda marca than reads says")


def _subject(marker: Marker, numbers: Sequence[Measured], inside: Sequence[Marker]) -> bool:
    """The verb has a subject of its own with another role ("my thermometer right next to it *says* 46")."""
    start = max((number.last for number in numbers if number.last <= marker.first), default=0)
    nouns = [one for one in inside if one.noun and start <= one.first and one.last <= marker.first]
    return bool(nouns) and nouns[-1].quantity != marker.quantity and marker.words == 1


def _step(token: Token, *, wanted: bool) -> float:
    if wanted and token.kind == "word" and token.word not in {"and", "y", "e", "then", "or"}:
        return _WANTED_STEP
    if token.kind == "mark":
        return 0.0 if token.word in "'\"*#°=" else 2.5
    if token.word in {"and", "y", "e", "then", "or"}:
        return 3.0
    if is_thin(token):
        return 0.25
    return 0.1 if token.word in LEADS else 1.0
