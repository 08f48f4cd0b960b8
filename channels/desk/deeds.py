"""The deeds behind a case's buttons: each one use case, written down under the colleague's name."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from typing import Final
from zoneinfo import ZoneInfo

from flask import Blueprint, redirect, request, url_for
from werkzeug.wrappers import Response as Answered

from assistant.helpline import CaseClock, DeskRoom, DeskWork, Door, Ending, Helpline, PartRoom, Told
from channels.desk.guard import colleague
from kb.errors import RequestError
from kb.ids import Language

YES_NO: Final = {"yes": True, "no": False}


@dataclass(frozen=True, slots=True)
class Hands:
    """What a deed may take hold of."""

    helpline: Helpline
    room: DeskRoom
    work: DeskWork
    parts: PartRoom

    @classmethod
    def over(cls, helpline: Helpline) -> "Hands":
        """Hands over a helpline."""
        house = helpline.house
        return cls(helpline, DeskRoom(house), DeskWork(house), PartRoom(house))


Doing = Callable[[Hands, str, str, datetime], object]


def deeds(desk: Blueprint, hands: Hands, door: Door, clock: CaseClock) -> None:
    """`/desk/cases/…/DEED` and `/desk/calls`."""

    @desk.post(f"/cases/<case>/<any({', '.join(repr(deed) for deed in DEEDS)}):deed>")
    def do(case: str, deed: str) -> Answered:
        said, doing, place = DEEDS[deed]
        doing(hands, case, colleague().name, clock.now())
        door.note(colleague().name, said, case, clock.now())
        return redirect(url_for("desk.case", case=case) + place, 303)

    @desk.post("/calls")
    def call() -> Answered:
        name, at = colleague().name, clock.now()
        case = _take_call(hands, name, at)
        door.note(name, "took a call", case, at)
        return redirect(url_for("desk.case", case=case) + "#next", 303)


def told(name: str) -> str:
    """A field of the form, without what stands around it."""
    return request.form.get(name, "").strip()


def seen() -> int:
    """The last message that the colleague saw."""
    return int(told("seen")) if told("seen").isdecimal() else 0


def _take_call(hands: Hands, name: str, at: datetime) -> str:
    """A case for somebody on the telephone; the colleague speaks in it from the start."""
    language: Language = "es" if told("language") == "es" else "en"
    helpline, client_id = hands.helpline, told("client_id")
    case = helpline.open_case(client_id=client_id, at=at, language=language, channel="call").case
    helpline.take_over(case, name, at)
    if told("room"):
        helpline.name_room(case, told("room"))
    if told("place"):
        hands.work.place(case, told("place"))
    if told("text"):
        helpline.receive(case, None, told("text"), f"{case}-first", at)
    return case


def _write(hands: Hands, case: str, name: str, at: datetime) -> object:
    text, client_id = request.form.get("text", ""), told("client_id")
    return hands.helpline.write(case, name, text, seen=seen(), client_id=client_id, at=at)


def _say(hands: Hands, case: str, name: str, at: datetime) -> object:
    return hands.work.say(case, name, told("sentence"), seen=seen(), client_id=told("client_id"), at=at)


def _take_over(hands: Hands, case: str, name: str, at: datetime) -> object:
    return hands.helpline.take_over(case, name, at, instead_of=told("instead_of") or None)


def _hand_back(hands: Hands, case: str, name: str, at: datetime) -> object:
    return hands.helpline.hand_back(case, name, at)


def _reopen(hands: Hands, case: str, name: str, at: datetime) -> object:
    return hands.helpline.reopen_after_danger(case, name, at)


def _close(hands: Hands, case: str, name: str, at: datetime) -> object:
    days = told("ask_after")
    ending = Ending(
        cause=told("cause") or None,
        new_cause=told("new_cause"),
        fix=told("fix") or None,
        mended_by=told("mended_by"),
        held=YES_NO.get(told("held")),
        ask_after_days=int(days) if days.isdecimal() else None,
    )
    return hands.work.close(case, name, ending, at)


def _aside(hands: Hands, case: str, name: str, at: datetime) -> object:
    hands.room.note_aside(case, name, request.form.get("text", ""), told("client_id"), at)
    return None


def _learn(hands: Hands, case: str, name: str, at: datetime) -> object:
    finding, _, state = told("fact").partition("=")
    return hands.helpline.learn(case, name, finding, state, at)


def _heard(hands: Hands, case: str, _name: str, at: datetime) -> object:
    return hands.helpline.receive(case, None, request.form.get("text", ""), told("client_id"), at)


def _promise(hands: Hands, case: str, name: str, at: datetime) -> object:
    zone = ZoneInfo(hands.room.folder(case, at).case.zone)
    try:
        due = datetime.fromisoformat(told("due")).replace(tzinfo=zone)
    except ValueError:
        raise RequestError("no hour", mend="choose a day and an hour") from None
    return hands.work.promise(case, name, due, at, tell=told("tell") == "yes")


def _place(hands: Hands, case: str, _name: str, _at: datetime) -> object:
    hands.work.place(case, told("place"))
    return None


def _part(hands: Hands, case: str, name: str, at: datetime) -> object:
    try:
        bought_on = date.fromisoformat(told("bought_on")) if told("bought_on") else None
    except ValueError:
        raise RequestError("no day", mend="write it as 2026-07-14") from None
    proof, misused = YES_NO.get(told("proof")), YES_NO.get(told("misused"))
    known = Told(bought_on=bought_on, proof=proof, misused=misused)
    hands.parts.tell(case, told("part"), known, name, at)
    return None


def _part_ask(hands: Hands, case: str, name: str, at: datetime) -> object:
    hands.parts.ask_for(case, told("part"), told("note"), name, told("client_id"), at)
    return None


DEEDS: Final[dict[str, tuple[str, Doing, str]]] = {
    "take-over": ("took over", _take_over, "#talk"),
    "hand-back": ("handed back", _hand_back, "#talk"),
    "write": ("wrote", _write, "#talk"),
    "say": ("sent a sentence", _say, "#talk"),
    "aside": ("wrote an aside", _aside, "#s-asides"),
    "learn": ("set a fact", _learn, "#next"),
    "heard": ("wrote down what they said", _heard, "#next"),
    "promise": ("promised a time", _promise, ""),
    "place": ("set the place", _place, ""),
    "part": ("wrote down a part", _part, "#s-parts"),
    "part-ask": ("asked for a part", _part_ask, "#s-parts"),
    "reopen": ("reopened after a danger", _reopen, "#talk"),
    "close": ("closed", _close, ""),
}
"""Each deed with its words in the book of deeds, what does it, and where the page goes on."""
