"""The unit for a room that is being planned: a range of ratings, what it rests on, and which answer would move it most."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from assistant.engineering.footing import Range, Term
from assistant.engineering.matching import at_share, defaults_of, grouped_terms
from assistant.engineering.sizing import FLOOR_C, unit_for
from assistant.engineering.told_rooms import USUAL_TARGET_C, ToldRoom, Way, ways_of

MOVES_FROM: Final = 1.12
"""An answer that moves the rating by less than an eighth is not asked for: units are sold in coarser steps."""

BIGGEST_W: Final = 10_500.0
"""Room air conditioners end near 36 000 Btu/h; above, a contractor sizes a refrigeration unit (common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """What to look for."""

    rated_w: Range
    """Low and middle by what the room may be; high with the doubt of the capacity curve on top."""
    load_w: float
    terms: tuple[Term, ...]
    moves: tuple[str, ...]
    """Guesses whose answer would move the rating, the one that moves it most first."""
    guessed: Mapping[str, float]
    """Every guess, at its middle."""
    defaults: tuple[str, ...]
    target_c: float
    outdoor_c: float
    full_share: float
    """Warm product a day over what the room holds."""


def plan_of(told: ToldRoom) -> Plan:
    """The rating for a room with a target of `FLOOR_C` or above.

    Fails with `OutOfRangeError` on a box that is no room, and on a target that no room air conditioner holds.

    >>> told = ToldRoom(long_m=2.44, wide_m=3.05, high_m=2.44, foam_m=0.1, outdoor_c=35.0, product_kg=0.0)
    >>> plan = plan_of(told)
    >>> 1000.0 < plan.rated_w.low <= plan.rated_w.high < 4000.0, plan.moves
    (True, ('door_often',))
    """
    ways = ways_of(told)
    target_c = USUAL_TARGET_C if told.target_c is None else told.target_c
    loads = [way.load_at(target_c) for way in ways]
    needs = [
        unit_for(load.total_w, target_c, way.room.outdoor_c or 0.0).rated_w
        for way, load in zip(ways, loads, strict=True)
    ]
    weights, middles = [way.weight for way in ways], [need.middle for need in needs]
    low, middle, high = (at_share(middles, weights, share) for share in (0.1, 0.5, 0.9))
    return Plan(
        rated_w=Range(low=middles[low], middle=middles[middle], high=needs[high].high),
        load_w=sum(weight * load.total_w for weight, load in zip(weights, loads, strict=True)),
        terms=grouped_terms(loads, weights),
        moves=_moves(ways, middles),
        guessed=MappingProxyType(dict(ways[middle].guessed)),
        defaults=defaults_of(told),
        target_c=target_c,
        outdoor_c=ways[middle].room.outdoor_c or 0.0,
        full_share=(ways[middle].room.product_kg or 0.0) / told.holds_kg,
    )


def _moves(ways: Sequence[Way], middles: Sequence[float]) -> tuple[str, ...]:
    moved = []
    for name, _ in ways[0].guessed:
        groups: dict[float, list[int]] = {}
        for at, way in enumerate(ways):
            groups.setdefault(dict(way.guessed)[name], []).append(at)
        means = [
            sum(ways[at].weight * middles[at] for at in places) / sum(ways[at].weight for at in places)
            for places in groups.values()
        ]
        ratio = max(means) / min(means)
        if ratio >= MOVES_FROM:
            moved.append((-round(math.log(ratio), 9), name))
    return tuple(name for _, name in sorted(moved))


__all__ = ["BIGGEST_W", "FLOOR_C", "Plan", "plan_of"]
