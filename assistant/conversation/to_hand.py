"""Sentences to hand: a colleague picks one by its id, and it goes out in the customer's language, with its caution."""

from typing import Final

from assistant.conversation.after_close import keep_promise
from assistant.conversation.asking import options_of
from assistant.conversation.events import Asked
from assistant.conversation.happenings import ColleagueSaid
from assistant.conversation.turn import Turn
from kb.ids import CheckId, FixId, HazardId

OURS: Final = (
    "desk_looking", "desk_call_you", "desk_call_us", "desk_photo", "desk_number", "desk_part_ordered", "desk_trade_called",
    "desk_power_out", "desk_power_back", "desk_glad", "product_first",
)  # fmt: skip
"""Our own sentences that a colleague may send; none of them needs a value."""


def said(turn: Turn, said: ColleagueSaid) -> None:
    """The sentence goes out as the colleague's; a question is open until it is answered."""
    keep_promise(turn)
    turn.voice, turn.urgent = said.colleague, True
    kind, _, name = said.sentence.partition(":")
    match kind:
        case "ask":
            _ask(turn, CheckId(name))
        case "fix":
            _tell_steps(turn, FixId(name))
        case "hazard":
            hazard = turn.knowledge.hazards[HazardId(name)]
            turn.say_text(said.sentence, hazard.first.in_(turn.language), alone=True)
        case _:
            turn.say(said.sentence)


def _ask(turn: Turn, check: CheckId) -> None:
    node = turn.knowledge.checks[check]
    if node.caution is not None:
        turn.say_text(f"caution:{check}", node.caution.in_(turn.language))
    again = turn.case.times_asked(check) > 0
    turn.add(Asked(at=turn.at, check=check, gain_bits=0.0, again=again))
    text = node.again if again else node.ask
    turn.say_text(f"ask:{check}", text.in_(turn.language), options=options_of(turn, node))
    turn.wait_for("check", check=check)


def _tell_steps(turn: Turn, fix: FixId) -> None:
    node = turn.knowledge.fixes[fix]
    for number, step in enumerate(node.steps, start=1):
        caution = f"{step.caution.in_(turn.language)} " if step.caution else ""
        begins = f"{number}) " if len(node.steps) > 1 else ""
        turn.say_text(f"fix:{fix}:{number}", f"{begins}{caution}{step.in_(turn.language)}")
