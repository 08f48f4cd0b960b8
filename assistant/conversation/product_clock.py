"""The product's clock: which limit it has here, and how many hours are left of it at the present trend.

Worked out whenever a temperature or a product comes in, and kept as a sum, so that the desk's order needs no knowledge:
`product_hours_left` reads the case alone. It never says that anything is safe.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final, get_args

from assistant.conversation.case import Case
from assistant.conversation.danger import raise_worked_out
from assistant.conversation.events import DeskCalled, HazardRaised, NumberLearned
from assistant.conversation.known import unit_of
from assistant.conversation.room_readings import ROOM, course_of
from assistant.conversation.sum_events import ProductLearned, SumDone
from assistant.conversation.turn import Turn
from assistant.engineering import (
    USUAL_Q10,
    Commodity,
    FoodKind,
    FoodLimit,
    Jurisdiction,
    commodity,
    food_limit,
)
from assistant.wording import degrees
from kb.ids import HazardId, QuantityId
from kb.schema import Product

FOOD_WARM: Final = HazardId("food_warm")
CLOCK: Final = "product_clock"
PRODUCT_C: Final = QuantityId("product_c")
OWN_LASTS: Final = timedelta(hours=2)
"""A product's own temperature is better than the room's while it is so fresh (common practice, no source)."""

OVER: Final = "over"
MEXICO: Final = frozenset(
    f"America/{city}"
    for city in (
        "Mexico_City", "Monterrey", "Merida", "Cancun", "Chihuahua", "Ciudad_Juarez", "Hermosillo", "Mazatlan",
        "Tijuana", "Matamoros", "Ojinaga", "Bahia_Banderas",
    )
)  # fmt: skip
UNITED_STATES: Final = frozenset(
    f"America/{city}"
    for city in (
        "New_York", "Detroit", "Chicago", "Denver", "Boise", "Phoenix", "Los_Angeles", "Anchorage", "Juneau",
        "Puerto_Rico", "Menominee", "Kentucky/Louisville", "Indiana/Indianapolis",
    )
) | {"Pacific/Honolulu"}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Clock:
    """Where one product stands."""

    seen_c: float
    limit: FoodLimit | None
    hours_left: float | None
    """At the present trend; 0: over. None: no limit, or it is not on the way there."""
    hours_over: float | None
    """Since the first reading above the limit; at least so long."""
    days_lost_a_day: float
    """Days of storage life that each further day at this temperature costs beyond its own."""


def jurisdiction_of(case: Case) -> Jurisdiction | None:
    """Whose rules: by the room's time zone and region; None where we cannot know."""
    if case.opened is None:
        return None
    zone = case.opened.zone
    if zone in MEXICO:
        return "MX"
    if zone in UNITED_STATES:
        return "US"
    return "EU" if case.opened.region == "112" and zone.startswith("Europe/") else None


def product_of(turn: Turn) -> Product | None:
    """What was named last, foods that have a limit before those that have none."""
    named = [turn.knowledge.products[p] for p in turn.case.products if p in turn.knowledge.products]
    limited = [product for product in named if product.food != "quality only"]
    return limited[-1] if limited else named[-1] if named else None


def limit_of(turn: Turn, product: Product) -> FoodLimit | None:
    """The usual limit of a product where the room is."""
    kind = next((one for one in get_args(FoodKind) if one == product.food), None)
    return None if kind is None else food_limit(kind, jurisdiction_of(turn.case))


def clock_of(turn: Turn) -> Clock | None:
    """The clock of what is kept; None without a product or a temperature."""
    product, seen = product_of(turn), _seen(turn.case, turn.at)
    if product is None or seen is None:
        return None
    limit = limit_of(turn, product)
    hours_over = None if limit is None else _hours_over(turn.case, turn.at, seen, limit.limit_c)
    return Clock(
        seen_c=seen.si,
        limit=limit,
        hours_left=None if limit is None else _hours_left(turn.case, seen, limit.limit_c),
        hours_over=hours_over,
        days_lost_a_day=_days_lost_a_day(commodity(product.stored_as), seen.si),
    )


def _seen(case: Case, at: datetime) -> NumberLearned | None:
    own, room = case.latest_number(PRODUCT_C), case.latest_number(ROOM)
    return own if own is not None and at - own.read_at <= OWN_LASTS else room


def _hours_left(case: Case, seen: NumberLearned, limit_c: float) -> float | None:
    """Until the curve of the trend crosses the limit: T = T_end + (T_0 - T_end) e^(-t/tau), solved for t."""
    if seen.si > limit_c:
        return 0.0
    done = case.latest_sum("trend")
    if done is None or done.verdict != "rising":
        return None
    found = dict(done.results)
    end_c, tau_h = found["ends_c_high"], found["tau_h_low"]
    if end_c <= limit_c:
        return None
    return tau_h * math.log((end_c - seen.si) / (end_c - limit_c))


def _hours_over(case: Case, at: datetime, seen: NumberLearned, limit_c: float) -> float | None:
    if seen.si <= limit_c:
        return None
    since = seen.read_at
    for reading in reversed(course_of(case, at)):
        if reading.si <= limit_c:
            break
        since = min(since, reading.read_at)
    return (at - since) / timedelta(hours=1)


def _days_lost_a_day(row: Commodity, seen_c: float) -> float:
    """Q10: how much quicker it ages than at its storage temperature, less the day that passes anyway."""
    warmer_k = max(0.0, seen_c - row.store_to_c)
    return float(USUAL_Q10.middle ** (warmer_k / 10.0) - 1.0)


def run_clock(turn: Turn) -> None:
    """Keep the clock when a temperature or a product is new."""
    if not _is_new(turn.events):
        return
    clock, product = clock_of(turn), product_of(turn)
    if clock is None or product is None:
        return
    limit = () if clock.limit is None else (("limit_c", clock.limit.limit_c),)
    left = () if clock.hours_left is None else (("hours_left", clock.hours_left),)
    over = () if clock.hours_over is None else (("hours_over", clock.hours_over),)
    turn.add(
        SumDone(
            at=turn.at,
            sum=CLOCK,
            inputs=(("seen_c", clock.seen_c), *limit),
            results=(*left, *over, ("days_lost_a_day", clock.days_lost_a_day)),
            defaults=("product_c",) if turn.case.latest_number(PRODUCT_C) is None else (),
            verdict=OVER if clock.hours_over is not None else "within" if clock.limit else "quality",
        )
    )


def _is_new(events: Sequence[object]) -> bool:
    return any(
        isinstance(event, ProductLearned)
        or (isinstance(event, NumberLearned) and event.quantity in (ROOM, PRODUCT_C))
        for event in events
    )


def product_hours_left(case: Case, at: datetime) -> float | None:
    """Hours until the product passes its limit at the trend that was seen last; 0: over. For the desk's order."""
    done = case.latest_sum(CLOCK)
    left = None if done is None else dict(done.results).get("hours_left")
    if done is None or left is None:
        return None
    return max(0.0, left - (at - done.at) / timedelta(hours=1))


def speak_of_food(turn: Turn) -> None:
    """After "move it, do not sell it": the usual limit with its rule, who decides; the desk's urgency goes up once."""
    if "food_warm" not in turn.case.hazards_met:
        if not _is_new(turn.events) or not _passed_its_limit(turn):
            return
        raise_worked_out(turn, FOOD_WARM)
    if any(isinstance(event, HazardRaised) and event.hazard == "food_warm" for event in turn.events):
        turn.add(DeskCalled(at=turn.at, why="food", urgency="today"))
    product = product_of(turn)
    if product is None:
        if not turn.has_said("food_which"):
            turn.say("food_which")
        return
    if product.food == "quality only":
        if not turn.has_said("food_quality"):
            turn.say("food_quality", product=product.in_(turn.language)[0])
        return
    _say_limit(turn, product)


def _passed_its_limit(turn: Turn) -> bool:
    """Food of animals is above its limit: for how long nobody knows, so nobody is asked first."""
    done = turn.case.latest_sum(CLOCK)
    return done is not None and done.at == turn.at and done.verdict == OVER


def _say_limit(turn: Turn, product: Product) -> None:
    if turn.has_said("food_limit") or turn.has_said("food_limit_local"):
        return
    limit, name = limit_of(turn, product), product.in_(turn.language)[0]
    if limit is None:
        turn.say("food_limit_local", product=name)
        return
    turn.say("food_limit", product=name, limit=degrees(limit.limit_c, unit_of(turn.case)), rule=limit.rule)
