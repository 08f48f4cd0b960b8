"""How belief moved over a conversation, as a picture: one line a cause, one step a message.

In: names and probabilities that stand in events. Out: an SVG text with its alternative text. No colour speaks alone:
every line has its own dashes and its name at its end.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final
from xml.sax.saxutils import escape

from kb.ids import Language

WIDTH: Final = 720
HEIGHT: Final = 300
LEFT: Final = 52
RIGHT: Final = 300
TOP: Final = 34
BOTTOM: Final = 44
MOST_LINES: Final = 6
LABEL_HEIGHT: Final = 15.0
LONGEST_NAME: Final = 34
DASHES: Final = ("none", "7 3", "2 3", "10 3 2 3", "4 4", "1 4")
INKS: Final = ("#0b6b63", "#8a3b12", "#3a3f8f", "#7a1f5c", "#4d5a12", "#444444")

HEADING: Final[dict[Language, str]] = {
    "en": "What is believed, message by message",
    "es": "Lo que se cree, mensaje por mensaje",
}
LEADS: Final[dict[Language, str]] = {
    "en": "After {step}: {leading}.",
    "es": "Tras {step}: {leading}.",
}
SHARE: Final[dict[Language, str]] = {"en": "{name} {percent} %", "es": "{name} {percent} %"}
EMPTY: Final[dict[Language, str]] = {"en": "Nothing is believed yet.", "es": "Todavía no se cree nada."}
IN_ALTERNATIVE: Final = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class BeliefStep:
    """Belief after one message: what was learnt, and the leading causes by name."""

    learnt: str
    shares: Sequence[tuple[str, float]]


def draw_beliefs(steps: Sequence[BeliefStep], language: Language = "en") -> str:
    """An SVG of the causes that led at any time, the likeliest at the end first; the same steps, the same picture.

    >>> picture = draw_beliefs([BeliefStep(learnt="filter: clogged", shares=[("dirty filter", 0.75)])])
    >>> picture.startswith("<svg ") and "75 % dirty filter" in picture
    True
    """
    names = leading_names(steps)
    body = "".join(_line(steps, name, place) for place, name in enumerate(names))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" role="img"'
        f' aria-labelledby="beliefs-title beliefs-words" font-family="sans-serif" font-size="12">'
        f'<title id="beliefs-title">{escape(HEADING[language])}</title>'
        f'<desc id="beliefs-words">{escape(in_words(steps, language))}</desc>'
        f'<rect width="{WIDTH}" height="{HEIGHT}" fill="#fff"/>'
        f'<text x="{LEFT}" y="18" font-weight="bold" fill="#222">{escape(HEADING[language])}</text>'
        f"{_scale()}{_steps(steps)}{body}{_names(steps, names)}</svg>"
    )


def in_words(steps: Sequence[BeliefStep], language: Language = "en") -> str:
    """The alternative text: what led after each message.

    >>> in_words([BeliefStep(learnt="1", shares=[("door", 0.25), ("filter", 0.5)])])
    'After 1: filter 50 %, door 25 %.'
    """
    if not steps:
        return EMPTY[language]
    return " ".join(
        LEADS[language].format(step=step.learnt, leading=_leading(step, language)) for step in steps
    )


def leading_names(steps: Sequence[BeliefStep]) -> tuple[str, ...]:
    """The causes worth a line: most believed at the end, then most believed ever; ties by name."""
    most: dict[str, float] = {}
    for step in steps:
        for name, share in step.shares:
            most[name] = max(most.get(name, 0.0), share)
    last = dict(steps[-1].shares) if steps else {}
    order = sorted(most, key=lambda name: (-round(last.get(name, 0.0), 9), -round(most[name], 9), name))
    return tuple(order[:MOST_LINES])


def _leading(step: BeliefStep, language: Language) -> str:
    order = sorted(step.shares, key=lambda pair: (-round(pair[1], 9), pair[0]))[:IN_ALTERNATIVE]
    return ", ".join(SHARE[language].format(name=name, percent=round(100 * share)) for name, share in order)


def _x(steps: Sequence[BeliefStep], at: int) -> float:
    wide = WIDTH - LEFT - RIGHT
    return LEFT + wide * (at / (len(steps) - 1) if len(steps) > 1 else 1.0)


def _y(share: float) -> float:
    return HEIGHT - BOTTOM - (HEIGHT - TOP - BOTTOM) * min(max(share, 0.0), 1.0)


def _scale() -> str:
    marks = []
    for percent in (0, 25, 50, 75, 100):
        y = _y(percent / 100)
        marks.append(f'<line x1="{LEFT}" y1="{y:.1f}" x2="{WIDTH - RIGHT}" y2="{y:.1f}" stroke="#ddd"/>')
        marks.append(f'<text x="{LEFT - 6}" y="{y + 4:.1f}" text-anchor="end" fill="#444">{percent} %</text>')
    return "".join(marks)


def _steps(steps: Sequence[BeliefStep]) -> str:
    """Numbers under the axis; what each stands for is in the title that a pointer or a reader finds."""
    return "".join(
        f'<text x="{_x(steps, at):.1f}" y="{HEIGHT - BOTTOM + 18}" text-anchor="middle" fill="#444">{at + 1}'
        f"<title>{escape(step.learnt)}</title></text>"
        for at, step in enumerate(steps)
    )


def _line(steps: Sequence[BeliefStep], name: str, place: int) -> str:
    ink, dashes = INKS[place], DASHES[place]
    points = [(_x(steps, at), _y(dict(step.shares).get(name, 0.0))) for at, step in enumerate(steps)]
    path = " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
    dots = "".join(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="2.5" fill="{ink}"/>' for x, y in points)
    return f'<polyline points="{path}" fill="none" stroke="{ink}" stroke-width="2" stroke-dasharray="{dashes}"/>{dots}'


def _names(steps: Sequence[BeliefStep], names: Sequence[str]) -> str:
    """Each name at the end of its line, moved apart where lines end together."""
    if not steps:
        return ""
    last = dict(steps[-1].shares)
    wanted = sorted(range(len(names)), key=lambda place: (_y(last.get(names[place], 0.0)), place))
    texts, lowest = [], TOP - LABEL_HEIGHT
    for nth, place in enumerate(wanted):
        room_below = (len(wanted) - nth - 1) * LABEL_HEIGHT
        share = last.get(names[place], 0.0)
        y = min(max(_y(share), lowest + LABEL_HEIGHT), HEIGHT - BOTTOM - room_below)
        lowest = y
        x = WIDTH - RIGHT + 8
        texts.append(
            f'<line x1="{x}" y1="{y:.1f}" x2="{x + 22}" y2="{y:.1f}" stroke="{INKS[place]}" stroke-width="2"'
            f' stroke-dasharray="{DASHES[place]}"/>'
            f'<text x="{x + 28}" y="{y + 4:.1f}" fill="#222">{round(100 * share)} % {escape(_short(names[place]))}</text>'
        )
    return "".join(texts)


def _short(name: str) -> str:
    return name if len(name) <= LONGEST_NAME else name[: LONGEST_NAME - 1].rstrip() + "…"
