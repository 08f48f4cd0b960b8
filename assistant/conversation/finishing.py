"""The reply while a fix is under way: its next step, that it is done, or that it cannot be done."""

from datetime import timedelta
from typing import Final

from assistant.conversation import fixing
from assistant.conversation.asking import remind_later
from assistant.conversation.deciding import go_on
from assistant.conversation.events import FixDone, StateChanged, WaitingFor
from assistant.conversation.following_up import after_fix, judge_number
from assistant.conversation.hearing import take_in
from assistant.conversation.ids import MessageId
from assistant.conversation.known import current_states
from assistant.conversation.moves import lay_aside
from assistant.conversation.pending import UNITS
from assistant.conversation.product_clock import run_clock
from assistant.conversation.room_readings import ROOM, TARGET
from assistant.conversation.stalling import MOVES_K
from assistant.conversation.turn import Turn
from assistant.reading import SAY_BACK, Reading
from assistant.wording import bare
from kb.ids import FixId

HAVE_DONE_IT: Final = timedelta(hours=1)
"""A number that has moved so long after the steps were sent tells that they were done (common practice, no source)."""


def to_done(turn: Turn, waiting: WaitingFor, reading: Reading, message: MessageId) -> bool:
    """Take the reply; true when everything that follows has been said."""
    fix = waiting.fix
    if fix is None:
        return False
    moves = set(reading.moves)
    number = any(one.quantity == ROOM and one.when == "now" for one in reading.quantities)
    if _tells_of_done(turn, fix, reading) or "holds" in moves or (number and "done" in moves):
        finish(turn, fix, reading, message, well="holds" in moves)
        return True
    if "next" in moves or moves & {"done", "yes"}:
        if fixing.has_more(turn, fix) or "next" in moves:
            fixing.next_part(turn, fix)
        else:
            finish(turn, fix, reading, message)
        return True
    if "cannot" in moves or reading.answer.kind == "cannot":
        lay_aside("cannot", "cannot_ok")(turn)
        return True
    if reading.answer.kind == "unsure":
        turn.say("how_fix")
        return True
    return False


def finish(turn: Turn, fix: FixId, reading: Reading, message: MessageId, *, well: bool = False) -> None:
    """The customer has done it: a new epoch begins, and the hour is set at which we look whether it helped.

    What the same text tells besides is of the new epoch: a number in it is what the room shows now. `well`: they say
    that all is well again, and only a new number shows it.
    """
    node = turn.knowledge.fixes[fix]
    turn.add(FixDone(at=turn.at, fix=fix, touches=node.touches))
    taken = take_in(turn, reading, message)
    run_clock(turn)
    if taken.bare_number is not None and taken.bare_number.quantity == ROOM:
        turn.say("which_unit", value=bare(taken.bare_number.value), options=UNITS)
        turn.wait_for("which_unit", quantity=ROOM, value=taken.bare_number.value, fix=fix)
        return
    if well and ROOM not in taken.numbers:
        turn.add(StateChanged(at=turn.at, state="waiting"))
        turn.say("number_first")
        turn.wait_for("number", quantity=ROOM, fix=fix)
        remind_later(turn)
        return
    after_fix(turn, node)


def seems_done(turn: Turn) -> bool:
    """A number that tells of a fix nobody said was done: taken so, and judged; true when the turn is over."""
    waiting, number = turn.case.waiting_for, turn.case.latest_number(ROOM)
    offered = turn.case.fix_under_way
    if waiting is None or waiting.kind != "done" or number is None or offered is None or waiting.fix is None:
        return False
    before = [n for n in turn.case.numbers if n.quantity == ROOM and n.read_at <= offered.offered_at]
    if number.read_at - offered.offered_at < HAVE_DONE_IT or not before:
        return False
    target = turn.case.latest_number(TARGET)
    start = before[-1]
    if start.si - number.si < MOVES_K or (target is not None and start.si <= target.si):
        return False
    node = turn.knowledge.fixes[waiting.fix]
    turn.add(FixDone(at=turn.at, fix=waiting.fix, touches=node.touches, since=offered.offered_at))
    turn.say("taken_as_done")
    if judge_number(turn, turn.case.fixes[-1], number):
        go_on(turn)
    return True


def _tells_of_done(turn: Turn, fix: FixId, reading: Reading) -> bool:
    """What the fix was to mend is as it should be: "cleaned it" is as good as "done"."""
    touches = turn.knowledge.fixes[fix].touches
    known = current_states(turn.knowledge, turn.case, turn.at)
    return any(
        said.state == turn.knowledge.findings[said.finding].normal
        and said.finding in touches
        and known.get(said.finding) not in (None, said.state)
        for said in reading.findings
        if said.when == "now" and said.confidence >= SAY_BACK
    )
