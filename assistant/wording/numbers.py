"""Numbers as a grower says them: whole degrees in their own unit, no degree sign (it is not in the SMS alphabet)."""

from typing import Literal

from kb.ids import Language

TemperatureUnit = Literal["F", "C"]


def degrees(celsius: float, unit: TemperatureUnit) -> str:
    """A temperature in the person's unit; half degrees only in Celsius.

    >>> degrees(4.44, "F"), degrees(4.44, "C"), degrees(-1.0, "C")
    ('40 F', '4.5 C', '-1 C')
    """
    value = celsius * 9 / 5 + 32 if unit == "F" else celsius
    return f"{bare(value, half=unit == 'C')} {unit}"


def degrees_apart(kelvin: float, unit: TemperatureUnit) -> str:
    """A difference of temperatures in the person's unit.

    >>> degrees_apart(2.0, "F")
    '4 F'
    """
    return f"{bare(kelvin * 9 / 5 if unit == 'F' else kelvin, half=unit == 'C')} {unit}"


BTU_H_PER_W = 3.412142


def power(watts: float, unit: TemperatureUnit) -> str:
    """A heat or a cooling in the unit that goes with the person's degrees, to two figures.

    >>> power(293.1, "F"), power(293.1, "C"), power(3517.0, "C")
    ('1000 BTU/h', '290 W', '3.5 kW')
    """
    if unit == "F":
        return f"{_two_figures(watts * BTU_H_PER_W):.0f} BTU/h"
    shown = _two_figures(watts)
    return f"{shown / 1000:g} kW" if shown >= 1000 else f"{shown:g} W"  # noqa: PLR2004 - a kilowatt


def rating(watts: float, unit: TemperatureUnit) -> str:
    """A unit's rating as shops give it, to 500 BTU/h; with kilowatts before it for those who count in Celsius.

    >>> rating(4100.0, "F"), rating(4100.0, "C")
    ('14000 BTU/h', '4.1 kW (14000 BTU/h)')
    """
    btu_h = f"{round(watts * BTU_H_PER_W / 500) * 500:d} BTU/h"
    return btu_h if unit == "F" else f"{watts / 1000:.1f} kW ({btu_h})"


def thickness(metres: float, unit: TemperatureUnit) -> str:
    """How thick a wall is: inches to the half, or centimetres.

    >>> thickness(0.1016, "F"), thickness(0.075, "F"), thickness(0.075, "C")
    ('4 in.', '3 in.', '7.5 cm')
    """
    return f"{bare(metres / 0.0254, half=True)} in." if unit == "F" else f"{bare(metres * 100, half=True)} cm"


def _two_figures(value: float) -> float:
    return float(f"{value:.2g}")


def bare(value: float, *, half: bool = False) -> str:
    """A number without needless decimals, to the whole or to the half.

    >>> bare(52.0), bare(4.4, half=True), bare(-0.2)
    ('52', '4.5', '0')
    """
    rounded = round(value * 2) / 2 if half else round(value)
    return f"{rounded + 0.0:g}" if rounded else "0"


_IN_SPANISH = {
    "bushel": "bushels",
    "crate": "cajas",
    "pallet": "tarimas",
    "quintal": "quintales",
    "arroba": "arrobas",
    "keg": "barriles",
    "gal": "galones",
    "L": "litros",
    "ft": "pies",
    "in": "pulgadas",
    "ton": "toneladas",
    "lb": "libras",
    "kcal/h": "frigorías",
    "d": "días",
    "h": "horas",
    "s": "segundos",
}
_IN_ENGLISH = {
    "ton": "tons",
    "d": "days",
    "h": "hours",
    "s": "seconds",
    "bushel": "bushels",
    "crate": "boxes",
    "pallet": "pallets",
    "keg": "kegs",
    "gal": "gallons",
    "L": "litres",
}
_NAMELESS = frozenset({"awg"})


def as_said(value: float, unit: str, language: Language) -> str:
    """A number in the very unit that the person used: feet to those who wrote feet.

    >>> as_said(10.0, "ft", "en"), as_said(7.5, "ft", "es"), as_said(12000.0, "BTU", "en"), as_said(14.0, "awg", "en")
    ('10 ft', '7.5 pies', '12000 BTU', '14')
    """
    names = _IN_SPANISH if language == "es" else _IN_ENGLISH
    name = "" if unit in _NAMELESS else names.get(unit, unit)
    return f"{round(value, 2):.10g} {name}".rstrip()
