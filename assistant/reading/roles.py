"""Which quantity each number is: by the words that mark it, nearest first, else by its unit and what was asked."""

from bisect import bisect_right
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final

from assistant.reading.changes import counts, is_unreached, of_something_else
from assistant.reading.clauses import Chunk
from assistant.reading.markers import PRODUCT, ROOM, TARGET, Known, Marker, Role, markers_of
from assistant.reading.matching import Match
from assistant.reading.nearness import cost_of
from assistant.reading.normalise import Token
from assistant.reading.senses import Sense
from assistant.reading.units import Measured
from assistant.reading.unmarked import BY_RANGE, BY_UNIT, rates, unmarked
from assistant.reading.wordsets import word_set
from kb.ids import QuantityId
from kb.schema import Quantity

_CORD: Final = QuantityId("cord_m")
_FOAM: Final = QuantityId("foam_m")
_WALLS: Final = word_set("wall walls pared paredes insulated insulation aislante")
_GAUGE: Final = QuantityId("cord_gauge")
_RUN_AND_REST: Final = frozenset({QuantityId("run_s"), QuantityId("rest_s")})
_SIDES: Final = frozenset({"room_length_m", "room_width_m", "room_height_m"})
"""`assistant.reading.sizes` reads them, before roles are given."""
_FARTHEST: Final = 6.5
_TRUST: Final = ((1.6, 0.96), (3.5, 0.92), (5.0, 0.8), (_FARTHEST, 0.65))
_BESIDE: Final = 0.6
"""For words that mean something else nearly everywhere: "on 4 minutes, off 12"."""
_SURE_UNIT: Final = 0.6
"""With its unit said a number finds its word from farther away."""
_FARTHEST_IF_ASKED: Final = 3.0
"""Where a number was asked for, it is that, unless a word right beside it says otherwise."""
_FARTHEST_PRODUCT: Final = 2.5
"""The goods are named in passing; only a number right beside them is theirs."""
_OWN_SETTING: Final = (13, 30, 55)
"""A room unit's own thermostat stops at about 16 C or 60 F: set lower, the number is the room's target."""
_GAUGES: Final = frozenset({8, 10, 12, 14, 16, 18})
_VOLTS: Final = (80, 500)
"""What a meter may show of a supply, good or bad."""
_LONGEST_BARE_MIN: Final = 120


@dataclass(frozen=True, slots=True, kw_only=True)
class _Pairing:
    cost: float
    number: int
    quantity: QuantityId
    marker: Marker


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
    _give_the_asked_its_number(found, known)
    return found | _of_the_walls(tokens, numbers, found) | _of_the_cord(tokens, numbers, found)


def _give_the_asked_its_number(found: dict[int, Role], known: Known) -> None:
    """As in "it says 43, screen says 41" of somebody's thermometer: "it" is what was asked for."""
    asked = known.asked
    if asked is None or asked == ROOM or not asked.endswith("_c"):
        return
    if any(role.quantity == asked for role in found.values()):
        return
    first = next((at for at in sorted(found) if found[at].quantity == ROOM and not found[at].named), None)
    if first is not None:
        found[first] = replace(found[first], quantity=asked)


def _of_the_walls(
    tokens: Sequence[Token], numbers: Sequence[Measured], found: Mapping[int, Role]
) -> dict[int, Role]:
    """Where walls are spoken of, inches or centimetres that nothing marks are what they are insulated with."""
    if _FOAM in {role.quantity for role in found.values()} or not _WALLS & {token.word for token in tokens}:
        return {}
    thin = [at for at, number in enumerate(numbers) if at not in found and number.unit in {"in", "cm", "mm"}]
    return {at: Role(quantity=_FOAM, trust=BY_RANGE, marked=False) for at in thin[:1]}


def _of_the_cord(
    tokens: Sequence[Token], numbers: Sequence[Measured], found: Mapping[int, Role]
) -> dict[int, Role]:
    """Where a cord is spoken of, a length that nothing marks is its own, and "del 14" its gauge."""
    told = {role.quantity for role in found.values()}
    if not told & {_CORD, _GAUGE}:
        return {}
    more: dict[int, Role] = {}
    for at, number in enumerate(numbers):
        if at in found and found[at].marked:
            continue
        before = tokens[number.first - 1].word if number.first else ""
        if number.dimension == "length" and _CORD not in told:
            more.setdefault(at, Role(quantity=_CORD, trust=BY_RANGE, marked=False))
        elif (
            number.dimension is None and number.numeral.value in _GAUGES and before in {"del", "#", "number"}
        ):
            more.setdefault(at, Role(quantity=_GAUGE, trust=BY_RANGE, marked=False))
    return more


def _roles_in(
    tokens: Sequence[Token],
    inside: Sequence[tuple[int, Measured]],
    matches: Sequence[Match[Sense]],
    known: Known,
    *,
    alone: bool,
) -> dict[int, Role]:
    markers = markers_of(tokens, matches, known.quantity_of)
    strange = {
        at
        for at, number in inside
        if not (number.dimension is None and rates(number))
        and of_something_else(tokens, number, matches, known.quantity_of)
    }
    strange |= _of_the_same(tokens, inside, markers, strange)
    counted = {at for at, number in inside if counts(tokens, number, markers)}
    found: dict[int, Role] = {}
    used: list[Marker] = []
    pairings = _pairings(tokens, [one for one in inside if one[0] not in counted], markers, known, strange)
    for pairing in sorted(pairings, key=lambda p: (p.cost, p.number, p.quantity)):
        if pairing.number in found or any(_same_words(pairing.marker, one) for one in used):
            continue
        used.append(pairing.marker)
        trust = next(trust for limit, trust in _TRUST if pairing.cost <= limit)
        named = pairing.marker.noun or pairing.marker.own_noun
        found[pairing.number] = Role(quantity=pairing.quantity, trust=trust, marked=True, named=named)
    _share_over_from_and_to(tokens, inside, found)
    for at, number in inside:
        free = at not in found or found[at].quantity == ROOM
        if free and at not in counted and at not in strange and is_unreached(tokens, number):
            found[at] = Role(quantity=TARGET, trust=BY_UNIT, marked=True)
        if at not in found and at not in strange and at not in counted:
            role = unmarked(tokens, number, known, alone=alone)
            if role is not None:
                found[at] = role
    return found


def _share_over_from_and_to(
    tokens: Sequence[Token], inside: Sequence[tuple[int, Measured]], found: dict[int, Role]
) -> None:
    """As in "dropped it from 40 to 35": what the one is the other was."""
    for (before, one), (at, other) in pairwise(inside):
        between = [token.word for token in tokens[one.last : other.first]]
        if between in (["to"], ["a"], ["hasta"], ["down", "to"], ["up", "to"]):
            role = found.get(before) or found.get(at)
            if role is not None:
                found[before] = found[at] = role


def _of_the_same(
    tokens: Sequence[Token],
    inside: Sequence[tuple[int, Measured]],
    markers: Sequence[Marker],
    strange: Collection[int],
) -> set[int]:
    """A number behind another device's, with no noun of its own between: "its thermostat is at 64, it goes to 60"."""
    found: set[int] = set()
    for (before, one), (at, other) in pairwise(inside):
        nouns = any(marker.noun and one.last <= marker.first < other.first for marker in markers)
        wished = any(
            marker.quantity == TARGET and one.last <= marker.first < other.first for marker in markers
        )
        if (before in strange or before in found) and not nouns and not wished:
            found.add(at)
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
            if not fits(number, quantity) or not _may_mark(
                tokens, marker, number, markers, strange=at in strange
            ):
                continue
            cost = cost_of(tokens, number, marker, numbers, markers)
            if number.dimension not in {None, "temperature"}:
                cost *= _SURE_UNIT
            if cost <= _farthest(tokens, marker, known.asked):
                yield _Pairing(cost=cost, number=at, quantity=marker.quantity, marker=marker)


def _same_words(one: Marker, other: Marker) -> bool:
    """One name marks one number: "mi termómetro" and "termómetro" are the same."""
    crossing = one.first < other.last and other.first < one.last
    return crossing and (one.quantity == other.quantity or (one.first, one.last) == (other.first, other.last))


def _farthest(tokens: Sequence[Token], marker: Marker, asked: QuantityId | None) -> float:
    if asked is not None and marker.quantity != asked:
        return _FARTHEST_IF_ASKED
    if marker.quantity == PRODUCT:
        return _FARTHEST_PRODUCT
    on_or_off = marker.quantity in _RUN_AND_REST and tokens[marker.last - 1].word in {"on", "off"}
    return _BESIDE if on_or_off else _FARTHEST


def _may_mark(
    tokens: Sequence[Token], marker: Marker, number: Measured, markers: Sequence[Marker], *, strange: bool
) -> bool:
    """Not the sides of a room, nor goods that only name it; of another device's number only a target that it has not.

    A time without a unit only where both run and rest are told ("runs ten, rests ten").
    """
    if marker.quantity in _SIDES:
        return False
    if number.dimension is None and marker.quantity in _RUN_AND_REST:
        return {one.quantity for one in markers} >= _RUN_AND_REST
    if marker.quantity == PRODUCT and _names_the_room(tokens, marker, markers):
        return False
    if not strange or marker.noun or number.dimension not in {None, "temperature"}:
        return True
    return marker.quantity == TARGET and _below_own_setting(number)


def fits(number: Measured, quantity: Quantity) -> bool:
    """A number can be this quantity as far as its unit tells."""
    if number.dimension is None:
        if quantity.kind == "power" or rates(number):
            return quantity.kind == "power" and rates(number)
        if quantity.kind == "voltage":
            return _VOLTS[0] <= number.numeral.value <= _VOLTS[1]
        if quantity.kind == "duration":
            return 0 < number.numeral.value <= _LONGEST_BARE_MIN
        return quantity.kind in {"temperature", "length", "count"}
    return number.dimension == quantity.kind


def _below_own_setting(number: Measured) -> bool:
    most_c, least_f, most_f = _OWN_SETTING
    value = number.numeral.value
    return value <= most_c if number.unit == "C" else value <= most_c or least_f <= value <= most_f


def _names_the_room(tokens: Sequence[Token], marker: Marker, markers: Sequence[Marker]) -> bool:
    """As in "beer cooler", "cuarto de queso": the goods only say which room."""
    rooms = [one for one in markers if one.quantity == ROOM and one.noun]
    before = tokens[marker.first - 1].word if marker.first else ""
    return any(one.first == marker.last for one in rooms) or (
        before == "de" and any(one.last == marker.first - 1 for one in rooms)
    )
