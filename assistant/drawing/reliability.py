"""How honest confidence is, as a picture: what came true against what was said, a disc a bin.

In: bins of forecasts. Out: an SVG text with its alternative text. A disc's area grows with the count of its bin; the
line from corner to corner is perfect honesty.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt
from typing import Final
from xml.sax.saxutils import escape

SIDE: Final = 300
EDGE: Final = 46
TICKS: Final = (0.0, 0.25, 0.5, 0.75, 1.0)
LEAST_RADIUS: Final = 2.5
MOST_RADIUS: Final = 12.0
INK: Final = "#0b6b63"


@dataclass(frozen=True, slots=True, kw_only=True)
class Bin:
    """Forecasts of about one size: their mean, the share that came true, and how many they were."""

    forecast: float
    observed: float
    count: int


def draw_reliability(bins: Sequence[Bin], heading: str) -> str:
    """An SVG of a reliability diagram; the same bins, the same picture.

    >>> picture = draw_reliability([Bin(forecast=0.9, observed=0.8, count=10)], "answers")
    >>> "said 90 %, right 80 % of 10" in picture
    True
    """
    most = max((b.count for b in bins), default=1)
    discs = "".join(_disc(b, most) for b in bins)
    size = SIDE + 2 * EDGE
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {size} {size}" role="img"'
        f' aria-labelledby="reliability-title reliability-words" font-family="sans-serif" font-size="12">'
        f'<title id="reliability-title">{escape(heading)}</title>'
        f'<desc id="reliability-words">{escape(in_words(bins))}</desc>'
        f'<rect width="{size}" height="{size}" fill="#fff"/>'
        f'<text x="{EDGE}" y="22" font-weight="bold" fill="#222">{escape(heading)}</text>'
        f"{_frame()}{discs}</svg>"
    )


def in_words(bins: Sequence[Bin]) -> str:
    """The alternative text, a bin a clause.

    >>> in_words([])
    'Nothing was said.'
    """
    told = [f"said {b.forecast:.0%}, right {b.observed:.0%} of {b.count}".replace("%", " %") for b in bins]
    return "; ".join(told) + "." if told else "Nothing was said."


def _frame() -> str:
    line = (
        f'<path d="M{_x(0):.1f} {_y(0):.1f}L{_x(1):.1f} {_y(1):.1f}" stroke="#888" stroke-dasharray="4 3"/>'
    )
    marks = "".join(
        f'<text x="{_x(tick):.1f}" y="{_y(0) + 16:.1f}" text-anchor="middle" fill="#444">{tick:g}</text>'
        f'<text x="{_x(0) - 6:.1f}" y="{_y(tick) + 4:.1f}" text-anchor="end" fill="#444">{tick:g}</text>'
        for tick in TICKS
    )
    return (
        f'<rect x="{EDGE}" y="{EDGE}" width="{SIDE}" height="{SIDE}" fill="none" stroke="#888"/>{line}{marks}'
        f'<text x="{_x(0.5):.1f}" y="{_y(0) + 34:.1f}" text-anchor="middle" fill="#222">how sure we were</text>'
        f'<text x="{EDGE}" y="{EDGE - 8}" fill="#222">how often it was so</text>'
    )


def _disc(b: Bin, most: int) -> str:
    radius = max(LEAST_RADIUS, MOST_RADIUS * sqrt(b.count / most))
    return (
        f'<circle cx="{_x(b.forecast):.1f}" cy="{_y(b.observed):.1f}" r="{radius:.1f}" fill="{INK}" fill-opacity="0.6">'
        f"<title>{escape(in_words([b]))}</title></circle>"
    )


def _x(share: float) -> float:
    return EDGE + SIDE * share


def _y(share: float) -> float:
    return EDGE + SIDE * (1 - share)
