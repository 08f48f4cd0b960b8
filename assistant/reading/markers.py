"""Words that mark what a number is."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from assistant.reading.matching import DETERMINERS, LIGHT, Match
from assistant.reading.normalise import Token
from assistant.reading.senses import Sense
from assistant.reading.units import Measured
from assistant.reading.wordsets import word_set
from kb.ids import QuantityId
from kb.schema import Quantity

ROOM: Final = QuantityId("room_c")
TARGET: Final = QuantityId("target_c")
OUTDOOR: Final = QuantityId("outdoor_c")
PRODUCT: Final = QuantityId("product_c")
AFTER_DEGREES: Final = word_set(
    "here there aqui aca alla out for now ahora ahorita and y right but pero instead not no in adentro today hoy this to overnight yesterday ayer last at "
    "a since desde when cuando all toda todo after with con even inside again otra tonight still todavia o or so cuz "
    "because que is which en ish something outside afuera por for pls please ayuda help rn then target bajando subiendo "
    "dropping rising climbing falling lol an max min while mientras before antes after despues never nunca x mas como"
)
"""What may follow a number that is a temperature with no unit said."""
LEADS: Final = word_set(
    "is at reads read now still today hoy ayer yesterday am pm morning afternoon evening noon midnight lunch manana tarde noche mediodia esta en a anda marca says was around about like ahora ahorita sigue marcaba estaba hit to = hits from de up down hasta subio bajo llego went got not of reached reaches leyendo reading shows showing"
)
"""Words right before a number that is a reading."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """What the roles depend on beside the text."""

    quantities: Mapping[QuantityId, Quantity]
    quantity_of: Mapping[str, QuantityId]
    """Things that have a number of their own, and which."""
    asked: QuantityId | None
    tells: QuantityId | None = None
    """What a number is that comes with an answer by words."""
    elsewhere: bool = False
    """The open question is about a number that is none of ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Role:
    """A number's quantity and how sure we are."""

    quantity: QuantityId
    trust: float
    marked: bool
    """Words beside it name the quantity."""
    named: bool = True
    """A noun names it; False where only a verb does ("it says 43")."""


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
    own_noun: bool = False
    """A word of the quantity that names it ("target", "set point"), and no verb."""


_OUT: Final = word_set("out")
_OUT_OF: Final = word_set("of the coming a there")


def out_of_doors(tokens: Sequence[Token], number: Measured) -> bool:
    """As in "98 out", "95 degrees out today": never "40 out of the vent"."""
    at = number.last
    if at >= len(tokens) or tokens[at].word not in _OUT:
        return False
    return at + 1 >= len(tokens) or tokens[at + 1].word not in _OUT_OF


def markers_of(
    tokens: Sequence[Token], matches: Sequence[Match[Sense]], quantity_of: Mapping[str, QuantityId]
) -> tuple[Marker, ...]:
    """Words that mark a quantity: its own words, and the names of things that have one."""
    nouns = {match.first for match in matches if match.target.kind == "thing"}
    found: dict[tuple[int, int, QuantityId], Marker] = {}
    for match in matches:
        doubt = sum(tokens[place].doubt for place in range(match.first, match.last))
        exact = match.score + doubt + _GAP * match.gaps >= 1 - _SAME  # "bajó a 4" is not "lo bajé a 4"
        own = match.target.kind == "quantity" and match.gaps <= 1 and exact
        quantity = QuantityId(match.target.id) if own else quantity_of.get(match.target.id)
        if (
            match.target.kind not in {"quantity", "thing"}
            or quantity is None
            or not (own or match.score >= 1)
        ):
            continue
        key = (match.first, match.last, quantity)
        noun = match.first in nouns or quantity == PRODUCT
        known = found.get(key)
        found[key] = Marker(
            first=match.first,
            last=match.last,
            words=match.words,
            noun=noun,
            own=own or (known is not None and known.own),
            quantity=quantity,
            own_noun=_NAMES & {token.word for token in tokens[match.first : match.last]} != set(),
        )
    return tuple(found[key] for key in sorted(found))


def is_thin(token: Token) -> bool:
    """A word that hardly parts a number from what it is said of."""
    return token.word in DETERMINERS or token.word in LIGHT or token.word in _PREPOSITIONS


_NAMES: Final = word_set("target setpoint setting point goal meta consigna temperatura temp sp set objetivo")
_GAP: Final = 0.06
_SAME: Final = 1e-9
_PREPOSITIONS: Final = word_set("at a en to in on de")
