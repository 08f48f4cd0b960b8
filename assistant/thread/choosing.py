"""Which case a message belongs to, where an address has several."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from assistant.conversation.ids import CaseId, CaseState
from assistant.thread.tidying import plain

RESUMES_WITHIN: Final = timedelta(days=14)
"""Written again within so long, a resting case goes on."""

BARE_NUMBER: Final = re.compile(r"-?\d+([.,]\d+)?( ?(f|c|fahrenheit|celsius|grados|degrees|deg))?")
NEW_PROBLEM: Final = re.compile(
    r"(?:new|another|different|other) problem(?: (?:in|with|at))?(?: (.+))?"
    r"|(?:nuevo problema|problema nuevo|otro problema)(?: (?:en|con))?(?: (.+))?"
)
LONGEST_NAME: Final = 40
"""Longer than this it is a description, not what they call their room."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenCase:
    """A case that a message may belong to."""

    case: CaseId
    room: str
    """The room's id."""
    name: str | None
    """What they call the room."""
    state: CaseState
    waits_for_number: bool
    asked_at: datetime | None
    """When its open question was put; None: none is open."""
    last_at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class ToCase:
    """The message goes on with this case."""

    case: CaseId


@dataclass(frozen=True, slots=True, kw_only=True)
class NewCase:
    """The message begins a case: of a known room, of a new room, or of whichever is first."""

    room: str | None = None
    name: str | None = None
    """What they call the new room."""
    another_room: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class AskWhichRoom:
    """Nobody could tell which of these cases a bare number is for."""

    cases: tuple[CaseId, ...]


Choice = ToCase | NewCase | AskWhichRoom


def choose_case(text: str, cases: Sequence[OpenCase], at: datetime) -> Choice:
    """The case that `text` belongs to, among `cases` of one address.

    A room that is named decides; then a bare number goes to the case that waits for one; all else to the case that
    asked last. A case at rest is taken up only when none runs. *New problem* begins another.
    """
    alive = [case for case in cases if case.state != "closed"]
    resting = [case for case in cases if case.state == "closed" and at - case.last_at <= RESUMES_WITHIN]
    begun = NEW_PROBLEM.fullmatch(plain(text))
    if begun is not None:
        return _another(_as_written(begun.group(1) or begun.group(2), text), [*alive, *resting])
    if named := [case for case in (alive or resting) if _names(text, case)]:
        return ToCase(case=_asked_last(named).case)
    if not alive:
        return ToCase(case=_asked_last(resting).case) if resting else NewCase()
    if is_bare_number(text):
        waiting = [case for case in alive if case.waits_for_number]
        if len(waiting) > 1:
            return AskWhichRoom(cases=tuple(case.case for case in waiting))
        alive = waiting or alive
    return ToCase(case=_asked_last(alive).case)


def room_offered(text: str, offered: Sequence[OpenCase]) -> CaseId | None:
    """Which of the offered rooms the answer means: by its number in the list, or by its name.

    A number that is not in the list means none.
    """
    said = plain(text)
    if said.isdecimal() and len(said) <= 2 and 1 <= int(said) <= len(offered):  # noqa: PLR2004 - "12", never "2026"
        return offered[int(said) - 1].case
    named = [case for case in offered if _names(text, case)]
    return named[0].case if len(named) == 1 else None


def is_bare_number(text: str) -> bool:
    """Nothing but a number, perhaps with its degrees.

    >>> is_bare_number("49"), is_bare_number(" 38.5°F "), is_bare_number("-3"), is_bare_number("49 in the barn")
    (True, True, True, False)
    """
    sign = "-" if text.strip()[:1] in ("-", "\u2212") else ""
    return BARE_NUMBER.fullmatch(sign + plain(text)) is not None


def _another(named: str | None, cases: Sequence[OpenCase]) -> NewCase:
    name = named if named and len(named) <= LONGEST_NAME else None
    known = [
        case
        for case in cases
        if name is not None and case.name is not None and plain(case.name) == plain(name)
    ]
    if known:
        return NewCase(room=known[-1].room)
    return NewCase(name=name, another_room=bool(cases))


def _as_written(name: str | None, text: str) -> str | None:
    """The name with the letters and accents of the message that it ends."""
    if name is None:
        return None
    written = " ".join(text.split()[-len(name.split()) :]).strip(" .,;:!?¡¿\"'")
    return written if plain(written) == name else name


def _names(text: str, case: OpenCase) -> bool:
    return case.name is not None and f" {plain(case.name)} " in f" {plain(text)} "


def _asked_last(cases: Sequence[OpenCase]) -> OpenCase:
    """The case whose question is the newest; one with a question before one without; ties to the greater id."""
    return max(cases, key=lambda case: (case.asked_at is not None, case.asked_at or case.last_at, case.case))
