"""Numbers with unit, role and time: "set to 38 but it's 52", "8x10x8", "50 ft cord 16 gauge", "at 2 it was 58, now 52"."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from assistant.reading.clauses import Chunk, segment_at
from assistant.reading.clocktimes import Moment, moments_in
from assistant.reading.matching import Match
from assistant.reading.normalise import Token
from assistant.reading.numerals import Numeral, numerals_in
from assistant.reading.roles import ROOM, Known, Role, roles_of
from assistant.reading.said import QuantitySaid, Span, When
from assistant.reading.scope import scope_of
from assistant.reading.senses import Sense
from assistant.reading.units import Degrees, Measured, degrees_of, length_unit, measured, si_of
from kb.ids import Language, QuantityId
from kb.schema import Quantity

_BY: Final = frozenset({"x", "by", "por"})
_MOST: Final = 80
"""Numbers of one text that are read: nobody says more, and a page of digits stays fast."""
_ROOM_SIDES: Final = (QuantityId("room_length_m"), QuantityId("room_width_m"), QuantityId("room_height_m"))
_OUTDOOR: Final = QuantityId("outdoor_c")
_SIDES: Final = 0.9
_INEXACT: Final = 0.85
_OUT_OF_RANGE: Final = 0.3
_INSTEAD: Final = frozenset({"not", "no"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Numbers:
    """What the numbers of a text were read as."""

    said: tuple[QuantitySaid, ...]
    room_at: tuple[tuple[int, int], ...]
    """Places, in tokens, of the room's temperatures."""
    plain: tuple[Numeral, ...]
    """Numbers that are neither a quantity nor a time: a choice, perhaps, or a count."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What the reading knows from outside the text."""

    language: Language
    number_of: QuantityId | None
    units: Degrees | None
    corrected_from: int | None
    quantity_of: Mapping[str, QuantityId]


def numbers_in(
    tokens: Sequence[Token],
    chunks: Sequence[Chunk],
    matches: Sequence[Match[Sense]],
    quantities: Mapping[QuantityId, Quantity],
    asked: Asked,
) -> Numbers:
    """All quantities of a text, in order, and the numbers left over."""
    numerals = numerals_in(tokens)[:_MOST]
    moments = moments_in(tokens, numerals)
    free = [numeral for numeral in numerals if not any(_inside(numeral, moment) for moment in moments)]
    sides, rest = _room_sides(tokens, free, asked)
    numbers = _not_corrected(tokens, [measured(tokens, numeral) for numeral in rest], asked.corrected_from)
    known = Known(quantities=quantities, quantity_of=asked.quantity_of, asked=asked.number_of)
    roles = roles_of(tokens, chunks, numbers, matches, known)
    roles = _corrected_roles(numbers, roles, asked.corrected_from)
    degrees = _degrees(numbers, roles, asked)
    said = [
        _said(tokens, chunks, number, roles.get(place), moments, quantities, degrees)
        for place, number in enumerate(numbers)
    ]
    kept = [
        one
        for place, one in enumerate(said)
        if one is not None and not _taken_back(place, numbers, roles, asked)
    ]
    plain = tuple(n.numeral for place, n in enumerate(numbers) if place not in roles and n.dimension is None)
    in_order = sorted((*sides, *_movement(tokens, kept)), key=lambda one: one.span)
    room_at = tuple(
        (n.first, n.last) for p, n in enumerate(numbers) if p in roles and roles[p].quantity == ROOM
    )
    return Numbers(said=tuple(in_order), room_at=room_at, plain=plain)


def _inside(numeral: Numeral, moment: Moment) -> bool:
    return moment.first <= numeral.first < moment.last


def _room_sides(
    tokens: Sequence[Token], numerals: Sequence[Numeral], asked: Asked
) -> tuple[list[QuantitySaid], list[Numeral]]:
    """As in "8x10x8", "8 by 10", "6 por 3 por 2.60": length, width, height in that order."""
    run: list[Numeral] = []
    for numeral in numerals:
        if run and _joined(tokens, run[-1], numeral):
            run.append(numeral)
        elif len(run) < 2:  # noqa: PLR2004 - a size has two sides at least
            run = [numeral]
    if not 2 <= len(run) <= 3:  # noqa: PLR2004 - two or three sides
        return [], list(numerals)
    known = [measured(tokens, numeral) for numeral in run]
    lengths = [one.unit for one in known if one.dimension == "length"]
    unit = lengths[-1] if lengths else length_unit([n.value for n in run], asked.language, asked.units)
    sides = [
        QuantitySaid(
            quantity=side,
            value=numeral.value,
            unit=unit,
            si=None if unit is None else si_of(numeral.value, unit),
            confidence=_SIDES,
            span=Span(tokens[numeral.first].start, tokens[one.last - 1].end),
        )
        for side, numeral, one in zip(_ROOM_SIDES, run, known, strict=False)
    ]
    return sides, [numeral for numeral in numerals if numeral not in run]


def _joined(tokens: Sequence[Token], one: Numeral, other: Numeral) -> bool:
    known = measured(tokens, one)
    between = [token.word for token in tokens[known.last : other.first]]
    return len(between) == 1 and between[0] in _BY


def _not_corrected(
    tokens: Sequence[Token], numbers: Sequence[Measured], corrected_from: int | None
) -> list[Measured]:
    """As in "48 not 58": the second was never meant."""
    return [
        number
        for place, number in enumerate(numbers)
        if not (
            place > 0
            and 0 < number.first != corrected_from
            and tokens[number.first - 1].word in _INSTEAD
            and numbers[place - 1].last >= number.first - 2
        )
    ]


def _corrected_roles(
    numbers: Sequence[Measured], roles: Mapping[int, Role], corrected_from: int | None
) -> dict[int, Role]:
    """A number after "no wait" takes over the role of the number that it corrects."""
    settled = dict(roles)
    if corrected_from is None:
        return settled
    before = [
        place for place, number in enumerate(numbers) if number.first < corrected_from and place in roles
    ]
    after = [place for place, number in enumerate(numbers) if number.first >= corrected_from]
    if before and after and not (after[0] in roles and roles[after[0]].marked):
        settled[after[0]] = replace(roles[before[-1]], marked=False)
    return settled


def _taken_back(place: int, numbers: Sequence[Measured], roles: Mapping[int, Role], asked: Asked) -> bool:
    if asked.corrected_from is None or numbers[place].first >= asked.corrected_from or place not in roles:
        return False
    return any(
        other in roles and roles[other].quantity == roles[place].quantity
        for other in range(len(numbers))
        if numbers[other].first >= asked.corrected_from
    )


def _degrees(numbers: Sequence[Measured], roles: Mapping[int, Role], asked: Asked) -> Degrees | None:
    """The unit of all unlabelled temperatures: said of another one, else known before, else the one that fits them all."""
    for number in numbers:
        if number.unit == "F":
            return "F"
        if number.unit == "C":
            return "C"
    if asked.units is not None:
        return asked.units
    for place, number in enumerate(numbers):
        role = roles.get(place)
        if role is not None and role.quantity.endswith("_c") and number.unit is None:
            guess = degrees_of(number.numeral.value, outdoors=role.quantity == _OUTDOOR)
            if guess is not None:
                return guess
    return None


def _said(
    tokens: Sequence[Token],
    chunks: Sequence[Chunk],
    number: Measured,
    role: Role | None,
    moments: Sequence[Moment],
    quantities: Mapping[QuantityId, Quantity],
    degrees: Degrees | None,
) -> QuantitySaid | None:
    if role is None:
        return None
    quantity = quantities[role.quantity]
    unit = _unit(number, quantity, degrees)
    si = None if unit is None else si_of(number.numeral.value, unit)
    chunk = next(chunk for chunk in chunks if chunk.first <= number.numeral.last - 1 < chunk.last)
    scope = scope_of(tokens, chunk, number.first, min(number.last, chunk.last), frozenset())
    trust = role.trust * scope.trust * (1.0 if number.numeral.exact else _INEXACT)
    if si is not None and not quantity.at_least <= si <= quantity.at_most:
        trust = min(trust, _OUT_OF_RANGE)
    at = _at(chunk, number, moments)
    when: When = scope.when
    return QuantitySaid(
        quantity=role.quantity,
        value=number.numeral.value,
        unit=unit,
        si=si,
        at=at,
        when=when,
        confidence=trust,
        span=Span(tokens[number.first].start, tokens[number.last - 1].end),
    )


def _unit(number: Measured, quantity: Quantity, degrees: Degrees | None) -> str | None:
    if number.unit is not None:
        return number.unit
    match quantity.kind:
        case "temperature":
            return degrees
        case "count":
            return "awg"
        case "voltage":
            return "V"
        case "current":
            return "A"
        case "power":
            return "BTU" if number.numeral.value > 1000 else None  # noqa: PLR2004 - nobody's unit has a thousand watts written so
        case _:
            return None


def _at(chunk: Chunk, number: Measured, moments: Sequence[Moment]) -> str | None:
    """The nearest time in the same segment, else in the same chunk where it is the only one."""
    segment = segment_at(chunk, number.first)
    near = [moment for moment in moments if segment[0] <= moment.first < segment[1]]
    if near:
        return min(near, key=lambda moment: (abs(moment.first - number.first), moment.first)).at
    return None


def _movement(tokens: Sequence[Token], said: Sequence[QuantitySaid]) -> list[QuantitySaid]:
    """As in "From 38 to 52", "de 58 a 50": the first was before."""
    kept = list(said)
    words_before = {token.start: tokens[place - 1].word for place, token in enumerate(tokens) if place}
    for place in range(len(kept) - 1):
        one, other = kept[place], kept[place + 1]
        lead, follow = words_before.get(one.span.start), words_before.get(other.span.start)
        falls = follow in {"to", "a"} and one.value > other.value
        if one.quantity == other.quantity and (falls or (lead, follow) in {("from", "to"), ("de", "a")}):
            kept[place] = replace(one, when="before")
    return kept
