"""A room's sides, in any order and spelling: "8x10x8", "10 by 12 and 8 tall", "3 de ancho por 4 de largo".

Numbers joined by "x", "by" or "por" make a run: a side that is named takes its number, the others follow as length,
width, height. A side named beside a run, or a few named alone, belong to the room as well. A unit said of one side holds
for those without.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from assistant.reading.normalise import Token
from assistant.reading.said import QuantitySaid, Span
from assistant.reading.units import Degrees, Measured, length_unit, si_of, side_unit
from assistant.reading.wordsets import word_set
from kb.ids import Language, QuantityId
from kb.schema import Quantity

_LENGTH, _WIDTH, _HEIGHT = (
    QuantityId("room_length_m"),
    QuantityId("room_width_m"),
    QuantityId("room_height_m"),
)
_IN_ORDER: Final = (_LENGTH, _WIDTH, _HEIGHT)
_JOINS: Final = word_set("x by por * times")
_SIDE_OF: Final[Mapping[str, QuantityId]] = {
    "long": _LENGTH, "length": _LENGTH, "deep": _LENGTH, "depth": _LENGTH, "largo": _LENGTH, "fondo": _LENGTH,
    "longitud": _LENGTH, "profundidad": _LENGTH, "wide": _WIDTH, "width": _WIDTH, "across": _WIDTH, "ancho": _WIDTH,
    "anchura": _WIDTH, "high": _HEIGHT, "tall": _HEIGHT, "height": _HEIGHT, "ceiling": _HEIGHT, "ceilings": _HEIGHT,
    "alto": _HEIGHT, "altura": _HEIGHT, "techo": _HEIGHT,
}  # fmt: skip
_BEFORE_NUMBER: Final = word_set(
    "length depth width height ceiling ceilings largo fondo ancho alto altura techo longitud anchura profundidad"
)
"""Names that may stand before their number ("height 8 feet")."""
_AFTER_NUMBER: Final = word_set("de in of - the on")
"""What may part a number from the side's name behind it; never "is": "9 es alto" says that 9 is much."""
_BEFORE: Final = word_set("de in of - : = is are the a at es el la about like como unos casi mide")
_NEAR: Final = 3
_NOT_ROOMS: Final = word_set(
    "stud studs sheet sheets lumber panel panels board boards plywood framing framed wall walls post posts cord "
    "extension cable gap crack hole shelf shelves rack racks pallet pallets boxes filter grille opening window "
    "stacked apilado apilados apiladas hueco rendija estante rejilla tarima tarimas caja cajas hoja hojas ventana ductwork duct pipe"
)
"""Things of which a size said right before or after is none of the room's."""
_AND: Final = word_set(", and y & with con")
_MOST_SIDES: Final = 3
_SURE, _NAMED_ALONE = 0.93, 0.9
_DOUBTED: Final = 0.3
"""A side that cannot be one, beside others that can ("2 inches wide and 10 ft long"): asked about."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Side:
    place: int
    number: Measured
    named: QuantityId | None
    first: int
    last: int
    """`[first, last)` takes the side's name in."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizes:
    """The sides found, and the numbers that belong to sizes, by their place: of the room, or of something else."""

    said: tuple[QuantitySaid, ...]
    places: frozenset[int]


def sizes_in(
    tokens: Sequence[Token],
    numbers: Sequence[Measured],
    quantities: Mapping[QuantityId, Quantity],
    language: Language,
    degrees: Degrees | None,
) -> Sizes:
    """The room's sides among `numbers`; at most one value a side, the first said."""
    sides = [_side(tokens, place, number) for place, number in enumerate(numbers) if _may_be_a_side(number)]
    runs = _runs(tokens, sides)
    run = next((run for run in runs if not _of_something_else(tokens, run)), ())
    others = [side for side in sides if side.named is not None and side not in run]
    others = [side for side in others if not _of_something_else(tokens, [side])]
    assigned = _assigned(run, others)
    unit = _unit([side for _, side in assigned], language, degrees, whole_run=bool(run))
    said = [_said(tokens, quantity, side, unit, in_run=side in run) for quantity, side in assigned]
    fits = [one for one in said if _makes_a_room(one, quantities)]
    if run and len(fits) < len(said):
        fits = []  # a size of something smaller than a room
    elif fits:
        fits = [one if one in fits else replace(one, confidence=_DOUBTED) for one in said]
    ours = {side.place for _, side in assigned} if fits or run else set()
    return Sizes(said=tuple(fits), places=frozenset(ours | {side.place for one in runs for side in one}))


def _may_be_a_side(number: Measured) -> bool:
    return number.dimension in {None, "length"} and number.numeral.value > 0


def _side(tokens: Sequence[Token], place: int, number: Measured) -> _Side:
    first, last = number.first, number.last
    for at in range(last, min(last + _NEAR, len(tokens))):
        if tokens[at].word in _SIDE_OF:
            return _Side(
                place=place, number=number, named=_SIDE_OF[tokens[at].word], first=first, last=at + 1
            )
        if tokens[at].word not in _AFTER_NUMBER:
            break
    for at in range(first - 1, max(first - 1 - _NEAR, -1), -1):
        if tokens[at].word in _BEFORE_NUMBER:
            return _Side(place=place, number=number, named=_SIDE_OF[tokens[at].word], first=at, last=last)
        if tokens[at].word not in _BEFORE:
            break
    return _Side(place=place, number=number, named=None, first=first, last=last)


def _runs(tokens: Sequence[Token], sides: Sequence[_Side]) -> list[tuple[_Side, ...]]:
    runs: list[list[_Side]] = []
    for side in sides:
        between = [token.word for token in tokens[runs[-1][-1].last : side.first]] if runs else []
        if runs and len(between) == 1 and between[0] in _JOINS and len(runs[-1]) < _MOST_SIDES:
            runs[-1].append(side)
        else:
            runs.append([side])
    return [tuple(run) for run in runs if len(run) > 1]


def _of_something_else(tokens: Sequence[Token], run: Sequence[_Side]) -> bool:
    """As in "2x4 studs", "6 inches wide gap", "a cord 50 feet long"."""
    after = [token.word for token in tokens[run[-1].last : run[-1].last + 2]]
    before: list[str] = []
    for token in reversed(tokens[max(0, run[0].first - _NEAR) : run[0].first]):
        if token.kind == "mark":
            break
        before.append(token.word)
    named = run[-1].named is not None and len(run) == 1
    return bool(_NOT_ROOMS & set(after[:1] if named else after)) or (named and bool(_NOT_ROOMS & set(before)))


def _assigned(run: Sequence[_Side], others: Sequence[_Side]) -> list[tuple[QuantityId, _Side]]:
    """Named sides first, then the nameless of the run in the usual order."""
    found: dict[QuantityId, _Side] = {}
    for side in (*run, *others):
        if side.named is not None:
            found.setdefault(side.named, side)
    for side in run:
        free = [quantity for quantity in _IN_ORDER if quantity not in found]
        if side.named is None and free:
            found[free[0]] = side
    return sorted(found.items(), key=lambda one: one[1].place)


def _unit(
    sides: Sequence[_Side], language: Language, degrees: Degrees | None, *, whole_run: bool
) -> str | None:
    """The unit of sides that have none: a neighbour's, else the person's, else the one that makes a room."""
    said = [side.number.unit for side in sides if side.number.unit in {"ft", "m"}]
    if said:
        return said[0]
    values = [side.number.numeral.value for side in sides]
    if whole_run or len(values) > 1:
        return length_unit(values, language, degrees) if values else None
    return side_unit(values[0], language, degrees, high=sides[0].named == _HEIGHT) if values else None


def _said(
    tokens: Sequence[Token], quantity: QuantityId, side: _Side, unit: str | None, *, in_run: bool
) -> QuantitySaid:
    number, own = side.number, side.number.unit or unit
    return QuantitySaid(
        quantity=quantity,
        value=number.numeral.value,
        unit=own,
        si=None if own is None else si_of(number.numeral.value, own),
        confidence=_SURE if in_run else _NAMED_ALONE,
        span=Span(tokens[side.first].start, tokens[side.last - 1].end),
    )


def _makes_a_room(said: QuantitySaid, quantities: Mapping[QuantityId, Quantity]) -> bool:
    if said.quantity is None or said.quantity not in quantities:
        return False
    node = quantities[said.quantity]
    return said.si is None or node.at_least <= said.si <= node.at_most
