"""A room that is watched until it holds: the customer texts numbers, we say where they lead and when the next is wanted."""

from datetime import datetime, timedelta
from typing import Final, Literal

from assistant.conversation.asking import remind_later
from assistant.conversation.events import Held, NumberLearned, StateChanged, TimerDropped, TimerSet
from assistant.conversation.handing_over import advise_product, close
from assistant.conversation.hours import next_quarter, waking_hour, wall_time
from assistant.conversation.ids import TimerName
from assistant.conversation.known import NUMBER_LASTS, unit_of
from assistant.conversation.room_readings import ROOM, TARGET
from assistant.conversation.sum_events import WatchBegun, WatchEnded
from assistant.conversation.sums import AT_TARGET_K
from assistant.conversation.trending import news_of_trend, say_verdict
from assistant.conversation.turn import Turn
from assistant.wording import degrees, hour_words
from kb.ids import SymptomId

WATCH: Final = TimerName("watch")
ASKED_FOR: Final = SymptomId("watch_request")
FIRST_LOOK: Final = timedelta(hours=2)
"""Between the first two numbers of a course (common practice, no source)."""

WARMEST_TARGET_C: Final = 15.0
"""Wine keeps at 13 °C; a warmer target is more likely the room's own number (common practice, no source)."""

HOLD_AFTER: Final = timedelta(hours=6)
HELD_ENOUGH: Final = 2
LONGEST_GAP: Final = timedelta(hours=12)


def watch_goes_on(turn: Turn) -> bool:
    """Begin the watch that was asked for, or take the news into one that runs; true when the turn is over."""
    if turn.case.watch is None:
        if not _asked_for(turn):
            return False
        begin_watch(turn)
        return True
    told = {event.quantity for event in turn.events if isinstance(event, NumberLearned)}
    if ROOM in told:
        return _take_number(turn)
    if TARGET in told:
        _first_number(turn)
        return True
    _end(turn, "news")
    return False


def _asked_for(turn: Turn) -> bool:
    asked = any(complaint.symptom == ASKED_FOR for complaint in turn.case.complaints)
    return asked and turn.case.watched == 0 and not turn.case.fixes


def begin_watch(turn: Turn) -> None:
    """From now on the numbers are watched; without a target there is nothing to watch for."""
    turn.add(WatchBegun(at=turn.at))
    turn.add(StateChanged(at=turn.at, state="waiting"))
    turn.say("watch_begin")
    _first_number(turn)


def _first_number(turn: Turn) -> None:
    target = turn.case.latest_number(TARGET)
    if target is None or target.si > WARMEST_TARGET_C:
        if target is not None:
            turn.say("watch_warm_target", target=degrees(target.si, unit_of(turn.case)))
        turn.say("watch_target")
        turn.wait_for("number", quantity=TARGET)
        remind_later(turn)
        return
    room = turn.case.latest_number(ROOM)
    if room is None or turn.at - room.read_at > NUMBER_LASTS:
        turn.say("watch_number")
        turn.wait_for("number", quantity=ROOM)
        remind_later(turn)
        return
    _take_number(turn)


def _take_number(turn: Turn) -> bool:
    """What the newest number says of the course; true unless the search for a cause begins."""
    room, target = turn.case.latest_number(ROOM), turn.case.latest_number(TARGET)
    if room is None or target is None or target.si > WARMEST_TARGET_C:
        _first_number(turn)
        return True
    if room.si - target.si <= AT_TARGET_K:
        _there(turn, room)
        return True
    turn.add(Held(at=turn.at, times=0))
    done = news_of_trend(turn)
    if done is None:
        _ask_at(turn, turn.at + FIRST_LOOK, sentence="watch_next")
        return True
    wanted = say_verdict(turn, done)
    if wanted is None:
        _end(turn, "stalls" if done.verdict == "will_stall" else "rising")
        turn.say("watch_look_further")
        advise_product(turn)
        return False
    sentence = None if done.verdict == "too_early" else "watch_again"
    _ask_at(turn, min(wanted, turn.at + LONGEST_GAP), sentence=sentence)
    return True


def _there(turn: Turn, room: NumberLearned) -> None:
    times = turn.case.held_times + 1
    turn.add(Held(at=turn.at, times=times))
    now = degrees(room.si, unit_of(turn.case))
    if times >= HELD_ENOUGH:
        turn.say("held_closed", now=now)
        _end(turn, "held")
        close(turn, "held")
        return
    hour = _set_timer(turn, turn.at + HOLD_AFTER)
    turn.say("held_once", now=now, hour=hour)
    turn.wait_for("number", quantity=ROOM)


def _ask_at(turn: Turn, due: datetime, *, sentence: str | None) -> None:
    hour = _set_timer(turn, due)
    if sentence is not None:
        turn.say(sentence, hour=hour)
    turn.wait_for("number", quantity=ROOM)


def _set_timer(turn: Turn, due: datetime) -> str:
    due = waking_hour(next_quarter(due), turn.zone)
    turn.add(TimerSet(at=turn.at, timer=WATCH, due=due, local=wall_time(due, turn.zone), zone=turn.zone))
    return hour_words(due, turn.at, turn.zone, turn.language)


def _end(turn: Turn, why: Literal["held", "stalls", "rising", "news"]) -> None:
    turn.add(WatchEnded(at=turn.at, why=why))
    turn.wait_for("nothing")
    if any(timer.timer == WATCH for timer in turn.case.timers):
        turn.add(TimerDropped(at=turn.at, timer=WATCH))


def look_again(turn: Turn) -> None:
    """The hour has come at which the next number was wanted."""
    if turn.case.watch is None:
        return
    turn.say("verify_ask")
    turn.wait_for("number", quantity=ROOM)
    remind_later(turn)
