"""Sums of a probe in ice water and of a wire's loss: what they say of their finding, and one sentence each."""

from typing import Final

from assistant.conversation.known import unit_of
from assistant.conversation.room_sums import Worked
from assistant.conversation.sum_events import SumDone
from assistant.conversation.turn import Turn
from assistant.engineering import OutOfRangeError, ice_point, shares_of_bands, voltage_drop
from assistant.wording import as_said, bare, degrees, degrees_apart

ICE: Final = "ice_point"
LINE: Final = "line_loss"
PROBE_K: Final = 1.1
"""2 °F: what the US Food Code asks of a probe for food (4-203.11), and a fair bar for a room's."""

ICE_SIGMA_K: Final = 0.4
"""A whole degree F read off a display in a careful bath (common practice, no source)."""

TOO_MUCH: Final = 0.05
"""Branch and feeder together: 5 % is the recommendation of NFPA 70, 210.19 and 215.2 (notes)."""

LOSS_SIGMA: Final = 0.15
"""Of the loss itself: the unit's amps change with the weather (our judgement)."""

USUAL_A: Final = 12.0
EUROPE_V: Final = 230.0
AMERICA_V: Final = 120.0


def probe_in_ice(turn: Turn) -> Worked | None:
    """Whether the probe reads 0 °C in ice water."""
    number = turn.case.latest_number("ice_water_c")
    if number is None:
        return None
    try:
        found = ice_point(number.si, PROBE_K)
    except (
        OutOfRangeError
    ):  # no bath of ice and water is that warm or cold: it is asked about as a number that cannot be
        return None
    shares = shares_of_bands(
        found.difference_k,
        ICE_SIGMA_K,
        [-found.allowed_k, found.allowed_k],
        ["reads_cold", "right", "reads_warm"],
    )
    return Worked(
        shares=shares,
        inputs=(("ice_water_c", number.si),),
        results=(("off_k", found.difference_k), ("allowed_k", found.allowed_k)),
    )


def line_loss(turn: Turn) -> Worked | None:
    """Whether length and gauge lose too much of the voltage at the unit's amps; it never approves a cord."""
    length, gauge = turn.case.latest_number("cord_m"), turn.case.latest_number("cord_gauge")
    if length is None or gauge is None:
        return None
    amps, volts = turn.case.latest_number("unit_a"), turn.case.latest_number("supply_v")
    unit_a = USUAL_A if amps is None else amps.si
    supply_v = (EUROPE_V if turn.region == "112" else AMERICA_V) if volts is None else volts.si
    try:
        drop = voltage_drop(unit_a, length.si, round(gauge.si), supply_v)
    except OutOfRangeError:  # a gauge that no table has, or a wire that would lose all of it: nothing to say
        return None
    missing = {"unit_a": amps, "supply_v": volts}
    return Worked(
        shares=shares_of_bands(
            drop.lost_share, LOSS_SIGMA * drop.lost_share + 1e-3, [TOO_MUCH], ["fine", "too_much"]
        ),
        inputs=(("cord_m", length.si), ("cord_gauge", gauge.si), ("unit_a", unit_a), ("supply_v", supply_v)),
        results=(("lost_v", drop.lost_v), ("lost_share", drop.lost_share), ("at_unit_v", drop.at_unit_v)),
        defaults=tuple(name for name, told in missing.items() if told is None),
    )


def tell_small_sums(turn: Turn) -> None:
    """One sentence each, when they were worked out in this turn and say something new."""
    for done in (event for event in turn.events if isinstance(event, SumDone)):
        if done.sum == ICE:
            _tell_ice(turn, done)
        elif done.sum == LINE:
            _tell_line(turn, done)


def _tell_ice(turn: Turn, done: SumDone) -> None:
    off_k, unit = dict(done.results)["off_k"], unit_of(turn.case)
    if done.verdict == "right":
        if not turn.has_said("ice_right"):
            turn.say("ice_right")
        return
    seen = degrees(dict(done.inputs)["ice_water_c"], unit)
    turn.say("ice_off", seen=seen, zero=degrees(0.0, unit), off=degrees_apart(abs(off_k), unit))


def _tell_line(turn: Turn, done: SumDone) -> None:
    sentence = "line_too_much" if done.verdict == "too_much" else "line_fine"
    if turn.has_said(sentence):
        return
    given, found = dict(done.inputs), dict(done.results)
    length = turn.case.latest_number("cord_m")
    told = (
        bare(given["cord_m"]) + " m" if length is None else as_said(length.value, length.unit, turn.language)
    )
    turn.say(
        sentence,
        length=told,
        gauge=bare(given["cord_gauge"]),
        lost=bare(found["lost_v"]),
        volts=bare(given["supply_v"]),
        share=bare(100.0 * found["lost_share"]),
    )
