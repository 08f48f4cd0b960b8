"""Numbers with unit, role and time: "set to 38 but it's 52", "8x10x8", "50 ft cord 16 gauge", "at 2 it was 58, now 52"."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal

from assistant.reading.changes import is_of_a_good_room
from assistant.reading.clauses import Chunk, segment_at
from assistant.reading.clocktimes import Moment, moments_in
from assistant.reading.markers import OUTDOOR, ROOM, TARGET, Known, Role
from assistant.reading.matching import Match
from assistant.reading.normalise import Token
from assistant.reading.numeral import Numeral
from assistant.reading.numerals import numerals_in
from assistant.reading.roles import roles_of
from assistant.reading.said import QuantitySaid, Span, When
from assistant.reading.scope import scope_of
from assistant.reading.senses import Sense
from assistant.reading.sizes import sizes_in
from assistant.reading.units import Degrees, Measured, degrees_of, measured, si_of
from assistant.reading.wordsets import word_set
from kb.ids import Language, QuantityId
from kb.schema import Quantity

_MOST: Final = 80
"""Numbers of one text that are read: nobody says more, and a page of digits stays fast."""
_FOAM: Final = QuantityId("foam_m")
_SET: Final = word_set(
    "set put dialed turned moved bumped changed puse puso pusimos ajuste programe deje dejamos"
)
_WAS: Final = word_set("was were had used estaba estaban tenia era been")
_BOUNDS: Final = word_set("over under above below mas menos arriba abajo pasa pasan")
"""Right before an unmarked number they give a bound and no value ("well over a hundred")."""
_NEAR_BOUND: Final = 3
_THEN: Final = word_set("then entonces")
_USUALLY: Final = word_set("normally usually generally typically normalmente siempre generalmente")
_THAT_TIME: Final = word_set("esa vez")
_IF: Final = word_set("if si unless")
_INEXACT: Final = 0.85
_OUT_OF_RANGE: Final = 0.3
_HOTTEST_F: Final = 130.0
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
    number_tells: QuantityId | None
    elsewhere: bool
    """The question is about a number that is none of ours."""
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
    every = _not_corrected(tokens, [measured(tokens, numeral) for numeral in free], asked.corrected_from)
    sizes = sizes_in(tokens, every, quantities, asked.language, _said_degrees(every) or asked.units)
    numbers = [number for place, number in enumerate(every) if place not in sizes.places]
    known = Known(
        quantities=quantities,
        quantity_of=asked.quantity_of,
        asked=asked.number_of,
        tells=asked.number_tells,
        elsewhere=asked.elsewhere,
    )
    roles = roles_of(tokens, chunks, numbers, matches, known)
    roles = _corrected_roles(numbers, roles, asked.corrected_from)
    units = _units(numbers, _degrees(numbers, roles, asked), asked)
    said = [
        _said(tokens, chunks, number, roles.get(place), moments, quantities, units)
        for place, number in enumerate(numbers)
    ]
    kept = [
        one
        for place, one in enumerate(said)
        if one is not None
        and not _taken_back(place, numbers, roles, asked)
        and not (len(said) > 1 and is_of_a_good_room(tokens, chunks, numbers[place]))
    ]
    plain = tuple(n.numeral for place, n in enumerate(numbers) if place not in roles and n.dimension is None)
    in_order = sorted((*sizes.said, *_movement(tokens, kept)), key=lambda one: one.span)
    room_at = tuple(
        (n.first, n.last) for p, n in enumerate(numbers) if p in roles and roles[p].quantity == ROOM
    )
    return Numbers(said=tuple(in_order), room_at=room_at, plain=plain)


def _inside(numeral: Numeral, moment: Moment) -> bool:
    return moment.first <= numeral.first < moment.last


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


def _said_degrees(numbers: Sequence[Measured]) -> Degrees | None:
    for number in numbers:
        if number.unit == "F":
            return "F"
        if number.unit == "C":
            return "C"
    return None


def _degrees(numbers: Sequence[Measured], roles: Mapping[int, Role], asked: Asked) -> Degrees | None:
    """The unit of all unlabelled temperatures: said of another one, else known before, else the one that fits them all."""
    known = _said_degrees(numbers) or asked.units
    if known is not None:
        return known
    guesses = [
        degrees_of(number.numeral.value, outdoors=roles[place].quantity == OUTDOOR)
        for place, number in enumerate(numbers)
        if place in roles
        and roles[place].quantity.endswith("_c")
        and number.unit is None
        and number.numeral.value <= _HOTTEST_F
    ]
    hot, cold = guesses.count("F"), guesses.count("C")
    return None if not hot and not cold else "F" if hot >= cold else "C"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Units:
    """The units of numbers that have none."""

    degrees: Degrees | None
    duration: str
    length: Literal["ft", "m"] | None


def _units(numbers: Sequence[Measured], degrees: Degrees | None, asked: Asked) -> _Units:
    """A neighbour's unit, else what goes with the person's degrees; a rest or a run without one is in minutes."""
    durations = [number.unit for number in numbers if number.dimension == "duration" and number.unit]
    lengths = [number.unit for number in numbers if number.unit in {"ft", "m"}]
    english = degrees == "F" or (degrees is None and asked.language == "en")
    usual: Literal["ft", "m"] | None = "ft" if english else "m" if degrees == "C" else None
    length = usual if not lengths else "ft" if lengths[0] == "ft" else "m"
    return _Units(degrees=degrees, duration=durations[0] if durations else "min", length=length)


def _said(
    tokens: Sequence[Token],
    chunks: Sequence[Chunk],
    number: Measured,
    role: Role | None,
    moments: Sequence[Moment],
    quantities: Mapping[QuantityId, Quantity],
    units: _Units,
) -> QuantitySaid | None:
    if role is None:
        return None
    quantity = quantities[role.quantity]
    unit = _unit(number, role.quantity, quantity, units)
    si = None if unit is None else si_of(number.numeral.value, unit)
    chunk = next(chunk for chunk in chunks if chunk.first <= number.numeral.last - 1 < chunk.last)
    scope = scope_of(tokens, chunk, number.first, min(number.last, chunk.last), frozenset())
    bound = _BOUNDS & {token.word for token in tokens[max(0, number.first - _NEAR_BOUND) : number.first]}
    exact = number.numeral.exact and not (bound and not role.marked)
    trust = role.trust * scope.trust * (1.0 if exact else _INEXACT)
    if si is not None and not quantity.at_least <= si <= quantity.at_most:
        trust = min(trust, _OUT_OF_RANGE)
    return QuantitySaid(
        quantity=role.quantity,
        value=number.numeral.value,
        unit=unit,
        si=si,
        at=_at(chunk, number, moments),
        when=_when(tokens, chunk, number, role, quantity, scope.when),
        confidence=trust,
        span=Span(tokens[number.first].start, tokens[number.last - 1].end),
    )


def _when(
    tokens: Sequence[Token], chunk: Chunk, number: Measured, role: Role, quantity: Quantity, when: When
) -> When:
    """A target is a wish by nature ("should be 38"); a size, a rating or how long something took does not pass."""
    words = {token.word for token in tokens[chunk.first : number.first]}
    if quantity.kind == "temperature" and role.quantity != TARGET and _long_past(tokens, chunk, number):
        return "before"
    if role.quantity == TARGET and when == "would_be" and not words & _IF:
        return "now"
    if role.quantity == TARGET and when == "before" and words & _SET and not words & _WAS:
        return "now"  # "we set it at 37 last night": what was set still is
    if quantity.kind != "temperature" and when == "before":
        return "now"
    return when


def _long_past(tokens: Sequence[Token], chunk: Chunk, number: Measured) -> bool:
    """As in "got it down to 39 then", "normally runs 37", "esa vez bajó a 4"."""
    start, _ = segment_at(chunk, number.first)
    words = {token.word for token in tokens[start : number.first]}
    after = [token.word for token in tokens[number.last : number.last + 2]]
    then = bool(_THEN & set(after[:1])) or after == ["back", "then"]
    so_far = {token.word for token in tokens[chunk.first : number.first]}
    return then or bool(_USUALLY & words) or so_far >= _THAT_TIME


def _unit(number: Measured, name: QuantityId, quantity: Quantity, units: _Units) -> str | None:
    if number.unit is not None:
        return number.unit
    match quantity.kind:
        case "temperature":
            return units.degrees
        case "count":
            return "awg"
        case "voltage":
            return "V"
        case "current":
            return "A"
        case "power":
            return "BTU" if number.numeral.value > 1000 else None  # noqa: PLR2004 - nobody's unit has a thousand watts written so
        case "duration":
            return units.duration
        case "length":
            return {"ft": "in", "m": "cm", None: None}[units.length] if name == _FOAM else units.length
        case "mass":
            return None


def _at(chunk: Chunk, number: Measured, moments: Sequence[Moment]) -> str | None:
    """The nearest time in the same segment, else in the same chunk where it is the only one."""
    segment = segment_at(chunk, number.first)
    near = [moment for moment in moments if segment[0] <= moment.first < segment[1]]
    if near:
        return min(near, key=lambda moment: (abs(moment.first - number.first), moment.first)).at
    return None


def _movement(tokens: Sequence[Token], said: Sequence[QuantitySaid]) -> list[QuantitySaid]:
    """As in "From 38 to 52", "de 58 a 50", "58 down to 50": the first was before."""
    kept = list(said)
    for place in range(len(kept) - 1):
        one, other = kept[place], kept[place + 1]
        lead = next((token.word for token in reversed(tokens) if token.end <= one.span.start), "")
        between = [token.word for token in tokens if one.span.end <= token.start < other.span.start]
        falls = between in _FALLS and one.value > other.value
        if one.quantity == other.quantity and (falls or (between in _FALLS and lead in {"from", "de"})):
            kept[place] = replace(one, when="before")
    return kept


_FALLS: Final = (["to"], ["a"], ["hasta"], ["down", "to"], ["up", "to"], ["y", "luego", "a"])


def settled_by_cold(said: Sequence[QuantitySaid]) -> tuple[QuantitySaid, ...]:
    """In a text that complains of frost or cold, 28 can only be 28 F."""
    return tuple(
        replace(one, unit="F", si=si_of(one.value, "F"))
        if one.unit is None and one.quantity == ROOM and one.value > 0
        else one
        for one in said
    )
