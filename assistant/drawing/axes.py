"""What pictures of sums share: a frame with marks, light and dark inks, a title and words for who cannot see it."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final
from xml.sax.saxutils import escape

WIDTH: Final = 680
HEIGHT: Final = 320
LEFT: Final = 56
RIGHT: Final = 24
TOP: Final = 56
BOTTOM: Final = 46

STYLE: Final = (
    "<style>svg{background:#fff}.ink{stroke:#1d2a2a}.say{fill:#1d2a2a}.soft{stroke:#c8cfcf}.dim{fill:#4c5858}"
    ".one{stroke:#0b6b63}.one-fill{fill:#0b6b63}.two{stroke:#8a3b12}.two-fill{fill:#8a3b12}"
    "@media(prefers-color-scheme:dark){svg{background:#14191a}.ink{stroke:#e6ecec}.say{fill:#e6ecec}"
    ".soft{stroke:#3a4445}.dim{fill:#aab5b5}.one{stroke:#5cc4ba}.one-fill{fill:#5cc4ba}.two{stroke:#e39b6d}"
    ".two-fill{fill:#e39b6d}}</style>"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """A plane of values on the picture."""

    from_x: float
    to_x: float
    from_y: float
    to_y: float

    def x(self, value: float) -> float:
        """Across, in the picture's units."""
        return LEFT + (WIDTH - LEFT - RIGHT) * (value - self.from_x) / (self.to_x - self.from_x)

    def y(self, value: float) -> float:
        """Down, in the picture's units."""
        return HEIGHT - BOTTOM - (HEIGHT - TOP - BOTTOM) * (value - self.from_y) / (self.to_y - self.from_y)

    def path(self, points: Sequence[tuple[float, float]]) -> str:
        """The `points` of a polyline."""
        return " ".join(f"{self.x(x):.1f},{self.y(y):.1f}" for x, y in points)


def marks(low: float, high: float, most: int = 6) -> tuple[float, ...]:
    """Round values from `low` to `high`, at most so many.

    >>> marks(38.0, 61.0), marks(0.0, 3.0)
    ((40.0, 45.0, 50.0, 55.0, 60.0), (0.0, 1.0, 2.0, 3.0))
    """
    for step in (0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0, 5000.0, 10000.0):
        first = -(-low // step)
        count = int(high // step - first) + 1
        if count <= most:
            return tuple((first + place) * step for place in range(count))
    return (low, high)


def picture(title: str, words: str, body: str) -> str:
    """The whole SVG; `words` say in a sentence or two what it shows."""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" role="img"'
        f' aria-labelledby="sum-title sum-words" font-family="sans-serif" font-size="12">'
        f'{STYLE}<title id="sum-title">{escape(title)}</title><desc id="sum-words">{escape(words)}</desc>'
        f'<text class="say" x="{LEFT}" y="20" font-weight="bold">{escape(title)}</text>{body}</svg>'
    )


def text(x: float, y: float, words: str, *, anchor: str = "start", kind: str = "say") -> str:
    """Words at a place."""
    return f'<text class="{kind}" x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}">{escape(words)}</text>'


def line(frame: Frame, points: Sequence[tuple[float, float]], kind: str, dashes: str = "none") -> str:
    """A line through points."""
    return (
        f'<polyline class="{kind}" points="{frame.path(points)}" fill="none" stroke-width="2"'
        f' stroke-dasharray="{dashes}"/>'
    )
