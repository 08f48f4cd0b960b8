"""What a colleague at the desk does to a case: one voice at a time, and only a colleague reopens after a danger."""

from typing import Final

from assistant.conversation.after_close import keep_promise
from assistant.conversation.danger import ask_made_safe, clear
from assistant.conversation.deciding import believe, go_on, speaks_against
from assistant.conversation.desk_events import ColleagueSpoke
from assistant.conversation.events import (
    DeskCalled,
    FactLearned,
    Said,
    StateChanged,
    TimerDropped,
    VoiceChanged,
)
from assistant.conversation.happenings import ColleagueLearned, ColleagueWrote
from assistant.conversation.ids import ASSISTANT, SentenceId
from assistant.conversation.pending import put_again
from assistant.conversation.turn import Turn
from kb.compiling import compile_

COLLEAGUE_RIGHT: Final = 0.98
"""A colleague hears a voice and can ask again (common practice, no source)."""


def take_over(turn: Turn, colleague: str) -> None:
    """The colleague speaks from now on; the assistant reads on, and speaks only in danger."""
    turn.add(VoiceChanged(at=turn.at, voice=colleague))
    if turn.case.state != "danger":
        turn.add(StateChanged(at=turn.at, state="with_person"))


def wrote(turn: Turn, message: ColleagueWrote) -> None:
    """The colleague's words go out as theirs; they are kept beside the log, and a promise to write is kept."""
    keep_promise(turn)
    if turn.case.waiting_for is not None:
        turn.wait_for(
            "nothing"
        )  # they may have asked something else: a bare "yes" must not answer our own question
    turn.add(ColleagueSpoke(at=turn.at, colleague=message.colleague, message=message.message))
    turn.add(
        Said(
            at=turn.at,
            sentence=SentenceId("colleague"),
            language=turn.language,
            text="",
            urgent=True,
            voice=message.colleague,
            message=message.message,
        )
    )


def learn(turn: Turn, learnt: ColleagueLearned) -> None:
    """A colleague's word on a finding takes the place of what was read; belief follows, and nothing is said."""
    finding = turn.knowledge.findings[learnt.finding]
    rest = (1.0 - COLLEAGUE_RIGHT) / max(len(finding.states) - 1, 1)
    turn.add(
        FactLearned(
            at=turn.at,
            finding=learnt.finding,
            state=learnt.state,
            likelihood=tuple(
                (state, COLLEAGUE_RIGHT if state == learnt.state else rest) for state in finding.states
            ),
            confidence=COLLEAGUE_RIGHT,
            source="colleague",
            epoch=turn.case.epoch,
            replaces=True,
        )
    )
    believe(turn, compile_(turn.knowledge))


def hand_back(turn: Turn) -> None:
    """The assistant speaks again and goes on where the facts stand; a danger that stands keeps it silent."""
    turn.add(VoiceChanged(at=turn.at, voice=ASSISTANT))
    if turn.case.state == "danger":
        return
    waiting, fix = turn.case.waiting_for, turn.case.fix_under_way
    if waiting is not None and waiting.kind == "done" and fix is not None and not speaks_against(turn):
        turn.add(StateChanged(at=turn.at, state="fixing"))
        put_again(turn)  # the fix that was under way goes on where it stopped
        return
    turn.add(StateChanged(at=turn.at, state="asking"))
    go_on(turn)


def reopen(turn: Turn, colleague: str) -> None:
    """After a danger: repair may go on, says a person; the customer is asked first whether it is made safe."""
    dangers = [hazard.hazard for hazard in turn.case.hazards if hazard.level == "danger"]
    for hazard in turn.case.hazards:
        clear(turn, hazard.hazard, colleague)
    for timer in turn.case.timers:
        turn.add(TimerDropped(at=turn.at, timer=timer.timer))
    turn.add(StateChanged(at=turn.at, state="asking"))
    if turn.case.voice == ASSISTANT:
        turn.say("reopened")
        if dangers:
            ask_made_safe(turn, dangers[-1])
        else:
            go_on(turn)


def own_up(turn: Turn) -> None:
    """Something failed on our side: an honest sentence, and the case for a person."""
    turn.add(DeskCalled(at=turn.at, why="fault", urgency="today"))
    turn.say("fault")
    if turn.case.state not in ("danger", "closed"):
        turn.add(StateChanged(at=turn.at, state="with_person"))
