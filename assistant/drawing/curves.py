"""How often each reader names the right remedy, question by question, as a picture.

In: a share a question for each reader. Out: an SVG text with its alternative text. No colour speaks alone: every line has
dashes of its own and its name at its end.
"""

from collections.abc import Mapping, Sequence
from typing import Final

from assistant.drawing.axes import HEIGHT, LEFT, RIGHT, WIDTH, Frame, line, picture, text

NAMES: Final = 150
"""Room for the names at the ends of the lines."""
DASHES: Final = ("none", "8 3", "2 3", "10 3 2 3", "4 4")
KINDS: Final = ("one", "two", "ink", "ink", "ink")
APART: Final = 15.0


def draw_curves(shares: Mapping[str, Sequence[float]], heading: str) -> str:
    """One line a reader, from nought questions on; the same shares, the same picture.

    >>> picture = draw_curves({"assistant": [0.1, 0.4, 0.8]}, "Right remedy first")
    >>> "assistant: 10 %, 40 %, 80 % after 0, 1, 2 questions" in picture
    True
    """
    most = max((len(some) for some in shares.values()), default=1) - 1
    stretch = (WIDTH - LEFT - RIGHT) / (WIDTH - LEFT - RIGHT - NAMES)
    frame = Frame(from_x=0.0, to_x=max(most, 1) * stretch, from_y=0.0, to_y=1.0)
    lines = "".join(
        line(frame, list(enumerate(some)), KINDS[place % len(KINDS)], DASHES[place % len(DASHES)])
        for place, some in enumerate(shares.values())
    )
    return picture(heading, in_words(shares), _scales(frame, most) + lines + _names(frame, shares, most))


def in_words(shares: Mapping[str, Sequence[float]]) -> str:
    """The alternative text: every share of every reader."""
    told = []
    for name, some in shares.items():
        after = ", ".join(str(number) for number in range(len(some)))
        told.append(f"{name}: {', '.join(f'{share * 100:.0f} %' for share in some)} after {after} questions")
    return "; ".join(told) + "."


def _scales(frame: Frame, most: int) -> str:
    rules = "".join(
        line(frame, [(0.0, share), (float(most), share)], "soft")
        + text(LEFT - 6, frame.y(share) + 4, f"{share * 100:.0f} %", anchor="end", kind="dim")
        for share in (0.0, 0.25, 0.5, 0.75, 1.0)
    )
    marks = "".join(
        text(frame.x(number), HEIGHT - 28, str(number), anchor="middle", kind="dim")
        for number in range(most + 1)
    )
    return rules + marks + text(LEFT, HEIGHT - 10, "questions asked", kind="dim")


def _names(frame: Frame, shares: Mapping[str, Sequence[float]], most: int) -> str:
    """Each name at the end of its line, moved apart where lines end together."""
    ends = sorted((frame.y(some[-1]), place, name) for place, (name, some) in enumerate(shares.items()))
    found, last = [], 0.0
    for y, place, name in ends:
        last = max(y + 4, last + APART)
        x = frame.x(float(most)) + 8
        sample = (
            f'<path class="{KINDS[place % len(KINDS)]}" d="M{x:.1f} {last - 4:.1f}h22" fill="none" stroke-width="2"'
            f' stroke-dasharray="{DASHES[place % len(DASHES)]}"/>'
        )
        found.append(sample + text(x + 28, last, name))
    return "".join(found)
