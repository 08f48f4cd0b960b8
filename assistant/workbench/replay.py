"""Transcripts: conversations that read as documentation and are replayed as tests.

A transcript is Markdown. Its head says where and when; then one block a happening:

    at: 2026-07-14 09:30
    zone: America/New_York

    > customer's words
    ASSISTANT: our words
    [2 h later] the promised hour comes
    [desk: Ines reopens]

Replaying steps the conversation through the happenings and compares our words with those that stand there.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

from assistant.conversation import Case, apply, new_case, step
from assistant.conversation.events import Event, Said
from assistant.conversation.happenings import (
    CaseBegun,
    ColleagueHandedBack,
    ColleagueReopened,
    ColleagueTookOver,
    Happening,
    MessageHeard,
    TimerDue,
)
from assistant.conversation.ids import MessageId
from assistant.conversation.turn import numbered
from kb.errors import RequestError
from kb.ids import Language
from kb.knowledge import Knowledge

BETWEEN_MESSAGES = timedelta(minutes=2)
_WAIT = re.compile(r"^\[(\d+(?:\.\d+)?) (min|h|d) later\]\s*$")
_DESK = re.compile(r"^\[desk: (\w+) (takes over|hands back|reopens)\]\s*$")
_HOURS = {"min": 1 / 60, "h": 1.0, "d": 24.0}
OURS = "ASSISTANT: "


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a transcript that happens: its place, and what happens there."""

    number: int
    kind: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Script:
    """A transcript as read."""

    path: Path
    at: datetime
    zone: str
    region: str
    language: Language | None
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Difference:
    """The first place where the program now says something else."""

    path: Path
    line: int
    stands: str
    now: str

    def __str__(self) -> str:
        return (
            f"{self.path}:{self.line}: now says something else\n  stands: {self.stands}\n  now:    {self.now}"
        )


@dataclass(slots=True)
class Player:
    """Steps one conversation, with a clock that only the script moves."""

    knowledge: Knowledge
    at: datetime
    zone: str
    region: str = "911"
    case: Case = field(default_factory=new_case)
    events: list[Event] = field(default_factory=list)
    messages: int = 0

    def begin(self, language: Language | None) -> list[Said]:
        """Open the case."""
        begun = CaseBegun(at=self.at, language=language, channel="sms", zone=self.zone, region=self.region)
        return self.happen(begun)

    def happen(self, happening: Happening) -> list[Said]:
        """One happening; what was said."""
        events = step(self.knowledge, self.case, happening)
        for event in events:
            self.case = apply(self.case, event)
        self.events.extend(events)
        return [event for event in events if isinstance(event, Said)]

    def hear(self, text: str, photos: int = 0) -> list[Said]:
        """A customer's message, two minutes after the last."""
        self.at += BETWEEN_MESSAGES
        self.messages += 1
        message = MessageId(f"m{self.messages}")
        return self.happen(MessageHeard(at=self.at, message=message, text=text, photos=photos))

    def wait(self, span: timedelta) -> list[Said]:
        """Time passes; every timer comes due in its order."""
        until = self.at + span
        said: list[Said] = []
        while due := sorted((t for t in self.case.timers if t.due <= until), key=lambda t: (t.due, t.timer)):
            self.at = max(self.at, due[0].due)
            said += self.happen(TimerDue(at=self.at, timer=due[0].timer))
        self.at = until
        return said

    def desk(self, colleague: str, deed: str) -> list[Said]:
        """A colleague takes over, hands back or reopens."""
        match deed:
            case "takes over":
                return self.happen(ColleagueTookOver(at=self.at, colleague=colleague))
            case "hands back":
                return self.happen(ColleagueHandedBack(at=self.at, colleague=colleague))
            case _:
                return self.happen(ColleagueReopened(at=self.at, colleague=colleague))


def as_text(said: Said) -> str:
    """Our words as a text message shows them, options as a numbered line."""
    choices = numbered(said.options)
    return said.text if not choices or choices in said.text else f"{said.text} {choices}"


def parse(path: Path) -> Script:
    """Read a transcript.

    Fails with `RequestError` naming the line that could not be read.
    """
    head: dict[str, str] = {}
    lines: list[Line] = []
    for number, raw in enumerate(path.read_text(encoding="utf-8").splitlines(), start=1):
        line = raw.strip()
        if raw.startswith("    ") and not lines and ": " in line:
            key, value = line.split(": ", 1)
            head[key] = value
        elif line.startswith("> "):
            lines.append(Line(number, "customer", line[2:]))
        elif line.startswith(OURS):
            lines.append(Line(number, "ours", line.removeprefix(OURS)))
        elif line.startswith("["):
            lines.append(_stage_direction(path, number, line))
    zone = head.get("zone", "America/New_York")
    if "at" not in head:
        raise RequestError(
            f"{path}: no `at:` in its head", "begin with an indented line `at: 2026-07-14 09:30`"
        )
    at = datetime.strptime(head["at"], "%Y-%m-%d %H:%M").replace(tzinfo=ZoneInfo(zone)).astimezone(UTC)
    language: Language | None = "es" if head.get("language") == "es" else "en" if "language" in head else None
    return Script(
        path=path, at=at, zone=zone, region=head.get("region", "911"), language=language, lines=tuple(lines)
    )


def _stage_direction(path: Path, number: int, line: str) -> Line:
    if _WAIT.match(line):
        return Line(number, "wait", line)
    if _DESK.match(line):
        return Line(number, "desk", line)
    what = f"{path}:{number}: cannot read {line!r}"
    raise RequestError(what, "write `[2 h later]` or `[desk: Ines reopens]`")


def play(knowledge: Knowledge, script: Script) -> Iterator[tuple[Line, list[Said]]]:
    """Each happening of the script with what is said to it now."""
    yield from _steps(_begun(knowledge, script), script)


def played(knowledge: Knowledge, script: Script) -> Player:
    """The conversation as it stands at the end of the script."""
    player = _begun(knowledge, script)
    for _ in _steps(player, script):
        pass
    return player


def _begun(knowledge: Knowledge, script: Script) -> Player:
    player = Player(knowledge, script.at, script.zone, script.region)
    player.begin(script.language)
    return player


def _steps(player: Player, script: Script) -> Iterator[tuple[Line, list[Said]]]:
    for line in script.lines:
        if line.kind == "customer":
            yield line, player.hear(line.text)
        elif line.kind == "wait" and (wait := _WAIT.match(line.text)):
            yield line, player.wait(timedelta(hours=float(wait[1]) * _HOURS[wait[2]]))
        elif line.kind == "desk" and (deed := _DESK.match(line.text)):
            yield line, player.desk(deed[1], deed[2])


def first_difference(knowledge: Knowledge, path: Path) -> Difference | None:
    """Where the program now answers otherwise than the transcript says; None where it does not."""
    script = parse(path)
    stands: dict[int, list[Line]] = {}
    happening = 0
    for line in script.lines:
        if line.kind == "ours":
            stands.setdefault(happening, []).append(line)
        else:
            happening = line.number
    for line, said in play(knowledge, script):
        ours = stands.get(line.number, [])
        now = [as_text(one) for one in said]
        for place, words in zip(ours, now, strict=False):
            if place.text != words:
                return Difference(path, place.number, place.text, words)
        if len(ours) != len(now):
            longer = [one.text for one in ours][len(now) :] or ["(nothing)"]
            more = now[len(ours) :] or ["(nothing)"]
            return Difference(path, line.number, longer[0], more[0])
    return None


def written(knowledge: Knowledge, path: Path) -> str:
    """The transcript with our words as they are now: to accept a change after reading it."""
    script = parse(path)
    now = {line.number: [as_text(one) for one in said] for line, said in play(knowledge, script)}
    out: list[str] = []
    for number, raw in enumerate(path.read_text(encoding="utf-8").splitlines(), start=1):
        if raw.strip().startswith(OURS):
            continue
        out.append(raw)
        out.extend(OURS + words for words in now.get(number, []))
    return "\n".join(out) + "\n"


__all__ = [
    "Difference",
    "Player",
    "Script",
    "as_text",
    "first_difference",
    "parse",
    "play",
    "played",
    "written",
]
