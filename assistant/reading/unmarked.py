"""What a number is that no word marks: by what was asked, by its unit, else by its size and how it stands."""

from collections.abc import Sequence
from typing import Final

from assistant.reading.markers import (
    AFTER_DEGREES,
    LEADS,
    OUTDOOR,
    ROOM,
    Known,
    Role,
    out_of_doors,
)
from assistant.reading.normalise import Token
from assistant.reading.numerals import WORDS
from assistant.reading.units import Dimension, Measured
from assistant.reading.wordsets import word_set
from kb.ids import QuantityId
from kb.schema import Quantity

_UNIT_W: Final = QuantityId("unit_w")
_ONLY_ONE: Final[dict[Dimension, QuantityId]] = {
    "power": QuantityId("unit_w"), "voltage": QuantityId("supply_v"), "current": QuantityId("unit_a"),
    "count": QuantityId("cord_gauge"),
}  # fmt: skip
_DICTATED: Final = 20
BY_UNIT: Final = 0.9
_ASKED: Final = 0.93
_PLAIN_DEGREES: Final = 0.86
_PLAIN: Final = 0.8
BY_RANGE: Final = 0.8
_TEMPERATURES: Final = frozenset({ROOM, OUTDOOR})
_DAYS: Final = word_set("day days weather heat afternoon afternoons")
_WEATHER: Final = (100, 130)
"""Bare numbers that only the weather reaches, in F."""
_BTU: Final = (5_000, 60_000, 500)
"""Least, most and step of the ratings that people give without a unit."""
_TWO_DIGITS: Final = 10


def unmarked(
    tokens: Sequence[Token],
    number: Measured,
    known: Known,
    *,
    alone: bool,
) -> Role | None:
    """Its role, if it has one; `alone` says that it is the only number of the text."""
    quantities, asked = known.quantities, known.asked
    if asked is not None and asked in quantities and _answers(number, quantities[asked]):
        return Role(quantity=asked, trust=_ASKED, marked=False)
    if known.tells is not None and known.tells in quantities and _tells(number, quantities[known.tells]):
        return Role(quantity=known.tells, trust=_ASKED, marked=False)
    quantity, trust = _by_itself(tokens, number, alone=alone)
    if known.elsewhere and quantity in _TEMPERATURES:
        return None
    if quantity is None or quantity not in quantities:
        return None
    return Role(quantity=quantity, trust=trust, marked=False)


def _by_itself(tokens: Sequence[Token], number: Measured, *, alone: bool) -> tuple[QuantityId | None, float]:
    """What a number is that no word marks: by its unit, else by its size and how it stands."""
    only = _ONLY_ONE.get(number.dimension or "other")
    if only is not None:
        return only, BY_UNIT
    if number.dimension is None and rates(number):
        return _UNIT_W, BY_RANGE
    like_degrees = number.dimension is None and _reads_like_degrees(tokens, number)
    if number.dimension != "temperature" and not like_degrees:
        return None, 0.0
    if out_of_doors(tokens, number) or _of_the_day(tokens, number):
        return OUTDOOR, BY_UNIT
    if number.unit != "C" and _WEATHER[0] <= number.numeral.value <= _WEATHER[1]:
        return OUTDOOR, BY_RANGE
    if number.dimension == "temperature":
        return ROOM, _PLAIN_DEGREES
    return ROOM, _PLAIN if alone else _PLAIN * 0.9


def _of_the_day(tokens: Sequence[Token], number: Measured) -> bool:
    """As in "a 95 degree day"."""
    return number.last < len(tokens) and tokens[number.last].word in _DAYS


def _tells(number: Measured, quantity: Quantity) -> bool:
    """Its unit fits; a temperature needs none where it stands alone."""
    bare = number.dimension is None and quantity.kind == "temperature" and number.numeral.value >= _TWO_DIGITS
    return bare or number.dimension == quantity.kind


def _answers(number: Measured, quantity: Quantity) -> bool:
    return number.dimension is None or number.dimension == quantity.kind


def _reads_like_degrees(tokens: Sequence[Token], number: Measured) -> bool:
    if not number.numeral.digits:
        return number.numeral.value > _DICTATED
    before = tokens[number.first - 1] if number.first else None
    after = tokens[number.last] if number.last < len(tokens) else None
    closes = after is None or after.kind != "word" or after.word in AFTER_DEGREES or after.word in WORDS
    opens = before is None or before.kind != "word" or before.word in LEADS
    two_digits = number.numeral.value >= _TWO_DIGITS
    return (
        closes
        and number.numeral.value <= _WEATHER[1]
        and (opens or (two_digits and before is not None and before.kind == "word"))
    )


def rates(number: Measured) -> bool:
    """A bare number can only be a rating: 12000, 24k."""
    least, most, step = _BTU
    return least <= number.numeral.value <= most and number.numeral.value % step == 0
