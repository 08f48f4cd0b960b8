"""Heat against cooling as two bars: what comes in, term on term, beside what the unit can take out in a day with thaws."""

from collections.abc import Mapping, Sequence
from typing import Final

from assistant.drawing.axes import BOTTOM, HEIGHT, LEFT, RIGHT, TOP, WIDTH, Frame, marks, picture, text
from kb.ids import Language

WORDS: Final[Mapping[Language, Mapping[str, str]]] = {
    "en": {
        "title": "Heat that comes in, against what the unit takes out", "heat": "heat", "cooling": "cooling",
        "walls": "walls and ceiling", "floor": "floor", "air": "air", "product": "product", "safety": "margin",
        "says": "{heat} of heat against {cooling} of cooling; most of it: {most}.",
    },
    "es": {
        "title": "El calor que entra, contra lo que saca el aparato", "heat": "calor", "cooling": "frío",
        "walls": "paredes y techo", "floor": "piso", "air": "aire", "product": "producto", "safety": "margen",
        "says": "{heat} de calor contra {cooling} de frío; lo más: {most}.",
    },
}  # fmt: skip
PATTERNS: Final = ("0.95", "0.75", "0.55", "0.4", "0.25")
BAR: Final = 46.0
LEAST_LABELLED: Final = 26.0


def draw_balance(
    terms: Sequence[tuple[str, float]], cooling: float, unit: str, language: Language = "en"
) -> str:
    """The picture; `terms` (name, amount) and `cooling` are in `unit`, the greatest term first.

    >>> "<svg" in draw_balance([("walls", 900.0), ("air", 400.0)], 1500.0, "W")
    True
    """
    words = WORDS[language]
    heat = sum(amount for _, amount in terms)
    frame = Frame(from_x=0.0, to_x=max(heat, cooling) * 1.08, from_y=0.0, to_y=1.0)
    top, low = TOP + 22.0, TOP + 22.0 + BAR + 56.0
    parts = [_scale(frame, unit)]
    at = 0.0
    for place, (name, amount) in enumerate(terms):
        parts.append(_part(frame, at, amount, top, PATTERNS[min(place, len(PATTERNS) - 1)]))
        label = f"{words.get(name, name)} {_amount(amount, unit)}"
        wide = frame.x(at + amount) - frame.x(at)
        if wide >= LEAST_LABELLED:
            parts.append(text(frame.x(at) + 4, top + BAR + 14 + 14 * (place % 2), label))
        at += amount
    parts.append(
        f'<rect class="two-fill" x="{frame.x(0):.1f}" y="{low:.1f}" width="{frame.x(cooling) - frame.x(0):.1f}" height="{BAR}"/>'
    )
    parts.append(text(frame.x(0), top - 6, f"{words['heat']} {_amount(heat, unit)}"))
    parts.append(text(frame.x(0), low - 6, f"{words['cooling']} {_amount(cooling, unit)}"))
    return picture(words["title"], balance_in_words(terms, cooling, unit, language), "".join(parts))


def balance_in_words(
    terms: Sequence[tuple[str, float]], cooling: float, unit: str, language: Language = "en"
) -> str:
    """The alternative text."""
    words = WORDS[language]
    return words["says"].format(
        heat=_amount(sum(amount for _, amount in terms), unit),
        cooling=_amount(cooling, unit),
        most=words.get(terms[0][0], terms[0][0]) if terms else "-",
    )


def _amount(value: float, unit: str) -> str:
    return f"{float(f'{value:.2g}'):.0f} {unit}"


def _part(frame: Frame, at: float, amount: float, y: float, opacity: str) -> str:
    return (
        f'<rect class="one-fill" fill-opacity="{opacity}" x="{frame.x(at):.1f}" y="{y:.1f}"'
        f' width="{frame.x(at + amount) - frame.x(at):.1f}" height="{BAR}" stroke="currentColor" stroke-width="0.5"/>'
    )


def _scale(frame: Frame, unit: str) -> str:
    parts = []
    for value in marks(frame.from_x, frame.to_x):
        x = frame.x(value)
        parts.append(f'<line class="soft" x1="{x:.1f}" y1="{TOP}" x2="{x:.1f}" y2="{HEIGHT - BOTTOM}"/>')
        parts.append(text(x, HEIGHT - BOTTOM + 18, f"{value:.0f}", anchor="middle", kind="dim"))
    parts.append(text((LEFT + WIDTH - RIGHT) / 2, HEIGHT - 8, unit, anchor="middle", kind="dim"))
    return "".join(parts)
