"""One fix at a time: why, then its steps each after its caution, in as many texts as they need, then "done"."""

from collections.abc import Sequence
from typing import Final

from assistant.conversation.asking import remind_later
from assistant.conversation.danger import yes_no
from assistant.conversation.events import FixDeclined, FixDone, FixOffered, StateChanged, StepGiven
from assistant.conversation.following_up import after_fix
from assistant.conversation.handing_over import hand_to_desk, hand_to_trade
from assistant.conversation.turn import Turn
from kb.gsm7 import fold_for_sms, segments
from kb.ids import CauseId, FixId
from kb.schema import Fix, Step

SURE_FROM: Final = 0.8
LIKELY_FROM: Final = 0.5
PARTS_AT_ONCE: Final = 4
"""SMS parts of steps in one go; the rest comes on "next"."""


def offer(turn: Turn, fix: FixId, cause: CauseId, probability: float) -> None:
    """Say what it probably is, and the one thing to do about it."""
    node = turn.knowledge.fixes[fix]
    turn.add(FixOffered(at=turn.at, fix=fix, cause=cause, probability=probability))
    _say_cause(turn, node, cause, probability)
    match node.who:
        case "customer":
            turn.say("fix_intro", fix=node.means.in_(turn.language))
            turn.add(StateChanged(at=turn.at, state="fixing"))
            give_steps(turn, node, upto=0)
        case "desk":
            hand_to_desk(turn, node, cause)
        case "nobody":
            _explain(turn, node)
        case _:
            hand_to_trade(turn, node, cause)


def _say_cause(turn: Turn, node: Fix, cause: CauseId, probability: float) -> None:
    words = turn.knowledge.causes[cause].means.in_(turn.language)
    if node.who == "nobody":
        turn.say("explain_intro", cause=words)
    elif probability >= SURE_FROM:
        turn.say("cause_sure", cause=words)
    else:
        turn.say("cause_likely" if probability >= LIKELY_FROM else "cause_maybe", cause=words)


def _explain(turn: Turn, node: Fix) -> None:
    for number, step in enumerate(node.steps, start=1):
        turn.say_text(f"fix:{node.fix}:{number}", _step_words(turn, step, None))
    turn.say("explain_ask", options=yes_no(turn))
    turn.wait_for("resolved", fix=node.fix)
    remind_later(turn)


def give_steps(turn: Turn, node: Fix, upto: int) -> None:
    """The steps after the first `upto`, as many as go out at once; then what to write back."""
    many, first = len(node.steps) > 1, upto
    texts = [
        _step_words(turn, step, number if many else None) for number, step in enumerate(node.steps, start=1)
    ]
    upto = _as_many_as_fit(texts, first)
    last = upto == len(node.steps)
    if first > 0 or not last:
        turn.say("fix_part", first=str(first + 1), last=str(upto), total=str(len(node.steps)))
    for number in range(first + 1, upto + 1):
        turn.say_text(f"fix:{node.fix}:{number}", texts[number - 1])
    turn.add(StepGiven(at=turn.at, fix=node.fix, upto=upto, last=last))
    turn.say("fix_done_ask" if last else "fix_next_part")
    turn.wait_for("done", fix=node.fix)
    remind_later(turn)


def _as_many_as_fit(texts: Sequence[str], upto: int) -> int:
    """How far the steps after the first `upto` go in one go: one at least, and no more SMS parts than that takes."""
    parts, first = 0, upto
    for number in range(first + 1, len(texts) + 1):
        parts += segments(fold_for_sms(texts[number - 1]))
        if parts > PARTS_AT_ONCE and number > first + 1:
            break
        upto = number
    return upto


def has_more(turn: Turn, fix: FixId) -> bool:
    """Some of the steps are still to be sent."""
    progress = turn.case.fix_under_way
    return (
        progress is not None and progress.fix == fix and progress.upto < len(turn.knowledge.fixes[fix].steps)
    )


def _step_words(turn: Turn, step: Step, number: int | None) -> str:
    caution = f"{step.caution.in_(turn.language)} " if step.caution else ""
    begins = "" if number is None else f"{number}) "
    return f"{begins}{caution}{step.in_(turn.language)}"


def next_part(turn: Turn, fix: FixId) -> None:
    """The rest of the steps, or that there is none."""
    progress = turn.case.fix_under_way
    if progress is not None and has_more(turn, fix):
        give_steps(turn, turn.knowledge.fixes[fix], progress.upto)
    else:
        turn.say("next_nothing")
        turn.say("fix_done_ask")
        turn.wait_for("done", fix=fix)


def done(turn: Turn, fix: FixId) -> None:
    """The customer has done it: a new epoch begins, and the hour is set at which we look whether it helped."""
    node = turn.knowledge.fixes[fix]
    turn.add(FixDone(at=turn.at, fix=fix, touches=node.touches))
    after_fix(turn, node)


def decline(turn: Turn, fix: FixId) -> None:
    """Not this one: it will not be offered again."""
    turn.add(FixDeclined(at=turn.at, fix=fix))
    turn.say("fix_declined")
