"""Words that mark what a number is, and the signs that it is no reading of ours: a count, a difference, another thing's."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from assistant.reading.matching import DETERMINERS, LIGHT, Match
from assistant.reading.normalise import Token
from assistant.reading.senses import Sense
from assistant.reading.units import Measured
from assistant.reading.wordsets import word_set
from kb.ids import QuantityId

AFTER_DEGREES: Final = word_set(
    "here there aqui aca alla out for now ahora ahorita and y right but pero instead not no in adentro today hoy this to overnight yesterday ayer last at "
    "a since desde when cuando all toda todo after with con even inside again otra tonight still todavia o or so cuz "
    "because que is which en ish something outside afuera por for pls please ayuda help rn then target bajando subiendo "
    "dropping rising climbing falling lol max min while mientras before antes after despues never nunca x mas como"
)
"""What may follow a number that is a temperature with no unit said."""
_DIFFERENCE: Final = word_set("off apart difference diferencia warmer colder higher lower cooler hotter per")
_DIFFERENCE_WITHIN: Final = 2
_SPELLED: Final = 13
_WHOLE_REPLY: Final = 3
_NEAR: Final = 6
_OF: Final = word_set("of on in de del the el la los las")
_ROOMS_OWN: Final = word_set("temperature room unit display controller air")
"""Things whose number is the room's, or may be."""
LEADS: Final = word_set(
    "is at reads read now still esta en a anda marca says was around about like ahora ahorita sigue marcaba estaba hit to = hits from de up down hasta subio bajo llego went got not of reached reaches leyendo reading shows showing"
)

"""Words right before a number that is a reading."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Marker:
    """Words `[first, last)` that mark a quantity."""

    first: int
    last: int
    words: int
    noun: bool
    """They name a thing; else a verb ("says", "is at")."""
    own: bool
    """A word of the quantity itself, not only the name of a thing that has it."""
    quantity: QuantityId


def markers_of(matches: Sequence[Match[Sense]], quantity_of: Mapping[str, QuantityId]) -> tuple[Marker, ...]:
    """Words that mark a quantity: its own words, and the names of things that have one."""
    nouns = {match.first for match in matches if match.target.kind == "thing"}
    found: dict[tuple[int, int, QuantityId], Marker] = {}
    for match in matches:
        own = match.target.kind == "quantity" and match.gaps <= 1
        quantity = QuantityId(match.target.id) if own else quantity_of.get(match.target.id)
        if (
            match.target.kind not in {"quantity", "thing"}
            or quantity is None
            or not (own or match.score >= 1)
        ):
            continue
        key = (match.first, match.last, quantity)
        noun = match.first in nouns
        known = found.get(key)
        found[key] = Marker(
            first=match.first,
            last=match.last,
            words=match.words,
            noun=noun,
            own=own or (known is not None and known.own),
            quantity=quantity,
        )
    return tuple(found[key] for key in sorted(found))


def of_something_else(
    tokens: Sequence[Token],
    number: Measured,
    matches: Sequence[Match[Sense]],
    quantity_of: Mapping[str, QuantityId],
) -> bool:
    """Its nearest noun is a thing whose number is none of ours: "the thermostat is at 64"."""
    near = sorted(
        (match.first, match.last, match.target.id)
        for match in matches
        if match.target.kind == "thing"
        and match.score >= 1
        and number.first - _NEAR <= match.last <= number.first
    )
    if not near or any(token.kind == "mark" for token in tokens[near[-1][1] : number.first]):
        return False
    first, last, _ = near[-1]
    for start, end, _ in reversed(near):
        if end < first and all(token.word in _OF for token in tokens[end:first]):
            first, last = start, end  # "the thermostat *of the unit*": the head decides
    return all(
        thing not in quantity_of and thing not in _ROOMS_OWN
        for start, end, thing in near
        if (start, end) == (first, last)
    )


def counts(tokens: Sequence[Token], number: Measured, markers: Sequence[Marker]) -> bool:
    """The number counts things ("40 bins"), or says a difference ("4 degrees warmer"): no reading of ours."""
    if _is_counted_word(number, len(tokens)):
        return True
    after = [token.word for token in tokens[number.last : number.last + _DIFFERENCE_WITHIN]]
    if number.dimension in {None, "temperature"} and (
        _DIFFERENCE & set(after) or after[:2] in (["a", "day"], ["por", "dia"])
    ):
        return True
    if number.dimension is not None or number.last >= len(tokens) or tokens[number.last].kind != "word":
        return False
    lead = tokens[number.first - 1] if number.first else None
    follow = tokens[number.last]
    marked = any(marker.first == number.last and marker.own for marker in markers)
    plain = follow.word in AFTER_DEGREES or is_thin(follow) or follow.word in LEADS
    return (
        not marked
        and not plain
        and lead is not None
        and lead.kind == "word"
        and lead.word not in LEADS | LIGHT
    )


def _is_counted_word(number: Measured, length: int) -> bool:
    """A small number spelled out with no unit counts things ("this one", "los dos") unless it is the whole reply."""
    small = not number.numeral.digits and number.numeral.value < _SPELLED and number.dimension is None
    return small and length > _WHOLE_REPLY


def is_thin(token: Token) -> bool:
    """A word that hardly parts a number from what it is said of."""
    return token.word in DETERMINERS or token.word in LIGHT or token.word in _PREPOSITIONS


_PREPOSITIONS: Final = word_set("at a en to in on de")
