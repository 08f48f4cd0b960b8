"""Sums over the numbers that were given: each feeds a finding, softly, with how far its inputs can be trusted."""

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Final

from assistant.conversation.events import FactLearned
from assistant.conversation.room_readings import ROOM
from assistant.conversation.room_sums import Shares, Worked, load_against_capacity
from assistant.conversation.small_sums import line_loss, probe_in_ice
from assistant.conversation.sum_events import SumDone
from assistant.conversation.trending import learn_trend, proves_a_fix
from assistant.conversation.turn import Turn
from assistant.engineering import READING_SIGMA_K, compared_shares, shares_of_bands
from kb.ids import QuantityId, StateId
from kb.schema import Finding

AT_TARGET_K: Final = 1.1
FAR_ABOVE_K: Final = 4.0
UNIT_LOWEST_FROM_C: Final = 14.0
UNIT_LOWEST_TO_C: Final = 19.0
"""Where a room air conditioner's own thermostat ends its run (common practice, no source)."""

BELOW_REACH_C: Final = 1.5
TOO_WARM_TARGET_C: Final = 8.0
TARGET_SIGMA_K: Final = 0.3
"""A target is read off a display and does not swing."""

HOT_OUTDOORS_C: Final = 38.0
COLD_OUTDOORS_C: Final = 10.0
OUTDOOR_SIGMA_K: Final = 2.0


def room_above_target(room_c: float, target_c: float) -> Shares:
    """How far the room stands above its target; near the unit's own lowest setting is a place of its own.

    >>> shares = room_above_target(16.0, 3.0)
    >>> max(shares, key=shares.__getitem__)
    'near_unit_lowest'
    """
    above = shares_of_bands(
        room_c - target_c,
        READING_SIGMA_K,
        [-AT_TARGET_K, AT_TARGET_K, FAR_ABOVE_K],
        ["below_target", "at_target", "little_above", "far_above"],
    )
    there = shares_of_bands(
        room_c, READING_SIGMA_K, [UNIT_LOWEST_FROM_C, UNIT_LOWEST_TO_C], ["under", "near", "over"]
    )["near"]
    shares = {**above, "near_unit_lowest": above["far_above"] * there}
    shares["far_above"] = above["far_above"] * (1.0 - there)
    return shares


def target_level(target_c: float) -> Shares:
    """Whether the target makes sense for a cold room that a room unit cools."""
    return shares_of_bands(
        target_c, TARGET_SIGMA_K, [BELOW_REACH_C, TOO_WARM_TARGET_C], ["below_reach", "sensible", "too_warm"]
    )


def outdoor_level(outdoor_c: float) -> Shares:
    """Whether it is hot or cold outdoors for a room unit."""
    return shares_of_bands(
        outdoor_c, OUTDOOR_SIGMA_K, [COLD_OUTDOORS_C, HOT_OUTDOORS_C], ["cold", "mild", "hot"]
    )


OF_NUMBERS: Final[Mapping[str, Callable[..., Shares]]] = MappingProxyType(
    {
        "room_above_target": room_above_target,
        "display_minus_thermometer": compared_shares,
        "outdoor_level": outdoor_level,
        "target_level": target_level,
    }
)
"""Sums of the numbers that the finding names, in its order, by the names that findings use (`kb.schema.Sum`)."""

OF_THE_ROOM: Final[Mapping[str, Callable[[Turn], Worked | None]]] = MappingProxyType(
    {"load_against_capacity": load_against_capacity, "ice_point": probe_in_ice, "line_loss": line_loss}
)
"""Sums that take whatever is known of the room, and say what they guessed."""


def do_sums(turn: Turn, fresh: frozenset[QuantityId]) -> None:
    """Every sum that a new number feeds, once all its numbers are known; a sum done anew replaces the old one."""
    learn_trend(turn, fresh)
    for finding in turn.knowledge.findings.values():
        if finding.sum is None or not fresh & {*finding.sum.of, *finding.sum.also}:
            continue
        if ROOM in finding.sum.of and proves_a_fix(turn.case):
            continue  # it is the proof of that fix, and does not count a second time
        _do_one(turn, finding)


def do_sums_of_facts(turn: Turn) -> None:
    """Sums that stand on facts, once more where this turn taught one of them."""
    learned = {event.finding for event in turn.events if isinstance(event, FactLearned)}
    for finding in turn.knowledge.findings.values():
        if finding.sum is not None and learned & set(finding.sum.facts):
            _do_one(turn, finding)


def _do_one(turn: Turn, node: Finding) -> None:
    worked = _worked(turn, node)
    if worked is None or node.sum is None:
        return
    likeliest = max(node.states, key=lambda state: (worked.shares.get(state, 0.0), state))
    turn.add(
        SumDone(
            at=turn.at,
            sum=node.sum.name,
            inputs=worked.inputs,
            results=(*worked.shares.items(), *worked.results),
            defaults=worked.defaults,
            verdict=likeliest,
        )
    )
    turn.add(
        FactLearned(
            at=turn.at,
            finding=node.finding,
            state=likeliest,
            likelihood=tuple((StateId(state), worked.shares.get(state, 0.0)) for state in node.states),
            confidence=worked.shares.get(likeliest, 0.0),
            source="sum",
            epoch=turn.case.epoch,
            replaces=True,
        )
    )


def _worked(turn: Turn, node: Finding) -> Worked | None:
    """The sum's outcome; None while a number that it needs is missing."""
    assert node.sum is not None  # noqa: S101 - the caller looked
    numbers = [turn.case.latest_number(quantity) for quantity in node.sum.of]
    given = [number for number in numbers if number is not None]
    if len(given) < len(numbers):
        return None
    if node.sum.name in OF_THE_ROOM:
        return OF_THE_ROOM[node.sum.name](turn)
    shares = OF_NUMBERS[node.sum.name](*(number.si for number in given))
    return Worked(shares=shares, inputs=tuple((str(number.quantity), number.si) for number in given))
