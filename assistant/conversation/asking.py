"""Putting one question: its caution first, in other words the second time, with options where it has states."""

from datetime import timedelta
from typing import Final

from assistant.conversation.events import Asked, StateChanged, TimerDropped, TimerSet
from assistant.conversation.hours import waking_hour, wall_time
from assistant.conversation.ids import TimerName
from assistant.conversation.turn import Turn
from assistant.wording import variant
from kb.ids import CauseId, CheckId, FixId, StateId
from kb.schema import Check

REMINDER: Final = TimerName("reminder")
DORMANT: Final = TimerName("dormant")
REMIND_AFTER: Final = timedelta(days=1)
DORMANT_AFTER: Final = timedelta(days=3)


def ask(
    turn: Turn,
    check: CheckId,
    *,
    gain_bits: float = 0.0,
    splits: tuple[tuple[CauseId, StateId], ...] = (),
    fix: FixId | None = None,
    again: bool = False,
) -> None:
    """Put the check to the customer; with `fix`, its answer says whether that fix worked.

    With `again` it is put in other words though it was answered, or told before it was ever asked.
    """
    node = turn.knowledge.checks[check]
    times = turn.case.times_asked(check)
    just_put = bool(turn.case.asked) and turn.case.asked[-1].check == check
    if node.caution is not None and not just_put:
        turn.say_text(f"caution:{check}", node.caution.in_(turn.language))
    was_hard = _was_hard(turn)
    turn.add(Asked(at=turn.at, check=check, gain_bits=gain_bits, again=again or times > 0, splits=splits))
    if times <= 1:
        text = node.again if again or times else node.ask
        words = text.in_(turn.language)
        if _is_hard(node) and not was_hard:
            words = f"{words} {variant('may_be_unsure', turn.language, 0)}"
        turn.say_text(f"ask:{check}", words, options=options_of(turn, node))
    else:
        question = node.again if times % 2 else node.ask
        turn.say("question_stands", question=question.in_(turn.language), options=options_of(turn, node))
    turn.wait_for("check", check=check, fix=fix)
    if turn.case.state != "asking" and fix is None:
        turn.add(StateChanged(at=turn.at, state="asking"))
    remind_later(turn)


def _is_hard(node: Check) -> bool:
    """It sends them somewhere to look, and asks for no number."""
    return node.measures is None and node.effort.where != "anywhere"


def _was_hard(turn: Turn) -> bool:
    checks = turn.knowledge.checks
    return any(_is_hard(checks[asked.check]) for asked in turn.case.asked if asked.check in checks)


def options_of(turn: Turn, node: Check) -> tuple[tuple[str, str], ...]:
    """(state, label) as offered; none where a number is asked for."""
    if node.measures is not None:
        return ()
    states = turn.knowledge.findings[node.finds].states
    offered = node.offers or tuple(states)
    return tuple((str(state), states[state].in_(turn.language)[0]) for state in offered)


def question_words(turn: Turn, check: CheckId) -> str:
    """The question as it was last put."""
    node = turn.knowledge.checks[check]
    text = node.ask if turn.case.times_asked(check) <= 1 else node.again
    return text.in_(turn.language)


def remind_later(turn: Turn) -> None:
    """One reminder a day after a question that stays unanswered, and dormant after three."""
    for timer, after in ((REMINDER, REMIND_AFTER), (DORMANT, DORMANT_AFTER)):
        due = waking_hour(turn.at + after, turn.zone)
        turn.add(TimerSet(at=turn.at, timer=timer, due=due, local=wall_time(due, turn.zone), zone=turn.zone))


def drop_reminders(turn: Turn) -> None:
    """They wrote: nobody need be reminded, and the case does not fall asleep."""
    for timer in turn.case.timers:
        if timer.timer in (REMINDER, DORMANT):
            turn.add(TimerDropped(at=turn.at, timer=timer.timer))
