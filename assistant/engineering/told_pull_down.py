"""The expected fall of a room as it was told: the middle of all the ways in which it may be."""

import math
from dataclasses import replace
from typing import Final

from assistant.engineering.matching import at_share
from assistant.engineering.pull_down import ColdRoom, PullDown, expected_pull_down
from assistant.engineering.told_rooms import (
    USUAL_HEAT_KJ_KGK,
    USUAL_HIGH_M,
    USUAL_TARGET_C,
    ToldRoom,
    ways_of,
)

COLD_C = 5.0
WARM_C = 15.0


GONE: Final = 1.0 - math.exp(-1.0)


def told_tau_h(fall: PullDown, target_c: float) -> float | None:
    """The time constant of an expected fall: the hours in which 63 % of the way to the target is gone.

    None where it starts at its target or stalls above it: then nothing settles there.
    """
    start_c = fall.air_c[0]
    goal_c = start_c - GONE * (start_c - target_c)
    if start_c <= target_c or fall.stalls_c is not None:
        return None
    return next((at_h for at_h, air_c in zip(fall.hours, fall.air_c, strict=True) if air_c <= goal_c), None)


def told_pull_down(told: ToldRoom, rated_w: float, start_c: float) -> PullDown:
    """The curve from `start_c` to the told target, with the warm product of a day in the room.

    Fails with `OutOfRangeError` on a box that is no room, or a start or rating that no cold room has.

    >>> told = ToldRoom(long_m=3.0, wide_m=3.0, foam_m=0.1, outdoor_c=30.0, door_use="usual", product_kg=0.0)
    >>> fall = told_pull_down(told, 3517.0, 25.0)
    >>> fall.reaches_h is not None and 0.5 < fall.reaches_h < 6.0
    True
    """
    ways = ways_of(told)
    target_c = USUAL_TARGET_C if told.target_c is None else told.target_c
    loads = [way.net_w_at(target_c) for way in ways]
    way = ways[at_share(loads, [one.weight for one in ways], 0.5)]
    empty = replace(way, room=replace(way.room, product_kg=0.0))
    ua_w_k = (empty.net_w_at(COLD_C) - empty.net_w_at(WARM_C)) / (WARM_C - COLD_C)
    outdoor_c = way.room.outdoor_c or 0.0
    high_m = USUAL_HIGH_M if told.high_m is None else told.high_m
    room = ColdRoom(
        volume_m3=told.volume_m3,
        inner_m2=2.0 * (told.long_m * told.wide_m + (told.long_m + told.wide_m) * high_m),
        ua_w_k=ua_w_k,
        # cool ground takes heat that walls bring: what is left over is no gain
        gains_w=max(0.0, empty.net_w_at(COLD_C) - ua_w_k * (outdoor_c - COLD_C)),
        rated_w=rated_w,
        outdoor_c=outdoor_c,
        air_start_c=start_c,
        product_kg=way.room.product_kg or 0.0,
        product_kj_kgk=USUAL_HEAT_KJ_KGK if told.heat_kj_kgk is None else told.heat_kj_kgk,
        product_start_c=told.product_from_c,
    )
    return expected_pull_down(room, target_c)
