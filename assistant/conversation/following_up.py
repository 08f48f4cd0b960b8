"""Proving that a fix worked: a number that moved, at an hour at which working and not working can be told apart."""

from datetime import datetime, timedelta
from typing import Final

from assistant.conversation.asking import REMINDER, ask, remind_later
from assistant.conversation.case import FixProgress
from assistant.conversation.danger import yes_no
from assistant.conversation.events import FixJudged, Held, NumberLearned, StateChanged, TimerSet
from assistant.conversation.handing_over import advise_product, close
from assistant.conversation.hours import next_quarter, waking_hour, wall_time
from assistant.conversation.known import unit_of
from assistant.conversation.room_readings import ROOM, TARGET
from assistant.conversation.room_sums import expected_fall
from assistant.conversation.stalling import MOVES_K, VERIFY, go_on_from, stall_of
from assistant.conversation.sums import AT_TARGET_K
from assistant.conversation.turn import Turn
from assistant.engineering import (
    TYPICAL_TAU_H,
    expected_after_fix,
    settling_c,
    stopped_short_share,
    told_tau_h,
    worked_share,
)
from assistant.wording import degrees, hour_words
from kb.ids import FixId, StateId
from kb.schema import Fix

FRESH: Final = timedelta(minutes=45)
"""A number from just before the fix is a baseline as good as one from just after (common practice, no source)."""

QUICKEST_TAU_H: Final = 1.0
"""Doors, people and the saw-tooth hide anything quicker in texted numbers (our judgement)."""

HOLD_AFTER_H: Final = 6.0
LOOK_AGAIN_H: Final = 2.0
WORKED_FROM: Final = 0.8
FAILED_TO: Final = 0.2
NEARLY_DUE: Final = timedelta(minutes=20)
LIKELIER_THAN_NOT: Final = 0.5
HELD_ENOUGH: Final = 2
SURE_OF_CHECK: Final = 0.9
"""What a check's answer is worth as proof: people are right about what they see nine times in ten."""


def after_fix(turn: Turn, node: Fix) -> None:
    """Right after "done": look at once where looking tells, else take the starting number and promise an hour."""
    turn.add(StateChanged(at=turn.at, state="waiting"))
    if node.verify.ask is not None:
        _verify_by_check(turn, node)
        return
    number = turn.case.latest_number(ROOM)
    if number is not None and number.at == turn.at and at_target(turn, number):
        _held(turn, turn.case.fixes[-1], number)
    elif number is not None and turn.at - number.read_at <= FRESH:
        promise(turn, node, number)
    else:
        turn.say("verify_number")
        turn.wait_for("number", quantity=ROOM, fix=node.fix)
        remind_later(turn)


def at_target(turn: Turn, number: NumberLearned) -> bool:
    target = turn.case.latest_number(TARGET)
    return target is not None and abs(number.si - target.si) <= AT_TARGET_K


def _verify_by_check(turn: Turn, node: Fix) -> None:
    assert node.verify.ask is not None  # noqa: S101 - the caller looked
    if node.verify.after_hours == 0:
        ask(turn, node.verify.ask, fix=node.fix)
        return
    hour = _set_timer(turn, turn.at + timedelta(hours=node.verify.after_hours))
    turn.say("verify_later", change=node.should_change.in_(turn.language), hour=hour)
    turn.wait_for("number", quantity=ROOM, fix=node.fix)


def promise(turn: Turn, node: Fix, start: NumberLearned) -> None:
    """Name the hour, and the number that says it works; both from how a room settles."""
    target = turn.case.latest_number(TARGET)
    turn.wait_for("number", quantity=ROOM, fix=node.fix)
    if target is None or abs(start.si - target.si) <= AT_TARGET_K:
        hour = _set_timer(turn, turn.at + timedelta(hours=max(node.verify.after_hours, LOOK_AGAIN_H)))
        turn.say("verify_later", change=node.should_change.in_(turn.language), hour=hour)
        return
    tau_h = _tau_h(turn, start.si, target.si)
    foreseen = expected_after_fix(start.si, target.si, at_least_h=node.verify.after_hours, tau_h=tau_h)
    due = _promised(turn, turn.at + timedelta(hours=foreseen.after_h))
    later_h = (due - turn.at) / timedelta(hours=1)
    foreseen = expected_after_fix(start.si, target.si, at_least_h=later_h, tau_h=tau_h)
    hour = _set_timer(turn, due)
    unit = unit_of(turn.case)
    turn.say(
        "verify_promise",
        hour=hour,
        expected=degrees(foreseen.works_c, unit),
        stays=degrees(foreseen.fails_c, unit),
    )
    advise_product(turn)


def _tau_h(turn: Turn, start_c: float, target_c: float) -> float:
    """How quickly this room settles: by its own expected fall where size and rating are known, else the typical one."""
    fall = expected_fall(turn, start_c)
    tau_h = None if fall is None else told_tau_h(fall, target_c)
    return TYPICAL_TAU_H if tau_h is None else max(tau_h, QUICKEST_TAU_H)


def _promised(turn: Turn, due: datetime) -> datetime:
    return waking_hour(next_quarter(due), turn.zone)


def _set_timer(turn: Turn, due: datetime) -> str:
    """Set the timer; the hour in words."""
    due = _promised(turn, due)
    turn.add(TimerSet(at=turn.at, timer=VERIFY, due=due, local=wall_time(due, turn.zone), zone=turn.zone))
    return hour_words(due, turn.at, turn.zone, turn.language)


def come_back(turn: Turn) -> None:
    """The promised hour has come."""
    fix = turn.case.fixes[-1] if turn.case.fixes else None
    node = turn.knowledge.fixes.get(fix.fix) if fix else None
    if node is not None and fix is not None and fix.worked is None and node.verify.ask is not None:
        ask(turn, node.verify.ask, fix=node.fix)
        return
    turn.say("verify_ask")
    turn.wait_for("number", quantity=ROOM, fix=node.fix if node else None)
    remind_later(turn)


def judge_number(turn: Turn, fix: FixProgress, now: NumberLearned) -> bool:
    """What the room's number says of the fix; true when the search goes on."""
    start = _baseline(turn, fix, now)
    target = turn.case.latest_number(TARGET)
    if at_target(turn, now):
        _held(turn, fix, now)
        return False
    if start is None:
        promise(turn, turn.knowledge.fixes[fix.fix], now)
        return False
    if target is None:
        return _judge_without_target(turn, fix, start, now)
    stall = stall_of(turn, fix, start, now, target.si)
    if stall is not None:
        go_on_from(turn, fix, stall, start, now)
        return True
    hours = max((now.read_at - start.read_at) / timedelta(hours=1), 0.0)
    tau_h = _tau_h(turn, start.si, target.si)
    share = worked_share(now.si, start_c=start.si, target_c=target.si, after_h=hours, tau_h=tau_h)
    due = settling_c(start.si, target.si, hours, tau_h)
    return _act_on(turn, fix, share, start, now, target_c=target.si, slow=now.si - due >= MOVES_K)


def _judge_without_target(turn: Turn, fix: FixProgress, start: NumberLearned, now: NumberLearned) -> bool:
    """Without a target only the direction counts: it should have fallen by two sigma of a texted reading."""
    hours = max((now.read_at - start.read_at) / timedelta(hours=1), 0.0)
    foreseen_end = (
        start.si - 8.0
    )  # a cold room that is warm enough to be complained of has about so far to fall
    return _act_on(
        turn, fix, worked_share(now.si, start_c=start.si, target_c=foreseen_end, after_h=hours), start, now
    )


def _act_on(
    turn: Turn,
    fix: FixProgress,
    share: float,
    start: NumberLearned,
    now: NumberLearned,
    *,
    target_c: float | None = None,
    slow: bool = False,
) -> bool:
    """What is done about it; `slow`: it falls, and less than it should by now."""
    unit = unit_of(turn.case)
    before, shown = degrees(start.si, unit), degrees(now.si, unit)
    unclear = FAILED_TO < share < WORKED_FROM
    promised = _promise_ahead(turn)
    if promised is not None and share < WORKED_FROM:
        turn.say("verify_early", now=shown, hour=hour_words(promised, turn.at, turn.zone, turn.language))
        turn.wait_for("number", quantity=ROOM, fix=fix.fix)
        return False
    if unclear and not (turn.has_said("verify_unclear") or turn.has_said("verify_coming")):
        hour = _set_timer(turn, turn.at + timedelta(hours=LOOK_AGAIN_H))
        falls = start.si - now.si >= MOVES_K
        turn.say("verify_coming" if falls else "verify_unclear", hour=hour, before=before, now=shown)
        turn.wait_for("number", quantity=ROOM, fix=fix.fix)
        return False
    moved = None if target_c is None else stopped_short_share(now.si, start_c=start.si, target_c=target_c)
    turn.add(FixJudged(at=turn.at, fix=fix.fix, worked=share, moved=moved))
    if share < LIKELIER_THAN_NOT:
        turn.say("verify_not_moved", before=before, now=shown)
        return True
    hour = _set_timer(turn, turn.at + timedelta(hours=LOOK_AGAIN_H if slow else HOLD_AFTER_H))
    turn.say("verify_slow" if slow else "verify_worked", before=before, now=shown, hour=hour)
    turn.wait_for("number", quantity=ROOM, fix=fix.fix)
    return False


def _promise_ahead(turn: Turn) -> datetime | None:
    """The promised hour, while it is still well ahead: a number before it can prove the fix, not condemn it."""
    timer = next((timer for timer in turn.case.timers if timer.timer == VERIFY), None)
    return timer.due if timer is not None and timer.due - turn.at > NEARLY_DUE else None


def _baseline(turn: Turn, fix: FixProgress, now: NumberLearned) -> NumberLearned | None:
    """The number from which the fix started: the last one before it was done, if fresh, else the first one after."""
    if fix.done_at is None:
        return None
    rooms = [n for n in turn.case.numbers if n.quantity == ROOM and n is not now]
    before = [n for n in rooms if timedelta(0) <= fix.done_at - n.read_at <= FRESH]
    after = [n for n in rooms if n.read_at > fix.done_at]
    if before:
        return before[-1]
    return after[0] if after else None


def _held(turn: Turn, fix: FixProgress, now: NumberLearned) -> None:
    times = turn.case.held_times + 1
    turn.add(Held(at=turn.at, times=times))
    if fix.worked is None:
        turn.add(FixJudged(at=turn.at, fix=fix.fix, worked=SURE_OF_CHECK))
    shown = degrees(now.si, unit_of(turn.case))
    if times >= HELD_ENOUGH:
        turn.say("held_closed", now=shown)
        close(turn, "held")
        return
    hour = _set_timer(turn, turn.at + timedelta(hours=HOLD_AFTER_H))
    turn.say("held_once", now=shown, hour=hour)
    turn.wait_for("number", quantity=ROOM, fix=fix.fix)


def judge_check(turn: Turn, fix: FixId, state: StateId) -> bool:
    """What a look says of the fix; true when the search goes on."""
    node = turn.knowledge.fixes[fix]
    good = state in node.verify.expect
    turn.add(FixJudged(at=turn.at, fix=fix, worked=SURE_OF_CHECK if good else 1.0 - SURE_OF_CHECK))
    if not good:
        turn.say("verify_still_there")
        return True
    turn.say("verify_gone")
    turn.say("settled_ask", options=yes_no(turn))
    turn.wait_for("resolved", fix=fix)
    return False


def remind(turn: Turn, question: str | None) -> None:
    """One reminder a question, never a second."""
    if question is not None and turn.case.state in ("asking", "fixing", "waiting"):
        turn.say("reminder", question=question)


__all__ = ["REMINDER", "VERIFY", "after_fix", "come_back", "judge_check", "judge_number", "promise", "remind"]
