"""A small conversation and a courier, so that tests of the helpline need no knowledge of cold rooms."""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta

from assistant.casebook import Casebook
from assistant.conversation import Case
from assistant.conversation import events as ev
from assistant.conversation import happenings as hp
from assistant.conversation.desk_events import ColleagueSpoke
from assistant.conversation.ids import ASSISTANT, SentenceId, TimerName
from assistant.conversation.line_events import PhotoTaken
from assistant.helpline import Accepted, Conversing, Courier, Editions, Helpline, House, Insight, Outcome
from kb.ids import HazardId, QuantityId

NOON = datetime(2026, 7, 14, 16, 0, tzinfo=UTC)
"""Noon in New York, eleven in Texas: nobody is asleep."""
TEXAS, OTHER = "+15125550100", "+15125550101"
"""Numbers reserved for fiction (North American Numbering Plan, 555-0100 to 555-0199)."""
VERIFY = TimerName("verify")
ROOM = QuantityId("room_c")
ANSWERS = {"baja": "sinks", "alto": "high", "alta": "high", "two": "two"}
"""What fits the small conversation's open question."""


def after(minutes: float) -> datetime:
    return NOON + timedelta(minutes=minutes)


def small_step(case: Case, happening: hp.Happening) -> tuple[ev.Event, ...]:  # noqa: C901, PLR0911 - one arm a happening
    at = happening.at
    match happening:
        case hp.CaseBegun():
            return _begun(happening)
        case hp.MessageHeard():
            return _heard(case, happening)
        case hp.PhotoLost():
            return (_said(at, "photo_lost", "The picture did not open.", urgent=True),)
        case hp.TimerDue():
            if not any(timer.timer == happening.timer for timer in case.timers):
                return ()
            dropped = ev.TimerDropped(at=at, timer=happening.timer)
            return (dropped, _waits_for_number(at), _said(at, "verify_ask", "How is it now {room}?"))
        case hp.ColleagueTookOver():
            state = () if case.state == "danger" else (ev.StateChanged(at=at, state="with_person"),)
            return (ev.VoiceChanged(at=at, voice=happening.colleague), *state)
        case hp.ColleagueWrote():
            said = replace(
                _said(at, "colleague", ""), voice=happening.colleague, message=happening.message, urgent=True
            )
            return (ColleagueSpoke(at=at, colleague=happening.colleague, message=happening.message), said)
        case hp.ColleagueLearned() | hp.ColleaguePromised():
            return ()
        case hp.ColleagueSaid():
            return (
                replace(_said(at, happening.sentence, "A sentence."), voice=happening.colleague, urgent=True),
            )
        case hp.ColleagueHandedBack():
            back = (ev.VoiceChanged(at=at, voice=ASSISTANT), ev.StateChanged(at=at, state="asking"))
            return (*back, _said(at, "go_on", "Let us go on."))
        case hp.ColleagueReopened():
            return (ev.StateChanged(at=at, state="asking"), _said(at, "reopened", "We may go on."))
        case hp.ColleagueClosed():
            return (ev.CaseClosed(at=at, reason="by_colleague"),)
        case hp.StepFailed():
            call = ev.DeskCalled(at=at, why="fault", urgency="today")
            return (
                call,
                ev.StateChanged(at=at, state="with_person"),
                _said(at, "fault", "That failed on our side."),
            )


def _begun(begun: hp.CaseBegun) -> tuple[ev.Event, ...]:
    opened = ev.CaseOpened(
        at=begun.at,
        language=begun.language,
        channel=begun.channel,
        edition="small",
        zone=begun.zone,
        region=begun.region,
        room=begun.room,
    )
    greeting = (_said(begun.at, "opening", "What is wrong?"),) if begun.greet else ()
    return (opened, *greeting)


def _heard(case: Case, message: hp.MessageHeard) -> tuple[ev.Event, ...]:
    at, text = message.at, message.text.casefold()
    if "break" in text:
        raise ZeroDivisionError(text)
    heard = ev.Heard(at=at, message=message.message, language="en", answered=True)
    if message.photos and not text:
        photo = PhotoTaken(at=at, message=message.message, count=message.photos)
        return (heard, photo, _said(at, "photo_kept", "A photo.", urgent=True))
    spoken = () if case.language else (ev.LanguageChosen(at=at, language="en"),)
    if "fire" in text:
        return (*spoken, heard, *_danger(case, at, message))
    if case.voice != ASSISTANT or case.state == "danger":
        return (*spoken, heard)
    reopened = (ev.StateChanged(at=at, state="asking"),) if case.state == "closed" else ()
    return (*spoken, heard, *reopened, *_answer(case, at, text))


def _answer(case: Case, at: datetime, text: str) -> tuple[ev.Event, ...]:
    if "number" in text:
        return (_waits_for_number(at), _said(at, "ask_number", "Which number?", urgent=True))
    if "later" in text:
        due = at + timedelta(hours=4)
        timer = ev.TimerSet(at=at, timer=VERIFY, due=due, local="2026-07-14T16:00", zone="America/Chicago")
        return (
            timer,
            ev.StateChanged(at=at, state="waiting"),
            _said(at, "later", "I ask later.", urgent=True),
        )
    if text.strip().isdecimal():
        number = ev.NumberLearned(at=at, quantity=ROOM, si=float(text), value=float(text), unit="C")
        done = ev.WaitingFor(at=at, kind="nothing")
        return (number, done, _said(at, "thanks", f"Number {case.heard + 1}.", urgent=True))
    asks = ev.WaitingFor(at=at, kind="opening")
    options = (("yes", "yes"), ("no", "no"))
    return (asks, replace(_said(at, "next", f"Question {case.heard + 1}?", urgent=True), options=options))


def _danger(case: Case, at: datetime, message: hp.MessageHeard) -> tuple[ev.Event, ...]:
    hazard = ev.HazardRaised(at=at, hazard=HazardId("smoke_fire"), level="danger", message=message.message)
    words = _said(at, "hazard:smoke_fire", "Everyone out.", urgent=True)
    return (
        hazard,
        ev.DeskCalled(at=at, why="danger", urgency="now"),
        ev.StateChanged(at=at, state="danger"),
        words,
    )


def _said(at: datetime, sentence: str, text: str, *, urgent: bool = False) -> ev.Said:
    return ev.Said(at=at, sentence=SentenceId(sentence), language="en", text=text, urgent=urgent)


def _waits_for_number(at: datetime) -> ev.WaitingFor:
    return ev.WaitingFor(at=at, kind="number", quantity=ROOM)


@dataclass(slots=True)
class Post:
    """A courier that remembers what it carried."""

    carried: list[tuple[str, str]] = field(default_factory=list)
    once: list[str] = field(default_factory=list)
    outcome: Outcome | None = field(default_factory=Accepted)
    """None: the line goes dead, after the text went out."""

    def send(self, address: str, text: str, once: str, again_since: datetime | None = None) -> Outcome:
        self.carried.append((address, text))
        self.once.append(once)
        if self.outcome is None:
            raise ConnectionError
        return self.outcome

    def look_back(self, address: str, text: str, since: datetime) -> Accepted | None:
        return None

    def texts(self) -> list[str]:
        return [text for _, text in self.carried]


Step = Callable[[Case, hp.Happening], tuple[ev.Event, ...]]


def small_helpline(book: Casebook, courier: Courier | None = None, step: Step = small_step) -> Helpline:
    conversing = Conversing(
        edition="small",
        step=step,
        answers=lambda _case, text: text.strip().casefold() in ANSWERS,
        waits_for_number=lambda case: case.waiting_for is not None and case.waiting_for.kind == "number",
        lasting=lambda case: tuple((fact.finding, fact.state) for fact in case.facts),
        insight=lambda _case, _at: Insight(),
        files={"shared/findings/filter.yaml": "finding: filter\n"},
    )
    return Helpline(
        House(casebook=book, editions=Editions(conversing), key=b"a key for tests", courier=courier)
    )
