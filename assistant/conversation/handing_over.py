"""Handing a case to a person: when they look, what they get, what the customer does meanwhile."""

from typing import Final, Literal

from assistant.conversation.events import CaseClosed, DeskCalled, StateChanged
from assistant.conversation.hours import desk_from
from assistant.conversation.known import all_in_words, current_states
from assistant.conversation.turn import Turn
from assistant.wording import hour_words, sentence_list
from kb.ids import CauseId, FixId
from kb.schema import Fix

Why = Literal[
    "danger", "asked_for_a_person", "licensed_trade", "part", "out_of_questions", "planning", "other_equipment",
    "not_understood", "fault", "food", "no_change", "desk_work", "promised", "came_back",
]  # fmt: skip

MOST_FACTS: Final = 8
WARM_LEVELS: Final = ("little_above", "far_above", "near_unit_lowest")


def call_desk(
    turn: Turn, why: Why, *, cause: CauseId | None = None, fix: FixId | None = None, summary: bool = True
) -> None:
    """Put the case before a person, and say when they look and what they get."""
    urgency: Literal["now", "today", "next"] = "today" if product_may_spoil(turn) else "next"
    turn.add(DeskCalled(at=turn.at, why=why, urgency=urgency, cause=cause, fix=fix))
    opens = desk_from(turn.case, turn.at)
    if opens is None:
        turn.say("person_now")
    else:
        turn.say("person_later", hour=hour_words(opens, turn.at, turn.zone, turn.language))
    if summary:
        say_summary(turn)
    advise_product(turn)
    turn.wait_for("nothing")
    turn.add(StateChanged(at=turn.at, state="with_person"))


def say_summary(turn: Turn) -> None:
    """What goes to the person, so that nothing has to be told twice."""
    facts = all_in_words(turn.knowledge, turn.case, turn.at, turn.language)
    if facts:
        turn.say("summary", facts=sentence_list(facts[:MOST_FACTS], turn.language))


def hand_to_trade(turn: Turn, fix: Fix, cause: CauseId) -> None:
    """Licensed work is never walked through: the customer learns who does it and what to do until then."""
    turn.say("trade_electrician" if fix.who == "electrician" else "trade_refrigeration")
    say_meanwhile(turn, fix)
    turn.say("trade_sheet")
    call_desk(turn, "licensed_trade", cause=cause, fix=fix.fix)


def hand_to_desk(turn: Turn, fix: Fix, cause: CauseId) -> None:
    """Work that a colleague does with the customer: a part, a review of the room."""
    turn.say("desk_fix", fix=fix.means.in_(turn.language))
    say_meanwhile(turn, fix)
    call_desk(turn, "part" if fix.parts else "desk_work", cause=cause, fix=fix.fix)


def say_meanwhile(turn: Turn, fix: Fix) -> None:
    """The safe steps until somebody comes, each after its caution."""
    if not fix.steps:
        return
    turn.say("meanwhile")
    for number, step in enumerate(fix.steps, start=1):
        caution = f"{step.caution.in_(turn.language)} " if step.caution else ""
        turn.say_text(f"fix:{fix.fix}:{number}", f"{caution}{step.in_(turn.language)}")


def product_suffers(turn: Turn) -> bool:
    """The customer says that the product is at risk: then every hour of waiting is dear."""
    complained = any(complaint.symptom == "product_spoiling" for complaint in turn.case.complaints)
    return complained or any(hazard == "food_warm" for hazard in turn.case.hazards_met)


def product_may_spoil(turn: Turn) -> bool:
    """The product suffers, or stands in a room that is known to be warm."""
    states = current_states(turn.knowledge, turn.case, turn.at)
    warm = any(finding == "room_level" and state in WARM_LEVELS for finding, state in states.items())
    return warm or product_suffers(turn)


def advise_product(turn: Turn) -> None:
    """Once a case: what to do with the product meanwhile."""
    if product_may_spoil(turn) and not turn.has_said("product_first"):
        turn.say("product_first")


def close(
    turn: Turn, reason: Literal["held", "nothing_wrong", "handed_on", "by_customer", "dormant"]
) -> None:
    """The case is over."""
    cause = turn.case.fixes[-1].cause if turn.case.fixes else None
    turn.add(CaseClosed(at=turn.at, reason=reason, cause=cause))
