"""A sum on a sheet for a colleague: inputs, what was taken for granted, formula, results, source, and its picture.

Everything comes from the event, so that the sheet of an old case is the same for ever.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from assistant.conversation.sum_events import SumDone
from assistant.drawing import CourseDrawn, draw_balance, draw_course
from assistant.wording import TemperatureUnit, bare, degrees
from kb.ids import Language

BTU_H_PER_W: Final = 3.412142
AHEAD_H: Final = 12.0
CURVE_POINTS: Final = 40


@dataclass(frozen=True, slots=True, kw_only=True)
class Worksheet:
    """One sum as a colleague reads it."""

    name: str
    title: str
    verdict: str
    inputs: tuple[tuple[str, str], ...]
    """(what, value with its unit), as given."""
    defaults: tuple[str, ...]
    """What nobody told."""
    results: tuple[tuple[str, str], ...]
    formula: str
    source: str
    picture: str
    """SVG with its words; empty for a sum that has none."""


TITLES: Final[Mapping[str, tuple[str, str]]] = MappingProxyType(
    {
        "trend": ("Where the room is going", "A dónde va el cuarto"),
        "load_against_capacity": ("Heat against cooling", "Calor contra frío"),
        "plan": ("The unit for a planned room", "El aparato para un cuarto planeado"),
        "product_clock": ("The product's clock", "El reloj del producto"),
        "room_above_target": ("Room against target", "Cuarto contra meta"),
        "display_minus_thermometer": ("Display against thermometer", "Pantalla contra termómetro"),
        "outdoor_level": ("Weather outdoors", "Clima afuera"),
        "target_level": ("The target", "La meta"),
        "line_loss": ("Voltage on the way to the unit", "Voltaje en el camino al aparato"),
        "ice_point": ("Probe in ice water", "Sonda en agua con hielo"),
    }
)
FORMULAS: Final[Mapping[str, tuple[str, str]]] = MappingProxyType(
    {
        "trend": (
            "T(t) = T_end + (T_0 - T_end) e^(-t/tau), one or two tau, day wave, slips; weighed by the readings",
            "Newton's law of cooling: Incropera, Fundamentals of Heat and Mass Transfer, ch. 5",
        ),
        "load_against_capacity": (
            "load = sum(U A dT) + air changes + product + breathing, +10 %; cooling = rating x DOE-2 curve x 16/24 h",
            "ASHRAE Handbook - Refrigeration, refrigerated-facility loads; EnergyPlus Engineering Reference",
        ),
        "plan": (
            "rating = load x 24/16 h / DOE-2 curve at room and outdoor temperature",
            "ASHRAE Handbook - Refrigeration; EnergyPlus Engineering Reference; run hours AE-103 R3",
        ),
        "product_clock": (
            "hours left = tau ln((T_end - T) / (T_end - limit)); ageing 2.5 times as quick per 10 K",
            "limits as cited; Q10: USDA Agriculture Handbook 66",
        ),
        "line_loss": ("V = 2 I R L", "NEC (NFPA 70) ch. 9 table 8"),
    }
)
BANDS: Final = (
    "share of a normal error of the reading within each band",
    "reading error 0.6-1.0 K: common practice, no source",
)


def worksheet_of(done: SumDone, unit: TemperatureUnit, language: Language = "en") -> Worksheet:
    """The sheet of one sum, in a colleague's language and a unit of temperature."""
    title = TITLES.get(done.sum, (done.sum, done.sum))[0 if language == "en" else 1]
    formula, source = FORMULAS.get(done.sum, BANDS)
    return Worksheet(
        name=done.sum,
        title=title,
        verdict=done.verdict,
        inputs=tuple((_label(name), _value(name, value, unit)) for name, value in done.inputs),
        defaults=tuple(_label(name) for name in done.defaults),
        results=tuple(
            (_label(name), _value(name, value, unit))
            for name, value in done.results
            if not name.startswith("expected_")
        ),
        formula=formula,
        source=source,
        picture=picture_of(done, unit, language),
    )


def _label(name: str) -> str:
    """An input's name for a reader: "outdoor c", "term: walls"."""
    for ending in ("_c", "_m", "_w", "_kg", "_h", "_k", "_v", "_a"):
        for part in ("_low", "_middle", "_high", ""):
            if name.endswith(ending + part):
                return (name.removesuffix(ending + part) + part).replace("_", " ")
    return name.replace("_", " ").replace(":", ": ")


def _value(name: str, value: float, unit: TemperatureUnit) -> str:
    stem = name.rsplit(".", 1)[0]
    for part in ("_low", "_middle", "_high"):
        stem = stem.removesuffix(part)
    if stem.endswith("_c"):
        return degrees(value, unit)
    if stem.endswith("_w") or stem.startswith(("term:", "worth:")):
        return f"{value * BTU_H_PER_W:.0f} BTU/h" if unit == "F" else f"{value:.0f} W"
    if stem.endswith("_m"):
        return f"{value / 0.3048:.3g} ft" if unit == "F" else f"{value:.3g} m"
    for ending, symbol in (
        ("_kg", "kg"),
        ("_h", "h"),
        ("_v", "V"),
        ("_a", "A"),
        ("_left", "h"),
        ("_over", "h"),
    ):
        if stem.endswith(ending):
            return f"{bare(value, half=True)} {symbol}"
    return f"{value:.2f}"


def picture_of(done: SumDone, unit: TemperatureUnit, language: Language = "en") -> str:
    """The sum's picture; empty for a sum that has none."""
    if done.sum == "trend":
        return draw_course(_course(done, unit), language)
    if done.sum == "load_against_capacity":
        found, factor = dict(done.results), BTU_H_PER_W if unit == "F" else 1.0
        terms = [
            (name.removeprefix("term:"), w * factor) for name, w in done.results if name.startswith("term:")
        ]
        margin = found["load_w"] * factor - sum(amount for _, amount in terms)
        shown = [*terms, ("safety", margin)] if margin > 1.0 else terms
        return draw_balance(shown, found["cooling_w"] * factor, "BTU/h" if unit == "F" else "W", language)
    return ""


def _course(done: SumDone, unit: TemperatureUnit) -> CourseDrawn:
    given, found = dict(done.inputs), dict(done.results)
    readings = _numbered(done.inputs, "at_h", "room_c")
    end_c, tau_h = found["ends_c_middle"], max(found["tau_h_middle"], 0.1)
    start_c = _start_c(readings, end_c, tau_h)
    hours = [
        readings[0][0] + step * (AHEAD_H - readings[0][0]) / CURVE_POINTS for step in range(CURVE_POINTS + 1)
    ]
    fitted = [(h, end_c + (start_c - end_c) * math.exp(-(h - readings[0][0]) / tau_h)) for h in hours]
    expected = _numbered(done.results, "expected_h", "expected_c")
    return CourseDrawn(
        readings=_in_unit(readings, unit),
        fitted=_in_unit(fitted, unit),
        expected=_in_unit(expected, unit),
        target=_degrees(given["target_c"], unit),
        stall=_degrees(end_c, unit) if done.verdict == "will_stall" else None,
        verdict=done.verdict,
        unit=unit,
    )


def _numbered(pairs: Sequence[tuple[str, float]], across: str, up: str) -> list[tuple[float, float]]:
    values = dict(pairs)
    count = sum(name.startswith(f"{across}.") for name in values)
    return [(values[f"{across}.{place}"], values[f"{up}.{place}"]) for place in range(count)]


def _start_c(readings: Sequence[tuple[float, float]], end_c: float, tau_h: float) -> float:
    """The start that fits the readings best for this end and tau: least squares in closed form."""
    left = [math.exp(-(h - readings[0][0]) / tau_h) for h, _ in readings]
    above = [c - end_c for _, c in readings]
    return end_c + sum(e * a for e, a in zip(left, above, strict=True)) / sum(e * e for e in left)


def _in_unit(points: Sequence[tuple[float, float]], unit: TemperatureUnit) -> list[tuple[float, float]]:
    return [(h, _degrees(c, unit)) for h, c in points]


def _degrees(celsius: float, unit: TemperatureUnit) -> float:
    return celsius * 9.0 / 5.0 + 32.0 if unit == "F" else celsius
