"""Texts that come unasked: offered, and sent only after a yes.

An hour that was promised is asked about once it is promised; the monthly cleaning once a room holds again.
"""

from datetime import datetime, timedelta
from typing import Final
from zoneinfo import ZoneInfo

from assistant.conversation.danger import yes_no
from assistant.conversation.events import CaseClosed, TimerDropped, TimerSet, WaitingFor
from assistant.conversation.following_up import VERIFY
from assistant.conversation.hours import wall_time
from assistant.conversation.ids import ASSISTANT, ConsentScope, MessageId, TimerName
from assistant.conversation.line_events import ConsentAnswered
from assistant.conversation.turn import Turn
from assistant.conversation.watching import WATCH
from assistant.wording import hour_words

CLEANING: Final = TimerName("cleaning")
A_MONTH: Final = timedelta(days=30)
CLEANING_HOUR: Final = 10
"""When nobody is asleep and few are at market (common practice, no source)."""

PROMISES: Final = (VERIFY, WATCH)
LATE: Final = timedelta(minutes=30)
"""A text so long after the hour that was agreed to is one at another hour."""


def ask_leave(turn: Turn) -> None:
    """Ask for the yes that what was just decided needs; nothing where it was given, refused or is not needed."""
    if turn.case.voice != ASSISTANT or turn.case.state == "danger":
        return
    promised = any(isinstance(event, TimerSet) and event.timer in PROMISES for event in turn.events)
    held = any(isinstance(event, CaseClosed) and event.reason == "held" for event in turn.events)
    if promised and _promised(turn) is not None and _on_page(turn) and not turn.has_said("leave_number"):
        turn.say("leave_number")
    elif promised and _promised(turn) is not None and turn.case.consent("follow_up") is None:
        _ask(turn, "follow_up", "may_i_ask")
    elif promised and _promised(turn) is not None and turn.case.consent("follow_up") is False:
        _leave_it_to_them(turn)
    elif held and turn.case.consent("cleaning") is None:
        _ask(turn, "cleaning", "may_i_remind")


def _on_page(turn: Turn) -> bool:
    """A promise made on a page is lost when its tab is closed, unless there is a telephone."""
    opened = turn.case.opened
    return opened is not None and opened.channel == "web" and opened.phone_line


def _ask(turn: Turn, scope: ConsentScope, sentence: str) -> None:
    waiting = turn.case.waiting_for
    expected = waiting if waiting is not None and waiting.kind == "number" else None
    if waiting is not None and expected is None:
        return  # another question is open, and one at a time is the rule
    turn.say(sentence, options=yes_no(turn))
    turn.wait_for(
        "consent",
        scope=scope,
        quantity=expected.quantity if expected else None,
        fix=expected.fix if expected else None,
    )


def answer_leave(turn: Turn, waiting: WaitingFor, said: str, message: MessageId) -> None:
    """They said yes or no; what else was expected is expected still."""
    assert waiting.scope is not None  # noqa: S101 - set wherever it is asked
    yes = said == "yes"
    turn.add(ConsentAnswered(at=turn.at, scope=waiting.scope, yes=yes, message=message))
    expect_number(turn, waiting)
    if waiting.scope == "cleaning":
        turn.say("leave_cleaning" if yes else "leave_no_cleaning")
        if yes:
            _remind_in_a_month(turn)
    elif yes:
        turn.say("leave_yes")
    else:
        _leave_it_to_them(turn)


def _leave_it_to_them(turn: Turn) -> None:
    """We will not text at the hour that was named; the number is welcome all the same."""
    promised = _promised(turn)
    for name in PROMISES:
        if any(timer.timer == name for timer in turn.case.timers):
            turn.add(TimerDropped(at=turn.at, timer=name))
    turn.say("leave_no", hour=hour_words(promised or turn.at, turn.at, turn.zone, turn.language))


def expect_number(turn: Turn, waiting: WaitingFor) -> None:
    """Whether we may ask or not, the number is welcome."""
    if waiting.quantity is not None:
        turn.wait_for("number", quantity=waiting.quantity, fix=waiting.fix)
    else:
        turn.wait_for("nothing")


def remind_of_cleaning(turn: Turn) -> None:
    """A month has gone: one text, and the next in a month; while the room has a case of its own, none is needed."""
    if turn.case.state == "closed" and turn.case.voice == ASSISTANT and turn.case.consent("cleaning"):
        turn.say("cleaning_reminder")
    _remind_in_a_month(turn)


def _remind_in_a_month(turn: Turn) -> None:
    there = (turn.at + A_MONTH).astimezone(ZoneInfo(turn.zone))
    due = there.replace(hour=CLEANING_HOUR, minute=0, second=0, microsecond=0).astimezone(turn.at.tzinfo)
    turn.add(TimerSet(at=turn.at, timer=CLEANING, due=due, local=wall_time(due, turn.zone), zone=turn.zone))


def _promised(turn: Turn) -> datetime | None:
    return next((timer.due for timer in turn.case.timers if timer.timer in PROMISES), None)
