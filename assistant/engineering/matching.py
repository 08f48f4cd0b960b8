"""Whether a unit can ever bring a room to its target: ample, marginal, or short, and by what it is short.

Every way in which the room may be (see `told_rooms`) votes with its weight; around each stands the doubt of the
capacity curve and of the load. A guess that would turn the outcome is named, so that it is asked and nothing else is.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from statistics import NormalDist
from types import MappingProxyType
from typing import Final, Literal

from assistant.engineering.capacity import delivered_cooling
from assistant.engineering.errors import OutOfRangeError
from assistant.engineering.footing import Range, Term
from assistant.engineering.load import Load, Worth
from assistant.engineering.sizing import AMPLE, FLOOR_C, RUN_SHARE, SHORT, WARMEST_C, coldest_room
from assistant.engineering.told_rooms import GOOD_FOAM_M, USUAL_TARGET_C, ToldRoom, Way, good_walls, ways_of

MatchState = Literal["ample", "marginal", "short_walls", "short_door", "short_product", "short_unit"]
STATES: Final[tuple[MatchState, ...]] = (
    "ample", "marginal", "short_walls", "short_door", "short_product", "short_unit",
)  # fmt: skip
DOUBT: Final = 0.15
"""One sigma of load over cooling, as a share: curve beyond its published end, leaks, workmanship (our judgement)."""

SMALL_LOAD_SHARE: Final = 0.1
"""So much warm product a day, of what the room holds, is for the unit to carry (10-20 %; common practice, no source)."""

TURNS_FROM: Final = 0.15
"""A guess turns the outcome if values of so much weight lead elsewhere."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Match:
    """A unit in a room as it was told."""

    shares: Mapping[MatchState, float]
    used_share: Range
    """Load over the cooling that is to be had in a day with thaws; over 1 it cannot."""
    coldest_c: Range
    """What the unit can hold; `FLOOR_C` where thaw and not heat is the limit."""
    load_w: float
    cooling_w: float
    """To be had, thaw deducted, at the target."""
    terms: tuple[Term, ...]
    """Walls with ceiling, floor, air, product with its breathing: the greatest first."""
    worths: tuple[Worth, ...]
    """What would take heat away, the most telling first."""
    turns: tuple[str, ...]
    """Guesses that could turn the outcome, the one that tells most first."""
    defaults: tuple[str, ...]
    outdoor_c: float


def match_of(told: ToldRoom, rated_w: float) -> Match:
    """How a unit rated `rated_w` fits the room.

    Fails with `OutOfRangeError` on a box that is no room or a rating that no room unit has.

    >>> told = ToldRoom(long_m=3.0, wide_m=2.4, foam_m=0.1, outdoor_c=32.0, door_use="usual", product_kg=0.0)
    >>> max((fit := match_of(told, 3517.0).shares), key=fit.__getitem__)
    'ample'
    """
    ways = ways_of(told)
    target_c = max(USUAL_TARGET_C if told.target_c is None else told.target_c, FLOOR_C)
    loads = [way.load_at(target_c) for way in ways]
    cooling_w = [_cooling_w(way, rated_w, target_c) for way in ways]
    used = [load.total_w / w for load, w in zip(loads, cooling_w, strict=True)]
    each = [_shares(way, share, w, target_c) for way, share, w in zip(ways, used, cooling_w, strict=True)]
    weights = [way.weight for way in ways]
    middle = at_share(used, weights, 0.5)
    low, high = at_share(used, weights, 0.1), at_share(used, weights, 0.9)
    return Match(
        shares=_mean(each, weights),
        used_share=Range(low=used[low] * (1 - DOUBT), middle=used[middle], high=used[high] * (1 + DOUBT)),
        coldest_c=Range(
            low=_coldest_c(ways[low], rated_w * (1.0 + DOUBT)),
            middle=_coldest_c(ways[middle], rated_w),
            high=_coldest_c(ways[high], rated_w * (1.0 - DOUBT)),
        ),
        load_w=sum(weight * load.total_w for weight, load in zip(weights, loads, strict=True)),
        cooling_w=cooling_w[middle],
        terms=grouped_terms(loads, weights),
        worths=_worths(told, ways[middle], loads[middle].total_w, target_c),
        turns=_turns(ways, each),
        defaults=defaults_of(told),
        outdoor_c=ways[middle].room.outdoor_c or 0.0,
    )


def _cooling_w(way: Way, rated_w: float, room_c: float) -> float:
    outdoor_c = way.room.outdoor_c
    assert outdoor_c is not None  # noqa: S101 - `ways_of` fills it
    return RUN_SHARE * delivered_cooling(rated_w, room_c, outdoor_c).cooling_w.middle


def _shares(way: Way, used: float, cooling_w: float, room_c: float) -> dict[MatchState, float]:
    spread = NormalDist(math.log(max(used, 1e-3)), DOUBT)
    ample, enough = spread.cdf(math.log(AMPLE)), spread.cdf(math.log(SHORT))
    shares: dict[MatchState, float] = dict.fromkeys(STATES, 0.0)
    shares["ample"], shares["marginal"] = ample, enough - ample
    shares[_short_by(way, used, cooling_w, room_c)] = 1.0 - enough
    return shares


def _short_by(way: Way, used: float, cooling_w: float, room_c: float) -> MatchState:
    """The one mend that would do, the most telling first; a unit that none would help is too small."""
    room = way.room
    if used <= SHORT * (1.0 - 2.0 * DOUBT):
        return "short_unit"  # not worth three more sums: hardly any weight falls here
    mended: dict[MatchState, ToldRoom] = {"short_walls": good_walls(room)}
    if room.door_use == "often_or_propped":
        mended["short_door"] = replace(room, door_use="usual")
    small_kg = SMALL_LOAD_SHARE * room.holds_kg
    if (room.product_kg or 0.0) > small_kg:
        mended["short_product"] = replace(room, product_kg=small_kg)
    left = {state: replace(way, room=better).net_w_at(room_c) for state, better in mended.items()}
    best = min(left, key=lambda state: (left[state], state))
    enough = left[best] <= SHORT * cooling_w or left[best] <= SHORT * cooling_w * used / (1.0 + DOUBT)
    return best if enough and left[best] < used * cooling_w * (1.0 - DOUBT) else "short_unit"


GROUPS: Final[Mapping[str, str]] = MappingProxyType(
    {"walls": "walls", "ceiling": "walls", "floor": "floor", "air_changes": "air", "door": "air",
     "product": "product", "respiration": "product"}
)  # fmt: skip
MORE_FOAM_M: Final = 0.05
WORTH_FROM: Final = 0.04
"""A mend that takes away less of the load is not worth a sentence (our judgement)."""


def grouped_terms(loads: Sequence[Load], weights: Sequence[float]) -> tuple[Term, ...]:
    """The mean over all ways: a guess has no more say in it than its weight."""
    sums: dict[str, float] = {}
    for weight, load in zip(weights, loads, strict=True):
        for term in load.terms:
            name = GROUPS.get(term.name, term.name)
            sums[name] = sums.get(name, 0.0) + weight * term.mean_w
    found = [Term(name=name, mean_w=mean_w) for name, mean_w in sums.items() if mean_w]
    return tuple(sorted(found, key=lambda term: (-term.mean_w, term.name)))


def _worths(told: ToldRoom, way: Way, load_w: float, room_c: float) -> tuple[Worth, ...]:
    """What each mend of something that was told would take off the load, safety included: no guess is mended."""
    room = way.room
    foam_m = room.foam_m or 0.0
    poor = foam_m < GOOD_FOAM_M or room.walls in ("thin_or_fibrous", "wet_or_rotten")
    walls = good_walls(room) if poor else replace(room, foam_m=foam_m + MORE_FOAM_M)
    mended: dict[str, ToldRoom] = {}
    if told.foam_m is not None or told.walls is not None:
        mended["good_foam" if poor else "more_foam"] = walls
    if told.door_use == "often_or_propped":
        mended["less_door"] = replace(room, door_use="usual")
    if told.product_kg or told.big_load:
        mended["half_product"] = replace(room, product_kg=(room.product_kg or 0.0) / 2.0)
    worths = [
        Worth(mend=mend, saves_w=load_w - left_w, saves_share=1.0 - left_w / load_w)
        for mend, better in mended.items()
        if (left_w := replace(way, room=better).net_w_at(room_c)) < load_w * (1.0 - WORTH_FROM)
    ]
    return tuple(sorted(worths, key=lambda worth: (-worth.saves_w, worth.mend)))


def _mean(each: Sequence[Mapping[MatchState, float]], weights: Sequence[float]) -> dict[MatchState, float]:
    whole = sum(weights)
    return {
        state: sum(w * shares[state] for w, shares in zip(weights, each, strict=True)) / whole
        for state in STATES
    }


def at_share(values: Sequence[float], weights: Sequence[float], share: float) -> int:
    """The place of the value below which `share` of the weight lies."""
    order = sorted(range(len(values)), key=lambda place: (values[place], place))
    below = 0.0
    for place in order:
        below += weights[place]
        if below >= share - 1e-9:
            return place
    return order[-1]


def _coldest_c(way: Way, rated_w: float) -> float:
    outdoor_c = way.room.outdoor_c
    assert outdoor_c is not None  # noqa: S101 - `ways_of` fills it
    try:
        return coldest_room(way.net_w_at, rated_w, outdoor_c).coldest_c
    except (
        OutOfRangeError
    ):  # even at 25 °C the load is more than the unit gives: it cools nothing to speak of
        return max(outdoor_c, WARMEST_C)


def _turns(ways: Sequence[Way], each: Sequence[Mapping[MatchState, float]]) -> tuple[str, ...]:
    """Guesses of which some value leads to another outcome, by how much knowing them would tell."""
    overall = _outcome(_mean(each, [way.weight for way in ways]))
    telling: list[tuple[float, str]] = []
    for name, _ in ways[0].guessed:
        groups: dict[float, list[int]] = {}
        for at, way in enumerate(ways):
            groups.setdefault(dict(way.guessed)[name], []).append(at)
        elsewhere = sum(
            _weight(ways, places)
            for places in groups.values()
            if _outcome(_mean([each[at] for at in places], [ways[at].weight for at in places])) != overall
        )
        if elsewhere >= TURNS_FROM:
            telling.append((-elsewhere, name))
    return tuple(name for _, name in sorted(telling))


def _outcome(shares: Mapping[MatchState, float]) -> str:
    """What we would do: nothing about the size, or mend what is short."""
    fits = shares["ample"] + shares["marginal"]
    short = max(STATES[2:], key=lambda state: (shares[state], state))
    return "fits" if fits >= shares[short] else short


def _weight(ways: Sequence[Way], places: Iterable[int]) -> float:
    return sum(ways[at].weight for at in places)


def defaults_of(told: ToldRoom) -> tuple[str, ...]:
    """What nobody told."""
    names = ("foam_m", "target_c", "outdoor_c", "door_use", "product_kg", "product_from_c", "heat_kj_kgk")
    missing = [name for name in names if getattr(told, name) is None]
    return (*(("high_m",) if told.high_m is None else ()), *missing)
