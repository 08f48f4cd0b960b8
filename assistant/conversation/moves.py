"""Moves in the talk itself: why, how, skip, back, start over, a person, another language.

`ALWAYS` moves are made whatever else a message says; the others only where it told us nothing.
"""

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Final, Literal

from assistant.conversation import fixing
from assistant.conversation.deciding import go_on
from assistant.conversation.events import (
    CheckLaidAside,
    FactTakenBack,
    LanguageChosen,
    StartedOver,
    StateChanged,
    WaitingFor,
)
from assistant.conversation.handing_over import call_desk
from assistant.conversation.known import all_in_words
from assistant.conversation.pending import put_again
from assistant.conversation.planning import is_planning
from assistant.conversation.reasons import reasons_for, why_check
from assistant.conversation.room_readings import ROOM
from assistant.conversation.turn import Turn
from assistant.conversation.watching import begin_watch
from assistant.reading import TAKE, Reading
from assistant.wording import sentence_list
from kb.ids import Language

Handle = Callable[[Turn], None]
Reason = Literal["unsure", "cannot", "skipped"]


def make_moves(turn: Turn, reading: Reading, *, learned: bool) -> bool:
    """Answer the message's moves; true when the turn is over. `learned`: the message also told us something."""
    for move in reading.moves:
        if move in ALWAYS:
            ALWAYS[move](turn)
            return True
    if learned or (_answers(turn, reading) and not only_moves(reading)):
        return False
    for move in reading.moves:
        if move in WHEN_NOTHING_ELSE:
            WHEN_NOTHING_ELSE[move](turn)
            return True
    return False


def _answers(turn: Turn, reading: Reading) -> bool:
    """Something was answered: not knowing answers a question, but not "what is wrong?"."""
    if reading.answer.kind in ("unsure", "cannot"):
        return turn.case.waiting_for is not None and turn.case.waiting_for.kind != "opening"
    return reading.answer.kind != "none"


def only_moves(reading: Reading) -> bool:
    """A move and nothing surely read beside it: "go back" is no answer, whatever it resembles."""
    if not reading.moves or reading.quantities or reading.hazards or reading.answer.confidence >= TAKE:
        return False
    surest = [said.confidence for said in reading.findings] + [said.confidence for said in reading.complaints]
    return not any(confidence >= TAKE for confidence in surest)


def _person(turn: Turn) -> None:
    call_desk(turn, "asked_for_a_person")


def _start_over(turn: Turn) -> None:
    turn.add(StartedOver(at=turn.at))
    turn.add(StateChanged(at=turn.at, state="asking"))
    turn.say("start_over_ok")
    turn.wait_for("opening")


def _speak(language: Language) -> Handle:
    def switch(turn: Turn) -> None:
        turn.add(LanguageChosen(at=turn.at, language=language))
        turn.say("language_now")
        put_again(turn)

    return switch


def _why(turn: Turn) -> None:
    waiting = turn.case.waiting_for
    if waiting is None or waiting.kind in ("opening", "which_unit", "say_back", "hazard_done", "hazard_sign"):
        turn.say("why_nothing_open")
    elif waiting.kind == "check" and waiting.check is not None:
        why_check(turn, waiting.check)
    elif waiting.kind == "number":
        turn.say("why_number" if waiting.fix is not None else "why_watch")
    else:
        _why_fix(turn)
    put_again(turn)


def _why_fix(turn: Turn) -> None:
    progress = turn.case.fixes[-1] if turn.case.fixes else None
    facts = all_in_words(turn.knowledge, turn.case, turn.at, turn.language)
    if progress is None or not facts:
        turn.say("why_nothing_open")
        return
    cause = turn.knowledge.causes[progress.cause].means.in_(turn.language)
    told = reasons_for(turn, progress.cause) or facts[:4]
    turn.say("why_fix", facts=sentence_list(told, turn.language), cause=cause)


def _how(turn: Turn) -> None:
    waiting = turn.case.waiting_for
    if waiting is not None and waiting.kind == "check" and waiting.check is not None:
        place = f"how:{waiting.check}"
        if turn.case.times_said(place):
            turn.say("how_more")
        else:
            turn.say_text(place, turn.knowledge.checks[waiting.check].how.in_(turn.language))
            put_again(turn)
    elif waiting is not None and waiting.kind == "number":
        turn.say("how_number")
    elif waiting is not None and waiting.kind == "done":
        turn.say("how_fix")
    else:
        turn.say("how_more")


def _asked_in_search(turn: Turn, waiting: WaitingFor) -> bool:
    """A number that the search wanted, not one that a fix or a watch was promised: there is another way."""
    return (
        waiting.kind == "number"
        and waiting.fix is None
        and turn.case.state == "asking"
        and turn.case.watch is None
    )


def lay_aside(reason: Reason, sentence: str) -> Handle:
    """Leave the open question and go on without it; a fix that can't be done is declined."""

    def leave(turn: Turn) -> None:
        waiting = turn.case.waiting_for
        if waiting is not None and waiting.kind == "done" and waiting.fix is not None and reason != "unsure":
            fixing.decline(turn, waiting.fix)
            go_on(turn)
            return
        if waiting is not None and waiting.kind == "number" and is_planning(turn.case):
            turn.say(sentence)
            turn.wait_for("nothing")
            go_on(turn)
            return
        if waiting is not None and (waiting.kind == "opening" or _asked_in_search(turn, waiting)):
            turn.say(sentence)
            turn.wait_for("nothing")
            go_on(turn, whatever_is_known=True)
            return
        if waiting is None or waiting.kind not in ("check", "say_back"):
            turn.say(sentence)
            put_again(turn)
            return
        check = waiting.check
        if check is not None:
            turn.add(CheckLaidAside(at=turn.at, check=check, reason=reason))
        turn.say(sentence)
        go_on(turn)

    return leave


def _back(turn: Turn) -> None:
    answered = [fact for fact in turn.case.facts if fact.check is not None and fact.epoch == turn.case.epoch]
    if not answered:
        turn.say("back_none")
        put_again(turn)
        return
    fact = answered[-1]
    assert fact.check is not None  # noqa: S101 - filtered above
    turn.add(FactTakenBack(at=turn.at, finding=fact.finding))
    turn.say("back_ok")
    turn.add(WaitingFor(at=turn.at, kind="check", check=fact.check))
    put_again(turn)


def _next(turn: Turn) -> None:
    waiting = turn.case.waiting_for
    if waiting is not None and waiting.kind == "done" and waiting.fix is not None:
        fixing.next_part(turn, waiting.fix)
    elif turn.case.state == "with_person":
        turn.say("go_on_ok")
        go_on(turn)
    elif waiting is None:
        go_on(turn)
    else:
        turn.say("next_nothing")
        put_again(turn)


def _pause(turn: Turn) -> None:
    turn.say("pause_ok")


def _greeting(turn: Turn) -> None:
    turn.say("greeting")
    if turn.case.waiting_for is None and not turn.case.asked:
        turn.say("opening_ask")
        turn.wait_for("opening")
    else:
        put_again(turn)


def _thanks(turn: Turn) -> None:
    turn.say("thanks")


def _goodbye(turn: Turn) -> None:
    turn.say("goodbye")


def _off_topic(turn: Turn) -> None:
    turn.say("off_topic")
    put_again(turn)


def _fixed(turn: Turn) -> None:
    """They say that it works: prove it with a number, if there is one to be had."""
    turn.say("number_first")
    turn.wait_for("number", quantity=ROOM, fix=turn.case.fixes[-1].fix if turn.case.fixes else None)


def _holds(turn: Turn) -> None:
    """They say that the room is well again: watched until a number has shown it twice."""
    fix = turn.case.fixes[-1] if turn.case.fixes else None
    if fix is not None and fix.done_at is not None:
        _fixed(turn)
    elif turn.case.watch is None:
        turn.say("holds_good")
        begin_watch(turn)
    else:
        turn.say("number_first")


def _give_up(turn: Turn) -> None:
    call_desk(turn, "asked_for_a_person")


ALWAYS: Final[Mapping[str, Handle]] = MappingProxyType(
    {
        "person": _person,
        "start_over": _start_over,
        "english": _speak("en"),
        "spanish": _speak("es"),
        "give_up": _give_up,
    }
)
WHEN_NOTHING_ELSE: Final[Mapping[str, Handle]] = MappingProxyType(
    {
        "why": _why,
        "how": _how,
        "cannot": lay_aside("cannot", "cannot_ok"),
        "unsure": lay_aside("unsure", "unsure_ok"),
        "skip": lay_aside("skipped", "skip_ok"),
        "back": _back,
        "next": _next,
        "pause": _pause,
        "repeat": put_again,
        "is_it_fixed": _fixed,
        "holds": _holds,
        "thanks": _thanks,
        "goodbye": _goodbye,
        "greeting": _greeting,
        "off_topic": _off_topic,
    }
)
"""In the order in which they are looked for: a message with "thanks, but how?" asks how."""
