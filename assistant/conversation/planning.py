"""A room that is being planned: only what moves the answer is asked, then a range of ratings with its reasons.

The sums are ours; wiring and installing belong to those licensed for them.
"""

from collections.abc import Sequence
from typing import Final

from assistant.conversation.asking import ask, options_of, remind_later
from assistant.conversation.case import Case
from assistant.conversation.events import Asked, StateChanged
from assistant.conversation.handing_over import call_desk
from assistant.conversation.known import unit_of
from assistant.conversation.room_readings import ROOM, TARGET
from assistant.conversation.room_sums import SOURCES, told_room
from assistant.conversation.sum_events import SumDone
from assistant.conversation.turn import Turn
from assistant.engineering import BIGGEST_W, FLOOR_C, OutOfRangeError, Plan, ToldRoom, plan_of
from assistant.wording import degrees, rating, sentence_list, thickness, variant
from kb.ids import CheckId, QuantityId, SymptomId

PLANNING: Final = SymptomId("planning")
NO_TROUBLE: Final = frozenset({"planning", "watch_request", "is_this_normal", "power_bill"})
PLAN: Final = "plan"
SIZE: Final = CheckId("ask_room_size")
CHECK_OF: Final = {"foam_m": CheckId("measure_foam"), "door_often": CheckId("ask_door_use")}
SENTENCE_OF: Final = {"product_kg": "plan_product", "outdoor_c": "plan_outdoor"}
DOOR: Final = "door_often"
FIRST: Final = "product_kg"
"""What is cooled decides more than anything, and nobody minds being asked."""

TWICE: Final = 2
FULL_FROM: Final = 0.2
"""Warm product a day above this share of what the room holds cools slowly (10-20 %; common practice, no source)."""


def is_planning(case: Case) -> bool:
    """They plan a room and have no trouble with one."""
    symptoms = {str(complaint.symptom) for complaint in case.complaints}
    return (
        PLANNING in symptoms
        and symptoms <= NO_TROUBLE
        and not case.fixes
        and case.latest_number(ROOM) is None
    )


def plan_goes_on(turn: Turn) -> bool:
    """Ask the next thing that moves the answer, or give the answer; false where nothing is planned."""
    if not is_planning(turn.case):
        return False
    told = told_room(turn)
    if told is None:
        _ask_size(turn)
        return True
    if told.target_c is not None and told.target_c < FLOOR_C:
        _too_cold(turn, told.target_c)
        return True
    try:
        plan = plan_of(told)
    except OutOfRangeError:  # more heat than these sums are made for: a hall, not a room
        turn.say("plan_far_too_big")
        call_desk(turn, "planning")
        return True
    following = next((name for name in _in_order(plan) if _may_ask(turn, name)), None)
    if following is None:
        _give(turn, told, plan)
    else:
        _ask(turn, following)
    return True


def _ask_size(turn: Turn) -> None:
    if turn.case.times_asked(SIZE) < TWICE:
        ask(turn, SIZE)
        return
    turn.say("planning_person")
    call_desk(turn, "planning")


def _in_order(plan: Plan) -> Sequence[str]:
    return sorted(plan.moves, key=lambda name: (name != FIRST, plan.moves.index(name)))


def _may_ask(turn: Turn, name: str) -> bool:
    if name in SENTENCE_OF:
        return not turn.has_said(SENTENCE_OF[name])
    return turn.case.times_asked(CHECK_OF[name]) == 0


def _ask(turn: Turn, name: str) -> None:
    if name == DOOR:
        _ask_door(turn)
        return
    if name in CHECK_OF:
        ask(turn, CHECK_OF[name])
        return
    turn.say(SENTENCE_OF[name])
    turn.wait_for("number", quantity=QuantityId(name))
    remind_later(turn)


def _ask_door(turn: Turn) -> None:
    """The door of a room that does not stand yet: the check's answers, asked of days to come."""
    node = turn.knowledge.checks[CHECK_OF[DOOR]]
    turn.add(Asked(at=turn.at, check=node.check, gain_bits=0.0))
    turn.say("plan_door", options=options_of(turn, node))
    turn.wait_for("check", check=node.check)
    remind_later(turn)


def _too_cold(turn: Turn, target_c: float) -> None:
    unit = unit_of(turn.case)
    turn.say("plan_too_cold", floor=degrees(FLOOR_C, unit), target=degrees(target_c, unit))
    call_desk(turn, "planning")


def _give(turn: Turn, told: ToldRoom, plan: Plan) -> None:
    """The range, where the heat comes from, what was taken for granted, who does what."""
    turn.add(_sum_done(turn, told, plan))
    unit = unit_of(turn.case)
    if plan.rated_w.middle > BIGGEST_W:
        turn.say("plan_too_big", need=rating(plan.rated_w.middle, unit))
        call_desk(turn, "planning")
        return
    turn.say(
        "plan_range",
        low=rating(plan.rated_w.low, unit),
        high=rating(plan.rated_w.high, unit),
        target=degrees(plan.target_c, unit),
        outdoor=degrees(plan.outdoor_c, unit),
    )
    share = plan.terms[0].mean_w / sum(term.mean_w for term in plan.terms)
    source = variant(SOURCES.get(plan.terms[0].name, "heat_air"), turn.language, 0)
    turn.say("plan_source", share=f"{100 * share:.0f}", source=source)
    assumed = _assumed(turn, told, plan)
    if assumed and not turn.has_said("plan_assumed"):
        turn.say("plan_assumed", assumed=sentence_list(assumed, turn.language))
    if plan.full_share > FULL_FROM:
        turn.say("plan_full", share=f"{100 * plan.full_share:.0f}")
    if not turn.has_said("plan_licensed"):
        turn.say("plan_licensed")
        turn.say("plan_change")
    turn.wait_for("nothing")
    if turn.case.state != "asking":
        turn.add(StateChanged(at=turn.at, state="asking"))


def _assumed(turn: Turn, told: ToldRoom, plan: Plan) -> list[str]:
    """What nobody told, in words: never hidden."""
    unit, language = unit_of(turn.case), turn.language
    words = []
    if told.foam_m is None and "foam_m" in plan.guessed:
        words.append(variant("assume_foam", language, 0, thick=thickness(plan.guessed["foam_m"], unit)))
    if turn.case.latest_number(TARGET) is None:
        words.append(variant("assume_target", language, 0, target=degrees(plan.target_c, unit)))
    if told.product_kg is None:
        words.append(variant("assume_product", language, 0))
    if told.outdoor_c is None:
        words.append(variant("assume_outdoor", language, 0, outdoor=degrees(plan.outdoor_c, unit)))
    if told.door_use is None:
        words.append(variant("assume_door", language, 0))
    return words


def _sum_done(turn: Turn, told: ToldRoom, plan: Plan) -> SumDone:
    names = ("long_m", "wide_m", "high_m", "foam_m", "outdoor_c", "product_kg", "product_from_c")
    given = ((name, getattr(told, name)) for name in names)
    rated = plan.rated_w
    return SumDone(
        at=turn.at,
        sum=PLAN,
        inputs=(
            ("target_c", plan.target_c),
            *((name, float(value)) for name, value in given if value is not None),
        ),
        results=(
            ("rated_w_low", rated.low), ("rated_w_middle", rated.middle), ("rated_w_high", rated.high),
            ("load_w", plan.load_w), ("full_share", plan.full_share),
            *((f"guess:{name}", value) for name, value in plan.guessed.items()),
            *((f"term:{term.name}", term.mean_w) for term in plan.terms),
        ),
        defaults=plan.defaults,
        verdict="too_big" if rated.middle > BIGGEST_W else "room_unit",
    )  # fmt: skip
