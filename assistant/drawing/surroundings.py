"""One node of the knowledge in its surroundings, as a picture: itself in the middle, what leads to it and from it beside.

In: words and strengths, sorted. Out: an SVG text with its alternative text, light and dark. A strength is a bar and a
number; a line without one is only a link.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final
from xml.sax.saxutils import escape

WIDTH: Final = 1060
EDGE: Final = 20
SIDE: Final = 360
"""Width of a block of lines beside the middle."""
MIDDLE: Final = 220
LINE: Final = 22
HEAD: Final = 30
GAP: Final = 18
TOP: Final = 46
LETTER: Final = 6.3
"""Width of a letter of 12 units' height, on average: enough to cut a line before it runs into its bar."""
BAR: Final = 84
STYLE: Final = (
    "<style>svg{background:#fff}.say{fill:#1d2a2a}.dim{fill:#4c5858}.card{fill:#eef3f2;stroke:#0b6b63}"
    ".link{stroke:#0b6b63}.soft{fill:#dfe5e5}.bar{fill:#0b6b63}"
    "@media(prefers-color-scheme:dark){svg{background:#14191a}.say{fill:#e6ecec}.dim{fill:#aab5b5}"
    ".card{fill:#1e2728;stroke:#5cc4ba}.link{stroke:#5cc4ba}.soft{fill:#2c3637}.bar{fill:#5cc4ba}}</style>"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Strand:
    """One neighbour: its words, what of it (a state, a place in the order), and how strongly, from 0 to 1."""

    words: str
    of: str = ""
    strength: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Bundle:
    """Neighbours of one sort under one heading."""

    heading: str
    strands: Sequence[Strand]


@dataclass(frozen=True, slots=True, kw_only=True)
class Surroundings:
    """A node, and its neighbours on both sides."""

    title: str
    lines: Sequence[str]
    """What stands in the middle under the title."""
    before: Sequence[Bundle]
    after: Sequence[Bundle]


def draw_surroundings(around: Surroundings) -> str:
    """The picture; the same surroundings, the same picture.

    >>> around = Surroundings(title="cause: filter_clogged", lines=["a dirty filter"], before=[],
    ...                       after=[Bundle(heading="shows in", strands=[Strand(words="filter", of="clogged", strength=0.92)])])
    >>> "shows in: filter clogged 92 %" in draw_surroundings(around)
    True
    """
    left, left_height = _side(around.before, EDGE)
    right, right_height = _side(around.after, WIDTH - EDGE - SIDE)
    middle = _wrapped(around.lines, MIDDLE - 24)
    card_height = HEAD + LINE * len(middle) + 10
    height = TOP + max(left_height, right_height, card_height) + EDGE
    card_y = TOP + (height - TOP - EDGE - card_height) / 2
    links = "".join(_link(y, x, card_y + card_height / 2) for x, y in _ends(around))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {height:.0f}" role="img"'
        f' aria-labelledby="around-title around-words" font-family="sans-serif" font-size="12">'
        f'{STYLE}<title id="around-title">{escape(around.title)}</title>'
        f'<desc id="around-words">{escape(in_words(around))}</desc>'
        f'<text class="say" x="{EDGE}" y="24" font-weight="bold" font-size="14">{escape(around.title)}</text>'
        f"{links}{_card(middle, card_y, card_height)}{left}{right}</svg>"
    )


def in_words(around: Surroundings) -> str:
    """The alternative text: everything that the picture shows, heading by heading."""
    told = [
        f"{bundle.heading}: {', '.join(_strand_in_words(one) for one in bundle.strands)}"
        for bundle in (*around.before, *around.after)
        if bundle.strands
    ]
    return ". ".join((*around.lines, *told)) + "."


def _strand_in_words(strand: Strand) -> str:
    share = "" if strand.strength is None else f"{strand.strength * 100:.0f} %"
    return " ".join(part for part in (strand.words, strand.of, share) if part)


def _side(bundles: Sequence[Bundle], x: float) -> tuple[str, float]:
    parts, y = [], float(TOP)
    for bundle in bundles:
        parts.append(
            f'<text class="dim" x="{x}" y="{y + 18:.0f}" font-weight="bold">{escape(bundle.heading)}</text>'
        )
        rule = y + HEAD - 6
        parts.append(f'<path class="link" d="M{x} {rule:.0f}H{x + SIDE}" fill="none" stroke-width="1.2"/>')
        parts += [_row(strand, x, y + HEAD + place * LINE) for place, strand in enumerate(bundle.strands)]
        if not bundle.strands:
            parts.append(f'<text class="dim" x="{x}" y="{y + HEAD + 14:.0f}">nothing</text>')
        y += _height(bundle)
    return "".join(parts), y - TOP


def _height(bundle: Bundle) -> float:
    return HEAD + LINE * max(1, len(bundle.strands)) + GAP


def _row(strand: Strand, x: float, y: float) -> str:
    words = f"{strand.words}: {strand.of}" if strand.of else strand.words
    room = SIDE - (BAR + 46 if strand.strength is not None else 0)
    text = f'<text class="say" x="{x}" y="{y + 14:.0f}">{escape(_cut(words, room))}<title>{escape(words)}</title></text>'
    if strand.strength is None:
        return text
    at = x + SIDE - BAR - 38
    return (
        f'{text}<rect class="soft" x="{at}" y="{y + 5:.0f}" width="{BAR}" height="9"/>'
        f'<rect class="bar" x="{at}" y="{y + 5:.0f}" width="{BAR * strand.strength:.1f}" height="9"/>'
        f'<text class="dim" x="{x + SIDE}" y="{y + 14:.0f}" text-anchor="end">{strand.strength * 100:.0f} %</text>'
    )


def _ends(around: Surroundings) -> list[tuple[float, float]]:
    """Where the links to the bundles end: (x, y) at the rule under each heading."""
    found: list[tuple[float, float]] = []
    for bundles, x in ((around.before, EDGE + SIDE), (around.after, WIDTH - EDGE - SIDE)):
        y = float(TOP)
        for bundle in bundles:
            found.append((x, y + HEAD - 6))
            y += _height(bundle)
    return found


def _link(y: float, x: float, middle_y: float) -> str:
    edge = (WIDTH - MIDDLE) / 2 if x < WIDTH / 2 else (WIDTH + MIDDLE) / 2
    bend = (x + edge) / 2
    return (
        f'<path class="link" d="M{x} {y:.0f}C{bend} {y:.0f} {bend} {middle_y:.0f} {edge} {middle_y:.0f}"'
        ' fill="none" stroke-width="1.2"/>'
    )


def _card(lines: Sequence[str], y: float, height: float) -> str:
    x = (WIDTH - MIDDLE) / 2
    words = "".join(
        f'<text class="{"say" if place == 0 else "dim"}" x="{WIDTH / 2}" y="{y + HEAD + place * LINE:.0f}"'
        f' text-anchor="middle">{escape(line)}</text>'
        for place, line in enumerate(lines)
    )
    return f'<rect class="card" x="{x}" y="{y:.0f}" width="{MIDDLE}" height="{height:.0f}" rx="6" stroke-width="1.5"/>{words}'


def _wrapped(lines: Sequence[str], room: float) -> list[str]:
    most, found = int(room / LETTER), []
    for line in lines:
        row = ""
        for word in line.split():
            if row and len(row) + 1 + len(word) > most:
                found.append(row)
                row = word
            else:
                row = f"{row} {word}".strip()
        found.append(row)
    return found


def _cut(words: str, room: float) -> str:
    most = int(room / LETTER)
    return words if len(words) <= most else words[: most - 1].rstrip() + "…"
