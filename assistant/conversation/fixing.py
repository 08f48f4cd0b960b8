"""One fix at a time: why, then its steps each after its caution, in as many texts as they need, then "done"."""

from typing import Final

from assistant.conversation.asking import remind_later
from assistant.conversation.danger import yes_no
from assistant.conversation.events import FixDeclined, FixOffered, StateChanged, StepGiven
from assistant.conversation.handing_over import hand_to_desk, hand_to_trade
from assistant.conversation.turn import Turn
from assistant.wording import variant
from kb.ids import CauseId, FixId
from kb.schema import Fix, Step

SURE_FROM: Final = 0.8
LIKELY_FROM: Final = 0.5
STEPS_AT_ONCE: Final = 2
"""A fix of more steps comes one step at a time: nobody reads four texts with wet hands."""


def offer(turn: Turn, fix: FixId, cause: CauseId, probability: float, *, told: str | None = None) -> None:
    """Say what it probably is, and the one thing to do about it; `told`: a fact of theirs that is reason enough."""
    node = turn.knowledge.fixes[fix]
    turn.add(FixOffered(at=turn.at, fix=fix, cause=cause, probability=probability))
    if told is None:
        _say_cause(turn, node, cause, probability)
    else:
        turn.say("cause_told", fact=told)
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
        turn.say_text(f"fix:{node.fix}:{number}", _step_words(turn, step, 1, 1))
    turn.say("explain_ask", options=yes_no(turn))
    turn.wait_for("resolved", fix=node.fix)
    remind_later(turn)


def give_steps(turn: Turn, node: Fix, upto: int) -> None:
    """The next step after the first `upto`, or all of a short fix; then what to write back."""
    total = len(node.steps)
    at_once = total if total <= STEPS_AT_ONCE else 1
    for number, step in enumerate(node.steps[upto : upto + at_once], start=upto + 1):
        turn.say_text(f"fix:{node.fix}:{number}", _step_words(turn, step, number, total))
    upto = min(upto + at_once, total)
    last = upto == total
    turn.add(StepGiven(at=turn.at, fix=node.fix, upto=upto, last=last))
    turn.say("fix_done_ask" if last else "fix_next_part")
    turn.wait_for("done", fix=node.fix)
    remind_later(turn)


def has_more(turn: Turn, fix: FixId) -> bool:
    """Some of the steps are still to be sent."""
    progress = turn.case.fix_under_way
    return (
        progress is not None and progress.fix == fix and progress.upto < len(turn.knowledge.fixes[fix].steps)
    )


def _step_words(turn: Turn, step: Step, number: int, total: int) -> str:
    caution = f"{step.caution.in_(turn.language)} " if step.caution else ""
    begins = f"{number}) "
    if total == 1:
        begins = ""
    elif total > STEPS_AT_ONCE:
        begins = variant("fix_step", turn.language, 0, number=str(number), total=str(total)) + " "
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


def decline(turn: Turn, fix: FixId) -> None:
    """Not this one: it will not be offered again."""
    turn.add(FixDeclined(at=turn.at, fix=fix))
    turn.say("fix_declined")
