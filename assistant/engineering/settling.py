"""How a room settles after a fix, and how a later number tells whether it worked.

A room that was mended approaches its target as T(t) = T_end + (T_0 - T_end) e^(-t/tau); a room that was not stays where
it is. tau comes from the room's expected fall where size and rating are known, and is typical else; three values around
it share the weight equally. Newton's law of cooling; the lumped form is the textbook one (Incropera, Fundamentals of Heat and Mass Transfer, ch. 5). The values of
tau for a stocked room of 4-60 m3 are common practice, no source.
"""

import math
from dataclasses import dataclass
from statistics import NormalDist
from typing import Final

from assistant.engineering.readings import READING_SIGMA_K

TYPICAL_TAU_H: Final = 6.0
TAU_FACTORS: Final = (0.5, 1.0, 2.0)
"""A room may settle in half or twice the time that is held of it: stock, doors, weather (our judgement)."""

STANDING_SIGMA_K: Final = 1.2
"""A room that was not mended still wanders with doors and weather (common practice, no source)."""

TOLD_APART_SIGMAS: Final = 2.0
LONGEST_H: Final = 24.0
STEP_H: Final = 0.25


@dataclass(frozen=True, slots=True, kw_only=True)
class Expectation:
    """When to look again, and what to see then."""

    after_h: float
    works_c: float
    fails_c: float
    told_apart: bool
    """False: even at `after_h` the two lie within the noise of a texted reading."""


def settling_c(start_c: float, end_c: float, after_h: float, tau_h: float = TYPICAL_TAU_H) -> float:
    """The room's temperature `after_h` hours after it began to settle.

    >>> settling_c(20.0, 4.0, 0.0), round(settling_c(20.0, 4.0, 6.0), 1)
    (20.0, 9.9)
    """
    return end_c + (start_c - end_c) * math.exp(-after_h / tau_h)


def expected_after_fix(
    start_c: float, target_c: float, *, at_least_h: float, tau_h: float = TYPICAL_TAU_H
) -> Expectation:
    """The first quarter of an hour at which working and not working differ by two sigma of a texted reading.

    `tau_h` is that of this room where its expected fall is known (`told_tau_h`).
    """
    after_h = max(STEP_H, at_least_h)
    needed_k = TOLD_APART_SIGMAS * READING_SIGMA_K
    while abs(start_c - settling_c(start_c, target_c, after_h, tau_h)) < needed_k and after_h < LONGEST_H:
        after_h += STEP_H
    works_c = settling_c(start_c, target_c, after_h, tau_h)
    told_apart = abs(start_c - works_c) >= needed_k
    return Expectation(after_h=after_h, works_c=works_c, fails_c=start_c, told_apart=told_apart)


def worked_share(
    seen_c: float, *, start_c: float, target_c: float, after_h: float, tau_h: float = TYPICAL_TAU_H
) -> float:
    """p(seen | it worked) / (p(seen | it worked) + p(seen | it did not)): 0.5 says nothing.

    >>> worked_share(11.0, start_c=11.0, target_c=3.0, after_h=4.0) < 0.1
    True
    >>> worked_share(7.0, start_c=11.0, target_c=3.0, after_h=4.0) > 0.9
    True
    """
    works = sum(
        NormalDist(settling_c(start_c, target_c, after_h, factor * tau_h), READING_SIGMA_K).pdf(seen_c)
        for factor in TAU_FACTORS
    ) / len(TAU_FACTORS)
    fails = NormalDist(start_c, STANDING_SIGMA_K).pdf(seen_c)
    floor = 1e-4  # a number that neither foresees says nothing, whichever tail is thinner
    return (works + floor) / (works + fails + 2 * floor)


def stopped_short_share(seen_c: float, *, start_c: float, target_c: float) -> float:
    """p(seen | it fell and stopped short) / (p(seen | that) + p(seen | it stayed as it was)): 0.5 says nothing.

    A room that stands still `seen_c`, somewhere between where it began and its target: anywhere between is as likely.

    >>> stopped_short_share(11.0, start_c=11.0, target_c=3.0) < 0.2     # it has not moved
    True
    >>> stopped_short_share(7.2, start_c=10.0, target_c=3.3) > 0.8      # 50, then 45 F, for 38
    True
    """
    if target_c >= start_c:
        return 0.5
    noise = NormalDist(0.0, READING_SIGMA_K)
    short = (noise.cdf(start_c - seen_c) - noise.cdf(target_c - seen_c)) / (start_c - target_c)
    stayed = NormalDist(start_c, STANDING_SIGMA_K).pdf(seen_c)
    floor = 1e-4
    return (short + floor) / (short + stayed + 2 * floor)
