"""The course of a room: readings as dots, the fitted curve, the expected one, the target and where it would stall.

In: numbers that stand in an event, already in the person's unit. Out: an SVG with its words. No colour speaks alone:
every line has its own dashes and its name in the key.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from assistant.drawing.axes import BOTTOM, HEIGHT, LEFT, RIGHT, TOP, WIDTH, Frame, line, marks, picture, text
from kb.ids import Language

FITTED: Final = "none"
EXPECTED: Final = "6 4"
TARGET: Final = "2 3"
STALL: Final = "10 3 2 3"
WORDS: Final[Mapping[Language, Mapping[str, str]]] = {
    "en": {
        "title": "The room's temperature: where it comes from, where it goes", "readings": "readings",
        "fitted": "fitted", "expected": "expected", "target": "target", "stall": "would stop",
        "hours": "hours from the last reading", "from_to": "{count} readings, from {first} to {last}.",
        "on_its_way": "On its way to {target}.", "will_stall": "Would stop near {end}, short of {target}.",
        "rising": "Getting warmer.", "too_early": "Too early to tell.",
    },
    "es": {
        "title": "La temperatura del cuarto: de dónde viene, a dónde va", "readings": "lecturas",
        "fitted": "ajustada", "expected": "esperada", "target": "meta", "stall": "se quedaría",
        "hours": "horas desde la última lectura", "from_to": "{count} lecturas, de {first} a {last}.",
        "on_its_way": "Va en camino a {target}.", "will_stall": "Se quedaría cerca de {end}, sin llegar a {target}.",
        "rising": "Se está calentando.", "too_early": "Es pronto para saberlo.",
    },
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class CourseDrawn:
    """What is drawn; hours count from the last reading, degrees are in `unit`."""

    readings: Sequence[tuple[float, float]]
    fitted: Sequence[tuple[float, float]]
    expected: Sequence[tuple[float, float]]
    target: float
    stall: float | None
    verdict: str
    unit: str


def draw_course(course: CourseDrawn, language: Language = "en") -> str:
    """The picture of a trend; the same values, the same picture.

    >>> drawn = CourseDrawn(readings=[(-3, 60), (0, 50)], fitted=[(-3, 60), (6, 42)], expected=[], target=38, stall=None,
    ...                     verdict="too_early", unit="F")
    >>> "Too early to tell." in draw_course(drawn)
    True
    """
    words = WORDS[language]
    frame = _frame(course)
    lines = [_grid(frame, course.unit, words["hours"])]
    span = (frame.from_x, frame.to_x)
    lines.append(line(frame, [(span[0], course.target), (span[1], course.target)], "ink", TARGET))
    if course.stall is not None:
        lines.append(line(frame, [(span[0], course.stall), (span[1], course.stall)], "two", STALL))
    if course.expected:
        lines.append(line(frame, course.expected, "two", EXPECTED))
    lines.append(line(frame, course.fitted, "one", FITTED))
    lines += [
        f'<circle class="one-fill" cx="{frame.x(h):.1f}" cy="{frame.y(t):.1f}" r="4"/>'
        for h, t in course.readings
    ]
    lines.append(_key(course, words))
    return picture(words["title"], course_in_words(course, language), "".join(lines))


def course_in_words(course: CourseDrawn, language: Language = "en") -> str:
    """The alternative text."""
    words = WORDS[language]
    shown = {
        "first": _degrees(course.readings[0][1], course.unit),
        "last": _degrees(course.readings[-1][1], course.unit),
        "target": _degrees(course.target, course.unit),
        "end": _degrees(course.stall if course.stall is not None else course.fitted[-1][1], course.unit),
        "count": str(len(course.readings)),
    }
    return f"{words['from_to'].format(**shown)} {words[course.verdict].format(**shown)}"


def _degrees(value: float, unit: str) -> str:
    return f"{value:.0f} {unit}"


def _frame(course: CourseDrawn) -> Frame:
    points = [*course.readings, *course.fitted, *course.expected]
    values = [value for _, value in points] + [course.target]
    if course.stall is not None:
        values.append(course.stall)
    return Frame(
        from_x=min(hour for hour, _ in points),
        to_x=max(hour for hour, _ in points),
        from_y=min(values) - 2.0,
        to_y=max(values) + 2.0,
    )


def _grid(frame: Frame, unit: str, hours: str) -> str:
    parts = []
    for value in marks(frame.from_y, frame.to_y):
        y = frame.y(value)
        parts.append(f'<line class="soft" x1="{LEFT}" y1="{y:.1f}" x2="{WIDTH - RIGHT}" y2="{y:.1f}"/>')
        parts.append(text(LEFT - 8, y + 4, _degrees(value, unit), anchor="end", kind="dim"))
    parts += [
        text(
            frame.x(value),
            HEIGHT - BOTTOM + 18,
            f"{value:+.0f}" if value else "0",
            anchor="middle",
            kind="dim",
        )
        for value in marks(frame.from_x, frame.to_x, 9)
    ]
    parts.append(text((LEFT + WIDTH - RIGHT) / 2, HEIGHT - 8, hours, anchor="middle", kind="dim"))
    return "".join(parts)


def _key(course: CourseDrawn, words: Mapping[str, str]) -> str:
    shown = [("one", FITTED, "fitted"), ("ink", TARGET, "target")]
    if course.expected:
        shown.append(("two", EXPECTED, "expected"))
    if course.stall is not None:
        shown.append(("two", STALL, "stall"))
    parts = [
        f'<circle class="one-fill" cx="{LEFT + 5}" cy="{TOP - 18}" r="4"/>',
        text(LEFT + 14, TOP - 14, words["readings"]),
    ]
    x = LEFT + 90
    for kind, dashes, name in shown:
        parts.append(
            f'<line class="{kind}" x1="{x}" y1="{TOP - 18}" x2="{x + 28}" y2="{TOP - 18}" stroke-width="2"'
            f' stroke-dasharray="{dashes}"/>'
        )
        parts.append(text(x + 34, TOP - 14, words[name]))
        x += 126
    return "".join(parts)
