"""From what is known to what is done next: ask, fix, explain, or hand over."""

from typing import Final

from assistant.conversation import fixing, known
from assistant.conversation.asking import ask
from assistant.conversation.case import Case
from assistant.conversation.events import Believed, FactLearned
from assistant.conversation.handing_over import call_desk, product_suffers
from assistant.conversation.turn import Turn
from assistant.reasoning import (
    AskCheck,
    Belief,
    Choice,
    Evidence,
    Explain,
    FixTried,
    HandOver,
    Situation,
    TryFix,
    choose,
    complained,
    found,
    weigh,
    why_question,
)
from kb.compiling import Compiled, compile_
from kb.ids import CheckId, FixId
from kb.knowledge import Knowledge

QUESTIONS_MOST: Final = 14
"""After so many a person is better company (common practice, no source)."""

CAUSES_KEPT: Final = 8
OTHER_EQUIPMENT: Final = ("packaged", "condensing_unit", "something_else")
NOT_A_FAULT: Final = ("planning",)


def go_on(turn: Turn) -> None:
    """The next thing to do, said."""
    if _hand_over_at_once(turn):
        return
    if not turn.case.facts and not turn.case.complaints and not turn.case.numbers:
        turn.say("opening_ask")
        turn.wait_for("opening")
        return
    compiled = compile_(turn.knowledge)
    belief = believe(turn, compiled)
    _act(turn, compiled, belief, _choose(turn, compiled, belief))


def _hand_over_at_once(turn: Turn) -> bool:
    """What this knowledge does not cover is said at once, before anybody climbs anywhere for us."""
    case = turn.case
    if any(complaint.symptom in NOT_A_FAULT for complaint in case.complaints) and not case.fixes:
        turn.say("planning_person")
        call_desk(turn, "planning")
        return True
    equipment = known.current_states(turn.knowledge, case, turn.at)
    if any(finding == "equipment" and state in OTHER_EQUIPMENT for finding, state in equipment.items()):
        turn.say("other_equipment")
        call_desk(turn, "other_equipment")
        return True
    return False


def believe(turn: Turn, compiled: Compiled) -> Belief:
    """Weigh everything known, and record what is believed."""
    belief = weigh(compiled, evidence_of(turn.knowledge, turn.case), tried_of(turn.case))
    turn.add(
        Believed(
            at=turn.at,
            causes=tuple((cause, probability) for cause, probability in belief.top(CAUSES_KEPT)),
            nothing_wrong=belief.nothing_wrong,
            something_else=belief.something_else,
            entropy_bits=belief.entropy_bits,
        )
    )
    return belief


def evidence_of(knowledge: Knowledge, case: Case) -> tuple[Evidence, ...]:
    """The case's facts and complaints as the reasoning room takes them."""
    facts = tuple(_found(case, fact) for fact in case.facts if fact.finding in knowledge.findings)
    complaints = tuple(
        complained(complaint.symptom, complaint.confidence)
        for complaint in case.complaints
        if complaint.symptom in knowledge.symptoms
    )
    return facts + complaints


def _found(case: Case, fact: FactLearned) -> Evidence:
    began = case.opened.at if case.opened else fact.at
    return found(
        fact.finding,
        dict(fact.likelihood),
        check=fact.check,
        computed=fact.source == "sum",
        at_minutes=(fact.at - began).total_seconds() / 60,
        epoch=fact.epoch,
    )


def tried_of(case: Case) -> tuple[FixTried, ...]:
    """The fixes that were done, each with how surely it worked."""
    return tuple(
        FixTried(fix=fix.fix, epoch=fix.epoch, worked=fix.worked)
        for fix in case.fixes
        if fix.done_at is not None or fix.worked is not None
    )


def askable(turn: Turn) -> tuple[CheckId, ...]:
    """Checks that may be asked now: not answered, not laid aside, their conditions met."""
    states = known.current_states(turn.knowledge, turn.case, turn.at)
    aside = {laid.check for laid in turn.case.laid_aside}
    return tuple(
        check
        for check, node in turn.knowledge.checks.items()
        if check not in aside
        and not known.is_answered(turn.knowledge, turn.case, check, turn.at)
        and turn.case.times_asked(check) < 2 + turn.case.epoch
        and all(states.get(finding) in wanted for finding, wanted in node.only_if.items())
        and not any(states.get(finding) in barred for finding, barred in node.unless.items())
    )


def fixable(turn: Turn) -> tuple[FixId, ...]:
    """Fixes that may be offered now: not tried, not declined, nothing known against them."""
    states = known.current_states(turn.knowledge, turn.case, turn.at)
    past = {fix.fix for fix in turn.case.fixes}
    return tuple(
        fix
        for fix, node in turn.knowledge.fixes.items()
        if fix not in past
        and not any(states.get(finding) in barred for finding, barred in node.unless.items())
    )


def _choose(turn: Turn, compiled: Compiled, belief: Belief) -> Choice:
    asked = len(turn.case.asked)
    situation = Situation(
        place=_stands(turn),
        food_on_the_clock=product_suffers(turn),
        patience=max(0.0, 1.0 - asked / QUESTIONS_MOST),
    )
    numbers = {number.quantity for number in turn.case.numbers}
    return choose(
        compiled,
        belief,
        askable(turn),
        fixable(turn),
        situation=situation,
        known_quantities=tuple(sorted(numbers)),
    )


def _stands(turn: Turn) -> str:
    """Where the grower stands: where the last answered question sent them."""
    answered = [fact.check for fact in turn.case.facts if fact.check is not None]
    return turn.knowledge.checks[answered[-1]].effort.where if answered else "anywhere"


def _act(turn: Turn, compiled: Compiled, belief: Belief, choice: Choice) -> None:
    match choice:
        case AskCheck():
            gains = {ranked.check: ranked.gain_bits for ranked in choice.ranked}
            splits = tuple(
                (split.cause, split.state) for split in why_question(compiled, belief, choice.check)
            )
            ask(turn, choice.check, gain_bits=gains.get(choice.check, 0.0), splits=splits)
        case TryFix() | Explain():
            fixing.offer(turn, choice.fix, choice.cause, choice.probability)
        case HandOver() if choice.fix is not None and choice.cause is not None:
            fixing.offer(turn, choice.fix, choice.cause, belief.of(choice.cause))
        case HandOver():
            turn.say("out_of_questions")
            call_desk(turn, "out_of_questions", cause=choice.cause)
