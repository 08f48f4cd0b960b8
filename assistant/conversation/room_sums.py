"""Sums over the room as it was told: which numbers and facts go in, and the one sentence that comes out."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import timedelta
from typing import Final, Literal

from assistant.conversation.known import current_states, unit_of
from assistant.conversation.sum_events import SumDone
from assistant.conversation.sums_done import LOAD_SUM, match_inputs, match_results
from assistant.conversation.turn import Turn
from assistant.engineering import (
    USUAL_TARGET_C,
    Commodity,
    OutOfRangeError,
    PullDown,
    ToldRoom,
    commodity,
    match_of,
    respiration_mw_kg,
    told_pull_down,
)
from assistant.wording import degrees, power, variant
from kb.ids import CheckId, FindingId, QuantityId
from kb.schema import Product

Shares = Mapping[str, float]
LENGTH: Final = QuantityId("room_length_m")
WIDTH: Final = QuantityId("room_width_m")
MATCH: Final = FindingId("capacity_match")
WEATHER_LASTS: Final = timedelta(hours=12)
"""A temperature outdoors stands for the day of which it was told (common practice, no source)."""

SOURCES: Final = {"walls": "heat_walls", "floor": "heat_floor", "air": "heat_air", "product": "heat_product"}
MENDS: Final = {
    "good_foam": "mend_good_foam",
    "more_foam": "mend_more_foam",
    "less_door": "mend_less_door",
    "half_product": "mend_half_product",
}
WORTHS_SAID: Final = 2
SAID_FROM: Final = 0.6
"""An outcome less sure than this is for the desk's worksheet, not for a sentence."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Worked:
    """What a sum came to: shares over a finding's states, with all that went into it."""

    shares: Shares
    inputs: tuple[tuple[str, float], ...]
    results: tuple[tuple[str, float], ...] = ()
    defaults: tuple[str, ...] = ()


def told_room(turn: Turn) -> ToldRoom | None:
    """The room as far as it was told; None without length and width."""
    long_m, wide_m = _si(turn, "room_length_m"), _si(turn, "room_width_m")
    if long_m is None or wide_m is None:
        return None
    states = current_states(turn.knowledge, turn.case, turn.at)
    told = ToldRoom(
        long_m=long_m,
        wide_m=wide_m,
        high_m=_si(turn, "room_height_m"),
        foam_m=_si(turn, "foam_m"),
        target_c=_si(turn, "target_c"),
        outdoor_c=_outdoor_c(turn),
    )
    walls, use, load = (states.get(FindingId(name)) for name in ("walls", "door_use", "warm_product"))
    if walls in ("foam", "thin_or_fibrous", "wet_or_rotten"):
        told = replace(told, walls=_as_walls(walls))
    if use is not None:
        told = replace(told, door_use="usual" if use == "usual" else "often_or_propped")
    if load is not None:
        told = replace(told, big_load=load == "big_warm_load")
    return _with_product(turn, told)


def _with_product(turn: Turn, told: ToldRoom) -> ToldRoom:
    """How much comes in a day and what it is: a bushel weighs what a bushel of that weighs."""
    number, product = turn.case.latest_number("product_kg"), _product(turn)
    told = replace(
        told, product_kg=None if number is None else number.si, product_from_c=_si(turn, "product_c")
    )
    if product is None:
        return told
    if number is not None and number.unit == "bushel" and product.bushel_kg is not None:
        told = replace(told, product_kg=number.value * product.bushel_kg)
    row = commodity(product.stored_as)
    room_c = USUAL_TARGET_C if told.target_c is None else told.target_c
    return replace(told, heat_kj_kgk=row.heat_kj_kgk, respiration_mw_kg=_breathes_mw_kg(row, room_c))


def _product(turn: Turn) -> Product | None:
    return turn.knowledge.products.get(turn.case.products[-1]) if turn.case.products else None


def _breathes_mw_kg(row: Commodity, room_c: float) -> float:
    try:
        return respiration_mw_kg(row, room_c)
    except OutOfRangeError:  # no rate is held: meat and cheese do not breathe, for the rest it is small
        return 0.0


def _as_walls(state: str) -> Literal["foam", "thin_or_fibrous", "wet_or_rotten"]:
    match state:
        case "foam" | "thin_or_fibrous" | "wet_or_rotten":
            return state
        case _:
            raise ValueError(state)


def _si(turn: Turn, quantity: str) -> float | None:
    number = turn.case.latest_number(quantity)
    return None if number is None else number.si


def _outdoor_c(turn: Turn) -> float | None:
    number = turn.case.latest_number("outdoor_c")
    return None if number is None or turn.at - number.read_at > WEATHER_LASTS else number.si


def load_against_capacity(turn: Turn) -> Worked | None:
    """Whether the unit can ever bring the room to its target."""
    told, rated_w = told_room(turn), _si(turn, "unit_w")
    if told is None or rated_w is None:
        return None
    try:
        match = match_of(told, rated_w)
    except OutOfRangeError:  # each number alone is possible, together they make no cold room
        return None
    return Worked(
        shares={str(state): share for state, share in match.shares.items()},
        inputs=match_inputs(told, rated_w),
        results=match_results(match),
        defaults=match.defaults,
    )


def expected_fall(turn: Turn, start_c: float) -> PullDown | None:
    """How this room should come down from `start_c`; None while size or rating is not known, or they fit no room."""
    told, rated_w = told_room(turn), _si(turn, "unit_w")
    if told is None or rated_w is None:
        return None
    try:
        return told_pull_down(told, rated_w, start_c)
    except OutOfRangeError:  # a start or a target that the curves were not made for
        return None


def would_turn(turn: Turn, check: CheckId) -> bool:
    """The sum has been done on a guess, and the number that this check brings could turn its outcome."""
    node, done = turn.knowledge.checks[check], turn.case.latest_sum(LOAD_SUM)
    if node.measures == LENGTH:  # the answer to "how big?" may have been one number
        return turn.case.latest_number(LENGTH) is not None and turn.case.latest_number(WIDTH) is None
    if node.measures is None or node.finds != MATCH or done is None:
        return False
    if turn.case.latest_number(node.measures) is not None:
        return False
    return any(name == f"turns:{node.measures}" for name, _ in done.results)


def tell_match(turn: Turn) -> None:
    """One sentence in their own units, when the outcome is a new one and sure enough to be said."""
    done = next((e for e in reversed(turn.events) if isinstance(e, SumDone) and e.sum == LOAD_SUM), None)
    sentence = None if done is None else _outcome_sentence(dict(done.results))
    if done is None or sentence is None or turn.has_said(sentence):
        return
    found, unit = dict(done.results), unit_of(turn.case)
    terms = [(name.removeprefix("term:"), w) for name, w in done.results if name.startswith("term:")]
    share = terms[0][1] / max(sum(w for _, w in terms), 1.0)
    turn.say(
        sentence,
        used=f"{100 * found['used_share_middle']:.0f}",
        coldest=degrees(found["coldest_c_middle"], unit),
        outdoor=degrees(found["assumed_outdoor_c"], unit),
        share=f"{100 * share:.0f}",
        source=variant(SOURCES.get(terms[0][0], "heat_air"), turn.language, 0),
    )
    if sentence != "match_ample":
        _say_worths(turn, done)


def _outcome_sentence(found: Mapping[str, float]) -> str | None:
    """Short by whatever, only just enough, or ample: None while none of them is sure enough."""
    ample, marginal = found.get("ample", 0.0), found.get("marginal", 0.0)
    if 1.0 - _fits(found) >= SAID_FROM:
        return "match_short"
    if _fits(found) < SAID_FROM:
        return None
    return "match_ample" if ample >= marginal else "match_marginal"


def _fits(found: Mapping[str, float]) -> float:
    return found.get("ample", 0.0) + found.get("marginal", 0.0)


def _say_worths(turn: Turn, done: SumDone) -> None:
    worths = [(name.removeprefix("worth:"), w) for name, w in done.results if name.startswith("worth:")]
    unit = unit_of(turn.case)
    for name, saves_w in worths[:WORTHS_SAID]:
        mend = variant(
            MENDS[name],
            turn.language,
            0,
            thick="4 in." if unit == "F" else "10 cm",
            more="2 in." if unit == "F" else "5 cm",
        )
        turn.say("match_worth", mend=mend, saves=power(saves_w, unit))
