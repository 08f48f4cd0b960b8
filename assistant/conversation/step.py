"""The heart: the events that follow when something happens to a case. Pure: no clock, no I/O, no randomness."""

from typing import assert_never

from assistant.conversation import after_close, desk_side, following_up, to_hand, watching
from assistant.conversation.answering import hear
from assistant.conversation.asking import DORMANT, REMINDER, question_words
from assistant.conversation.case import Case
from assistant.conversation.consenting import CLEANING, LATE, PROMISES, ask_leave, remind_of_cleaning
from assistant.conversation.danger import DANGER_AGAIN, call_again
from assistant.conversation.events import Event, TimerDropped, TimerSet
from assistant.conversation.handing_over import close
from assistant.conversation.happenings import (
    CaseBegun,
    ColleagueClosed,
    ColleagueHandedBack,
    ColleagueLearned,
    ColleaguePromised,
    ColleagueReopened,
    ColleagueSaid,
    ColleagueTookOver,
    ColleagueWrote,
    Happening,
    MessageHeard,
    PhotoLost,
    StepFailed,
    TimerDue,
)
from assistant.conversation.ids import ASSISTANT
from assistant.conversation.moving import move
from assistant.conversation.opening import begin
from assistant.conversation.photos import tell_lost
from assistant.conversation.turn import Turn
from kb.knowledge import Knowledge


def step(  # noqa: C901, PLR0912 - one arm a happening
    knowledge: Knowledge, case: Case, happening: Happening
) -> tuple[Event, ...]:
    """The events that follow when `happening` happens to `case`: the same three give the same events, always."""
    turn = Turn(knowledge=knowledge, case=case, at=happening.at)
    if case.edition not in (None, knowledge.edition):
        turn.add(move(knowledge, case, happening.at))
    match happening:
        case CaseBegun():
            begin(turn, happening)
        case MessageHeard():
            hear(turn, happening)
        case PhotoLost():
            tell_lost(turn, happening)
        case TimerDue():
            _come_due(turn, happening)
        case ColleagueTookOver():
            desk_side.take_over(turn, happening.colleague)
        case ColleagueWrote():
            desk_side.wrote(turn, happening)
        case ColleagueLearned():
            desk_side.learn(turn, happening)
        case ColleagueSaid():
            to_hand.said(turn, happening)
        case ColleaguePromised():
            after_close.promise(turn, happening)
        case ColleagueHandedBack():
            desk_side.hand_back(turn)
        case ColleagueReopened():
            desk_side.reopen(turn, happening.colleague)
        case ColleagueClosed():
            after_close.close_by_colleague(turn, happening)
        case StepFailed():
            desk_side.own_up(turn)
        case _:
            assert_never(happening)
    ask_leave(turn)
    return turn.finish()


def _come_due(turn: Turn, due: TimerDue) -> None:
    timer = next((timer for timer in turn.case.timers if timer.timer == due.timer), None)
    if timer is None:
        return
    if due.timer == DANGER_AGAIN:
        call_again(turn)
        return
    turn.add(TimerDropped(at=turn.at, timer=due.timer))
    if due.timer == after_close.PROMISED:
        after_close.promise_is_due(turn)
    elif due.timer == after_close.DID_IT_HOLD:
        after_close.ask_did_it_hold(turn)
    elif due.timer == CLEANING:
        remind_of_cleaning(turn)
    elif turn.case.voice == ASSISTANT and turn.case.state not in ("danger", "closed"):
        _speak_unasked(turn, timer)


def _speak_unasked(turn: Turn, timer: TimerSet) -> None:
    """What the assistant says at an hour of its own; nothing where they did not say yes to it."""
    agreed = turn.case.consent("follow_up")
    if timer.timer in PROMISES and agreed:
        turn.urgent = turn.at - timer.due <= LATE  # it is the hour that they agreed to
        if timer.timer == following_up.VERIFY:
            following_up.come_back(turn)
        else:
            watching.look_again(turn)
    elif timer.timer == REMINDER and agreed is not False:
        following_up.remind(turn, _open_question(turn))
    elif timer.timer == DORMANT:
        close(turn, "dormant")


def _open_question(turn: Turn) -> str | None:
    waiting = turn.case.waiting_for
    if waiting is not None and waiting.check is not None:
        return question_words(turn, waiting.check)
    said = [text for _, text in turn.case.said if text]
    return said[-1] if waiting is not None and said and len(said[-1]) < 160 else None  # noqa: PLR2004 - one SMS part
