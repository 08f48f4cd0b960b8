"""Units as people write them, and what a number without one must be in a cold room."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

from assistant.reading.normalise import Token
from assistant.reading.numeral import Numeral
from kb.ids import Language

Dimension = Literal[
    "temperature", "length", "duration", "power", "voltage", "current", "count", "mass", "clock", "other"
]
Degrees = Literal["F", "C"]

_NAMES: Final[dict[str, str]] = {
    "f": "F", "fahrenheit": "F", "farenheit": "F", "fahrenhait": "F", "faren": "F", "c": "C", "celsius": "C", "centigrade": "C", "centigrados": "C",
    "celcius": "C", "ft": "ft", "feet": "ft", "foot": "ft", "'": "ft", "pie": "ft", "pies": "ft", "footer": "ft", "foots": "ft",
    "in": "in", "inch": "in", "inches": "in", '"': "in", "pulgada": "in", "pulgadas": "in", "pulg": "in",
    "m": "m", "meter": "m", "meters": "m", "metre": "m", "metres": "m", "metro": "m", "metros": "m", "mts": "m",
    "mt": "m", "cm": "cm", "centimetros": "cm", "centimeters": "cm", "mm": "mm", "min": "min", "mins": "min",
    "minute": "min", "minutes": "min", "minuto": "min", "minutos": "min", "h": "h", "hr": "h", "hrs": "h",
    "hour": "h", "hours": "h", "hora": "h", "horas": "h", "sec": "s", "secs": "s", "second": "s", "seconds": "s",
    "segundo": "s", "segundos": "s", "seg": "s", "day": "d", "days": "d", "dia": "d", "dias": "d", "week": "wk",
    "weeks": "wk", "semana": "wk", "semanas": "wk", "w": "W", "watt": "W", "watts": "W", "kw": "kW", "btu": "BTU",
    "btus": "BTU", "btuh": "BTU", "ton": "ton", "tons": "ton", "tonelada": "ton", "toneladas": "ton",
    "frigorias": "kcal/h", "frigoria": "kcal/h", "v": "V", "volt": "V", "volts": "V", "voltios": "V", "voltio": "V", "vac": "V", "a": "A", "amp": "A",
    "amps": "A", "amperes": "A", "amperios": "A", "amperio": "A", "ga": "awg", "gauge": "awg", "awg": "awg", "gage": "awg", "guage": "awg",
    "calibre": "awg", "months": "mo", "month": "mo", "meses": "mo", "years": "y", "year": "y", "yr": "y",
    "yrs": "y", "anos": "y", "ano": "y", "lb": "lb", "lbs": "lb", "pounds": "lb", "pound": "lb", "libras": "lb", "kg": "kg", "kilo": "kg", "kilos": "kg", "kgs": "kg",
    "bushel": "bushel", "bushels": "bushel", "bu": "bushel", "crates": "crate", "crate": "crate", "cases": "crate", "boxes": "crate",
    "cajas": "crate", "rejas": "crate", "huacales": "crate", "pallets": "pallet", "pallet": "pallet", "tarimas": "pallet", "quintales": "quintal",
    "quintal": "quintal", "arrobas": "arroba", "kegs": "keg", "barriles": "keg", "liters": "L", "litros": "L", "litres": "L",
    "percent": "share", "%": "share", "$": "money", "bucks": "money", "dollars": "money", "pesos": "money", "dolares": "money",
    "times": "times", "veces": "times", "cfm": "other", "sq": "other", "sqft": "other", "square": "other", "cubic": "other", "psi": "other", "gal": "gal", "gallons": "gal", "galones": "gal",
}  # fmt: skip
UNIT_WORDS: Final = frozenset(name for name in _NAMES if name.isalpha())
"""Names of units: never misspelt words of anything else."""

_SI: Final[dict[str, tuple[Dimension, float]]] = {
    "ft": ("length", 0.3048), "in": ("length", 0.0254), "m": ("length", 1.0), "cm": ("length", 0.01),
    "mm": ("length", 0.001), "min": ("duration", 60.0), "h": ("duration", 3600.0), "s": ("duration", 1.0),
    "d": ("duration", 86400.0), "wk": ("duration", 604800.0), "W": ("power", 1.0), "kW": ("power", 1000.0),
    "BTU": ("power", 0.29307107), "kcal/h": ("power", 1.163), "ton": ("power", 3516.8528), "V": ("voltage", 1.0), "A": ("current", 1.0), "awg": ("count", 1.0),
    "kg": ("mass", 1.0), "lb": ("mass", 0.45359237), "bushel": ("mass", 19.05), "crate": ("mass", 18.0), "pallet": ("mass", 700.0),
    "quintal": ("mass", 46.0), "arroba": ("mass", 11.5), "keg": ("mass", 60.0), "gal": ("mass", 3.9), "L": ("mass", 1.03),
}  # fmt: skip
"""To SI: foot and inch exact by the 1959 agreement; BTU per hour 0.29307107 W (International Table); a
frigoria is a kilocalorie per hour, 1.163 W; a ton of
refrigeration is 12,000 BTU/h. Measures of produce by weight: a bushel of apples is 42 lb (USDA AH 697, from memory), a
gallon or litre is of milk; crate, pallet, keg, quintal and arroba as usually filled (common practice, no source)."""
_ONLY_TOUCHING: Final = frozenset({"a", "in", "'", '"', "s", "d"})
"""Short names that are ordinary words or marks as well."""
_INCHES_BEFORE: Final = frozenset({"x", "by", "thick", "foam", "of", "wide", "tall", "deep", "board"})
_OF_AN_AREA: Final = frozenset({"cuadrados", "cubicos", "squared", "cubed"})
_DEGREE: Final = frozenset({"°", "degrees", "degree", "deg", "degs", "grados", "grado", "gds"})
_BEFORE: Final = {"calibre": "awg", "gauge": "awg", "awg": "awg", "$": "money", "#": "number"}
_ZERO_F_C: Final = 32.0
_F_PER_C: Final = 1.8
_SURELY_F: Final = 33.0
_SURELY_C: Final = 24.0
_OUTDOOR_SURELY_F: Final = 47.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """A number with what its unit says; `[first, last)` takes the unit in."""

    numeral: Numeral
    unit: str | None
    dimension: Dimension | None
    """None where no unit was said."""
    degrees: bool
    """A degree sign or word stands with it, with or without F or C."""
    first: int
    last: int


def measured(tokens: Sequence[Token], numeral: Numeral) -> Measured:
    """The unit that stands beside a number, if any."""
    if numeral.unit is not None:
        inside = _SI[numeral.unit][0]
        return Measured(
            numeral=numeral,
            unit=numeral.unit,
            dimension=inside,
            degrees=False,
            first=numeral.first,
            last=numeral.last,
        )
    place, degrees = numeral.last, False
    if place < len(tokens) and tokens[place].word == "-" and place + 1 < len(tokens):
        place += tokens[place + 1].word in _NAMES
    while place < len(tokens) and tokens[place].word in _DEGREE and place - numeral.last < 2:  # noqa: PLR2004 - "° degrees"
        place, degrees = place + 1, True
    unit, last = _name_at(tokens, place, degrees=degrees)
    if unit in {"ft", "m"} and last < len(tokens) and tokens[last].word in _OF_AN_AREA:
        unit, last = "other", last + 1
    if unit is None and numeral.first:
        unit = _BEFORE.get(tokens[numeral.first - 1].word)
        last = place
    if unit in {"F", "C"} or degrees:
        known = unit if unit in {"F", "C"} else None
        last = last if known else place  # "a 95 degree day" is no day
        return Measured(
            numeral=numeral, unit=known, dimension="temperature", degrees=True, first=numeral.first, last=last
        )
    dimension: Dimension | None = None if unit is None else _SI[unit][0] if unit in _SI else "other"
    return Measured(
        numeral=numeral, unit=unit, dimension=dimension, degrees=False, first=numeral.first, last=last
    )


def _name_at(tokens: Sequence[Token], place: int, *, degrees: bool) -> tuple[str | None, int]:
    if place >= len(tokens):
        return None, place
    word = tokens[place].word
    name = _NAMES.get(word)
    if name is None:
        return None, place
    touching = place > 0 and tokens[place - 1].end == tokens[place].start
    follow = tokens[place + 1].word if place + 1 < len(tokens) else ""
    if word in _ONLY_TOUCHING and not touching and not (word == "in" and follow in _INCHES_BEFORE):
        return None, place
    return name, place + 1


def si_of(value: float, unit: str) -> float | None:
    """A value in SI; None for a unit that has none here.

    >>> si_of(50.0, "F"), round(si_of(12000.0, "BTU")), si_of(3.0, "psi")
    (10.0, 3517, None)
    """
    if unit == "F":
        return (value - _ZERO_F_C) / _F_PER_C
    if unit == "C":
        return value
    return value * _SI[unit][1] if unit in _SI else None


def degrees_of(value: float, *, outdoors: bool) -> Degrees | None:
    """The one unit in which a number makes a cold room (or weather); None where both do.

    >>> degrees_of(52, outdoors=False), degrees_of(4, outdoors=False), degrees_of(28, outdoors=False)
    ('F', 'C', None)
    """
    if value >= (_OUTDOOR_SURELY_F if outdoors else _SURELY_F):
        return "F"
    return "C" if 0 <= value <= _SURELY_C and not outdoors else None


def length_unit(values: Sequence[float], language: Language, degrees: Degrees | None) -> str | None:
    """Feet or metres for room dimensions said without a unit; None where both would make a room."""
    low, high = min(values), max(values)
    if degrees is not None:
        return "ft" if degrees == "F" else "m"
    if language == "en" or low > 4.5 or high > 12:  # noqa: PLR2004 - no small room is as high as that in metres
        return "ft"
    return "m" if low < 4.5 else None  # noqa: PLR2004 - nor as low as that in feet


def side_unit(value: float, language: Language, degrees: Degrees | None, *, high: bool) -> str | None:
    """Feet or metres for one side of a room, said alone and without a unit; None where both would do.

    >>> side_unit(8, "es", None, high=True), side_unit(2.4, "es", None, high=True), side_unit(8, "es", None, high=False)
    ('ft', 'm', None)
    """
    if degrees is not None:
        return "ft" if degrees == "F" else "m"
    if language == "en" or value > (_HIGHEST_M if high else _LONGEST_M):
        return "ft"
    return "m" if value <= _HIGHEST_M else None


_HIGHEST_M: Final = 5.0
_LONGEST_M: Final = 12.0
"""Of the small rooms that we are for (ours)."""
