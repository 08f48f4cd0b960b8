"""What outlasts a colleague's visit: an hour they promised, how the case ended, and whether it held."""

from typing import Final

from assistant.conversation.danger import yes_no
from assistant.conversation.desk_events import HeldTold
from assistant.conversation.events import (
    CaseClosed,
    DeskCalled,
    StateChanged,
    TimerDropped,
    TimerSet,
    VoiceChanged,
)
from assistant.conversation.handing_over import call_desk
from assistant.conversation.happenings import ColleagueClosed, ColleaguePromised
from assistant.conversation.hours import waking_hour, wall_time
from assistant.conversation.ids import ASSISTANT, NOBODY, TimerName
from assistant.conversation.replies import yes_or_no
from assistant.conversation.turn import Turn
from assistant.reading import Reading
from assistant.wording import hour_words
from kb.ids import CauseId, FixId

PROMISED: Final = TimerName("promised")
DID_IT_HOLD: Final = TimerName("did_it_hold")


def promise(turn: Turn, promised: ColleaguePromised) -> None:
    """Somebody at the desk will be back at that hour; where they hold the floor the customer is told."""
    due = promised.due
    turn.add(TimerSet(at=turn.at, timer=PROMISED, due=due, local=wall_time(due, turn.zone), zone=turn.zone))
    if promised.tell:
        turn.voice, turn.urgent = promised.colleague, True
        turn.say("desk_promise", hour=hour_words(due, turn.at, turn.zone, turn.language))


def keep_promise(turn: Turn) -> None:
    """They were written to: the promise is kept."""
    if any(timer.timer == PROMISED for timer in turn.case.timers):
        turn.add(TimerDropped(at=turn.at, timer=PROMISED))


def promise_is_due(turn: Turn) -> None:
    """The hour has come and nobody has written: the desk is called, the customer hears no excuse of a machine."""
    if turn.case.state == "closed":
        return
    turn.add(DeskCalled(at=turn.at, why="promised", urgency="now"))
    if turn.case.state not in ("danger", "with_person"):
        turn.add(StateChanged(at=turn.at, state="with_person"))


def close_by_colleague(turn: Turn, closed: ColleagueClosed) -> None:
    """Over, with what was wrong and what mended it; some days later they may be asked whether it held."""
    for timer in turn.case.timers:
        turn.add(TimerDropped(at=turn.at, timer=timer.timer))
    turn.add(
        CaseClosed(
            at=turn.at,
            reason="by_colleague",
            cause=CauseId(closed.cause) if closed.cause else None,
            is_new=closed.is_new,
            fix=FixId(closed.fix) if closed.fix else None,
            held=closed.held,
            colleague=closed.colleague,
        )
    )
    if closed.ask_at is not None:
        due = waking_hour(closed.ask_at, turn.zone)
        turn.add(
            TimerSet(at=turn.at, timer=DID_IT_HOLD, due=due, local=wall_time(due, turn.zone), zone=turn.zone)
        )


def ask_did_it_hold(turn: Turn) -> None:
    """Some days after the close they are asked whether it still holds, where they want such texts."""
    if turn.case.state == "closed" and turn.case.consent("follow_up"):
        _speak_again(turn)
        turn.say("did_it_hold", options=yes_no(turn))
        turn.wait_for("did_it_hold")


def hear_after_close(turn: Turn, reading: Reading) -> bool:
    """They write although the case is over; true where that answered whether it held. Nobody's words end unheard."""
    waiting = turn.case.waiting_for
    answer = yes_or_no(reading) if waiting is not None and waiting.kind == "did_it_hold" else None
    if answer is None or reading.hazards:
        reopen(turn)
        return False
    _speak_again(turn)
    turn.add(HeldTold(at=turn.at, held=answer == "yes"))
    if answer == "yes":
        turn.say("held_still")
        return True
    turn.say("came_back")
    call_desk(turn, "came_back")
    return True


def reopen(turn: Turn) -> None:
    """It goes on, with the assistant."""
    _speak_again(turn)
    turn.add(StateChanged(at=turn.at, state="asking"))


def _speak_again(turn: Turn) -> None:
    """The colleague who closed it no longer listens: the assistant does."""
    if turn.case.voice not in (ASSISTANT, NOBODY):
        turn.add(VoiceChanged(at=turn.at, voice=ASSISTANT))
