"""Which quantity each number is: by the words that mark it, nearest first, else by its unit and what was asked."""

from bisect import bisect_right
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from assistant.reading.clauses import Chunk
from assistant.reading.markers import (
    AFTER_DEGREES,
    LEADS,
    Marker,
    counts,
    is_thin,
    markers_of,
    of_something_else,
)
from assistant.reading.matching import Match
from assistant.reading.normalise import Token
from assistant.reading.senses import Sense
from assistant.reading.units import Dimension, Measured
from assistant.reading.wordsets import word_set
from kb.ids import QuantityId
from kb.schema import Quantity

ROOM: Final = QuantityId("room_c")
_ONLY_ONE: Final[dict[Dimension, QuantityId]] = {
    "power": QuantityId("unit_w"), "voltage": QuantityId("supply_v"), "current": QuantityId("unit_a"),
    "count": QuantityId("cord_gauge"), "mass": QuantityId("product_kg"),
}  # fmt: skip
_FARTHEST: Final = 6.5
_TRUST: Final = ((1.6, 0.96), (3.5, 0.92), (5.0, 0.8), (_FARTHEST, 0.65))
_NOUN: Final = 0.5
_DICTATED: Final = 20
_NEVER: Final = 99.0
_SURE_UNIT: Final = 0.6
"""With its unit said a number finds its word from farther away."""
_HAS_SUBJECT: Final = 3.0
_BY_UNIT: Final = 0.9
_ASKED: Final = 0.93
_PLAIN_DEGREES: Final = 0.86
_PLAIN: Final = 0.8


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """What the roles depend on beside the text."""

    quantities: Mapping[QuantityId, Quantity]
    quantity_of: Mapping[str, QuantityId]
    """Things that have a number of their own, and which."""
    asked: QuantityId | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Role:
    """A number's quantity and how sure we are."""

    quantity: QuantityId
    trust: float
    marked: bool
    """Words beside it name the quantity."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Pairing:
    cost: float
    number: int
    quantity: QuantityId
    marker: tuple[int, int]


def roles_of(
    tokens: Sequence[Token],
    chunks: Sequence[Chunk],
    numbers: Sequence[Measured],
    matches: Sequence[Match[Sense]],
    known: Known,
) -> dict[int, Role]:
    """The role of each number that has one, by its place in `numbers`; one word marks one number."""
    found: dict[int, Role] = {}
    starts = [chunk.first for chunk in chunks]
    here: dict[int, list[tuple[int, Measured]]] = {}
    said: dict[int, list[Match[Sense]]] = {}
    for place, number in enumerate(numbers):
        here.setdefault(bisect_right(starts, number.first) - 1, []).append((place, number))
    for match in matches:
        if match.target.kind in {"quantity", "thing"}:
            said.setdefault(bisect_right(starts, match.first) - 1, []).append(match)
    for at, inside in here.items():
        found.update(_roles_in(tokens, inside, said.get(at, []), known, alone=len(numbers) == 1))
    return found


def _roles_in(
    tokens: Sequence[Token],
    inside: Sequence[tuple[int, Measured]],
    matches: Sequence[Match[Sense]],
    known: Known,
    *,
    alone: bool,
) -> dict[int, Role]:
    markers = markers_of(matches, known.quantity_of)
    strange = {at for at, number in inside if of_something_else(tokens, number, matches, known.quantity_of)}
    counted = {at for at, number in inside if counts(tokens, number, markers)}
    found: dict[int, Role] = {}
    used: set[tuple[int, int]] = set()
    pairings = _pairings(tokens, [one for one in inside if one[0] not in counted], markers, known, strange)
    for pairing in sorted(pairings, key=lambda p: (p.cost, p.number, p.quantity)):
        if pairing.number in found or pairing.marker in used:
            continue
        used.add(pairing.marker)
        trust = next(trust for limit, trust in _TRUST if pairing.cost <= limit)
        found[pairing.number] = Role(quantity=pairing.quantity, trust=trust, marked=True)
    for at, number in inside:
        if at not in found and at not in strange and at not in counted:
            role = _unmarked(tokens, number, known, alone=alone)
            if role is not None:
                found[at] = role
    return found


def _pairings(
    tokens: Sequence[Token],
    inside: Sequence[tuple[int, Measured]],
    markers: Sequence[Marker],
    known: Known,
    strange: Collection[int],
) -> Iterator[_Pairing]:
    numbers = [number for _, number in inside]
    for at, number in inside:
        for marker in markers:
            quantity = known.quantities[marker.quantity]
            if not fits(number, quantity):
                continue
            if at in strange and not marker.noun and quantity.kind == "temperature":
                continue
            cost = _cost(tokens, number, marker, numbers, markers)
            if number.dimension not in {None, "temperature"}:
                cost *= _SURE_UNIT
            if cost <= _FARTHEST:
                place = (marker.first, marker.last)
                yield _Pairing(cost=cost, number=at, quantity=marker.quantity, marker=place)


def fits(number: Measured, quantity: Quantity) -> bool:
    """A number can be this quantity as far as its unit tells."""
    if number.dimension is None:
        return quantity.kind in {"temperature", "length", "count"}
    return number.dimension == quantity.kind


def _cost(
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
    cost = sum(_step(tokens[place]) for place in range(first, last))
    cost += 4.0 * sum(1 for other in numbers if first <= other.first and other.last <= last)
    cost -= 0.6 * (marker.words - 1) + (_NOUN if marker.noun else 0.0)
    if before and _new_subject(tokens, first, last):
        cost += _HAS_SUBJECT
    if before:
        return cost + (_HAS_SUBJECT if not marker.noun and _subject(marker, numbers, inside) else 0.0)
    if any(tokens[place].kind == "mark" and tokens[place].word not in "'\"°" for place in range(first, last)):
        cost += _HAS_SUBJECT
    return cost + (
        0.4 if first >= last or all(is_thin(tokens[place]) for place in range(first, last)) else 2.0
    )


def _new_subject(tokens: Sequence[Token], first: int, last: int) -> bool:
    """Past a mark or an "and" the number has a subject of its own ("I lose the tulips, it is 43")."""
    words = [token.word for token in tokens[first:last]]
    ends = [
        place
        for place, token in enumerate(tokens[first:last])
        if token.kind == "mark" or token.word in {"and", "y"}
    ]
    return bool(ends) and bool(_SUBJECTS & set(words[ends[-1] :]))


_SUBJECTS: Final = word_set("it esta anda va marca")


def _subject(marker: Marker, numbers: Sequence[Measured], inside: Sequence[Marker]) -> bool:
    """The verb has a subject of its own with another role ("my thermometer right next to it *says* 46")."""
    start = max((number.last for number in numbers if number.last <= marker.first), default=0)
    nouns = [one for one in inside if one.noun and start <= one.first and one.last <= marker.first]
    return bool(nouns) and nouns[-1].quantity != marker.quantity and marker.words == 1


def _step(token: Token) -> float:
    if token.kind == "mark":
        return 0.0 if token.word in "'\"*#°=" else 2.5
    if token.word in {"and", "y", "e", "then", "or"}:
        return 3.0
    if is_thin(token):
        return 0.25
    return 0.1 if token.word in LEADS else 1.0


def _unmarked(
    tokens: Sequence[Token],
    number: Measured,
    known: Known,
    *,
    alone: bool,
) -> Role | None:
    quantities, asked = known.quantities, known.asked
    if asked is not None and asked in quantities and _answers(number, quantities[asked]):
        return Role(quantity=asked, trust=_ASKED, marked=False)
    only = _ONLY_ONE.get(number.dimension or "other")
    if only is not None and only in quantities:
        return Role(quantity=only, trust=_BY_UNIT, marked=False)
    if number.dimension == "temperature" and ROOM in quantities:
        return Role(quantity=ROOM, trust=_PLAIN_DEGREES, marked=False)
    if (
        number.dimension is None
        and number.numeral.digits
        and ROOM in quantities
        and _reads_like_degrees(tokens, number)
    ):
        return Role(quantity=ROOM, trust=_PLAIN if alone else _PLAIN * 0.9, marked=False)
    if (
        number.dimension is None
        and not number.numeral.digits
        and number.numeral.value > _DICTATED
        and ROOM in quantities
    ):
        return Role(quantity=ROOM, trust=_PLAIN * 0.9, marked=False)
    return None


def _answers(number: Measured, quantity: Quantity) -> bool:
    return number.dimension is None or number.dimension == quantity.kind


def _reads_like_degrees(tokens: Sequence[Token], number: Measured) -> bool:
    before = tokens[number.first - 1] if number.first else None
    after = tokens[number.last] if number.last < len(tokens) else None
    closes = after is None or after.kind == "mark" or after.word in AFTER_DEGREES
    opens = before is None or before.kind == "mark" or before.word in LEADS
    return opens and closes
