"""From what is known to what is done next: ask, fix, explain, or hand over."""

from typing import Final

from assistant.conversation import fixing, known
from assistant.conversation.asking import ask
from assistant.conversation.case import Case
from assistant.conversation.defects import mended_in_minutes, seen_defect, told_defect
from assistant.conversation.events import Believed, FactLearned
from assistant.conversation.handing_over import call_desk, product_suffers
from assistant.conversation.planning import plan_goes_on
from assistant.conversation.room_sums import tell_match, would_turn
from assistant.conversation.small_sums import tell_small_sums
from assistant.conversation.sums import do_sums_of_facts
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
    conflict,
    found,
    open_checks,
    open_fixes,
    patience_left,
    weigh,
    why_question,
)
from kb.compiling import Compiled, compile_
from kb.ids import CheckId, FindingId, FixId
from kb.knowledge import Knowledge

QUESTIONS_MOST: Final = 14
"""After so many a person is better company (common practice, no source)."""

LITTLE_LEFT: Final = 0.25
"""Of what was believed of a cause: below it its fix is taken back (ours, no source)."""
CAUSES_KEPT: Final = 8
SUSPECT_FROM: Final = 0.15
OTHER_EQUIPMENT: Final = ("something_else",)


def go_on(turn: Turn, *, whatever_is_known: bool = False) -> None:
    """The next thing to do, said. `whatever_is_known`: ask on even where nobody has said what is wrong."""
    if plan_goes_on(turn) or _hand_over_at_once(turn):
        return
    do_sums_of_facts(turn)
    tell_match(turn)
    tell_small_sums(turn)
    nothing_said = not turn.case.facts and not turn.case.complaints and not turn.case.numbers
    if nothing_said and not whatever_is_known:
        turn.say("opening_ask")
        turn.wait_for("opening")
        return
    compiled = compile_(turn.knowledge)
    belief = believe(turn, compiled)
    defect = seen_defect(turn, belief, fixable(turn))
    told = told_defect(turn, belief, fixable(turn)) if defect is None else None
    if told is not None:
        choice, fact = told
        words = known.fact_said(turn.knowledge, fact.finding, fact.state, turn.language)
        fixing.offer(turn, choice.fix, choice.cause, choice.probability, told=words)
        return
    doubted = _doubted(turn, compiled, belief) if defect is None else None
    if doubted is not None:
        _look_once_more(turn, *doubted)
        return
    _act(turn, compiled, belief, defect or _choose(turn, compiled, belief))


def _hand_over_at_once(turn: Turn) -> bool:
    """What this knowledge does not cover is said at once, before anybody climbs anywhere for us."""
    case = turn.case
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


def speaks_against(turn: Turn) -> bool:
    """What was just told leaves little of the cause whose fix is under way."""
    offered = turn.case.fix_under_way
    was = turn.case.believed
    if offered is None or was is None:
        return False
    before = dict(was.causes).get(offered.cause, 0.0)
    compiled = compile_(turn.knowledge)
    now = weigh(compiled, evidence_of(turn.knowledge, turn.case), tried_of(turn.case)).of(offered.cause)
    return now < LITTLE_LEFT * before


def evidence_of(knowledge: Knowledge, case: Case) -> tuple[Evidence, ...]:
    """The case's facts and complaints as the reasoning room takes them."""
    facts = tuple(_found(knowledge, case, fact) for fact in case.facts if fact.finding in knowledge.findings)
    complaints = tuple(
        complained(complaint.symptom, complaint.confidence)
        for complaint in case.complaints
        if complaint.symptom in knowledge.symptoms
    )
    return facts + complaints


def _found(knowledge: Knowledge, case: Case, fact: FactLearned) -> Evidence:
    """What somebody volunteers they have seen with the same eyes as if we had asked: the same reliability."""
    began = case.opened.at if case.opened else fact.at
    return found(
        fact.finding,
        dict(fact.likelihood),
        check=fact.check or check_of(knowledge, fact.finding),
        computed=fact.source == "sum",
        at_minutes=(fact.at - began).total_seconds() / 60,
        epoch=fact.epoch,
    )


def check_of(knowledge: Knowledge, finding: FindingId) -> CheckId | None:
    """The check that finds it, the first by id; None where it is only worked out."""
    return next((check for check, node in knowledge.checks.items() if node.finds == finding), None)


def tried_of(case: Case) -> tuple[FixTried, ...]:
    """The fixes that were done, each with how surely it worked."""
    return tuple(
        FixTried(fix=fix.fix, epoch=fix.epoch, worked=fix.worked, moved=fix.moved)
        for fix in case.fixes
        if fix.done_at is not None or fix.worked is not None
    )


def askable(turn: Turn) -> tuple[CheckId, ...]:
    """Checks that may be asked now: not answered, not laid aside, their conditions met."""
    knowledge, case = turn.knowledge, turn.case
    tools, places = known.out_of_reach(knowledge, case)
    states = known.current_states(knowledge, case, turn.at)
    answered = {
        check for check in knowledge.checks if known.is_answered(knowledge, case, check, turn.at, states)
    }
    enough = {check for check in knowledge.checks if case.times_asked(check) >= 2 + case.epoch}
    return open_checks(
        compile_(knowledge),
        states,
        laid_aside={laid.check for laid in case.laid_aside} | enough,
        answered={check for check in answered if not would_turn(turn, check)},
        without_tools=tools,
        unreachable=places,
    )


def fixable(turn: Turn) -> tuple[FixId, ...]:
    """Fixes that may be offered now: not tried, not declined, nothing known against them."""
    states = known.current_states(turn.knowledge, turn.case, turn.at)
    return open_fixes(compile_(turn.knowledge), states, tried={fix.fix for fix in turn.case.fixes})


def _doubted(turn: Turn, compiled: Compiled, belief: Belief) -> tuple[CheckId, FactLearned] | None:
    """The answer that is likeliest mistaken, if the others speak against it and nobody was asked twice about it yet.

    What somebody saw broken and can mend in minutes is not doubted: mending it settles the matter.
    """
    facts = known.current_facts(turn.knowledge, turn.case, turn.at)
    aside = {laid.check for laid in turn.case.laid_aside}
    twice = {asked.check for asked in turn.case.asked if asked.again}
    for doubt in conflict(compiled, evidence_of(turn.knowledge, turn.case)).doubts:
        fact = facts.get(turn.knowledge.checks[doubt.check].finds)
        if (
            fact is not None
            and fact.source != "sum"  # nobody was asked: it says itself how sure it is
            and doubt.check not in aside | twice
            and not mended_in_minutes(turn, belief, fact)
        ):
            return doubt.check, fact
    return None


def _look_once_more(turn: Turn, check: CheckId, fact: FactLearned) -> None:
    words = known.fact_said(turn.knowledge, fact.finding, fact.state, turn.language)
    turn.say("does_not_fit", fact=words)
    ask(turn, check, again=True)


def _choose(turn: Turn, compiled: Compiled, belief: Belief) -> Choice:
    situation = Situation(
        place=_stands(turn),
        food_on_the_clock=product_suffers(turn),
        patience=_patience(turn.case),
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


def _patience(case: Case) -> float:
    """Every question tires, and one that they could not or would not answer tires twice."""
    return patience_left(len(case.asked) + len(case.laid_aside), QUESTIONS_MOST)


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
            _say_what_is_left(turn, belief)
            call_desk(turn, "out_of_questions", cause=choice.cause)


def _say_what_is_left(turn: Turn, belief: Belief) -> None:
    """An honest end: the two causes that are left, or that nothing fits."""
    left = [cause for cause, probability in belief.top(2) if probability >= SUSPECT_FROM]
    if len(left) < 2:  # noqa: PLR2004 - two causes, or none worth naming
        turn.say("out_of_questions")
        return
    first, second = (turn.knowledge.causes[cause].means.in_(turn.language) for cause in left)
    turn.say("could_be", first=first, second=second)
