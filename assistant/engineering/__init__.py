"""Engineering: cold-room sums on plain numbers in SI.

In: numbers. Out: numbers with what they were worked out from. Never: knowledge, a case, a sentence.
"""

from assistant.engineering.bands import shares_of_bands
from assistant.engineering.readings import READING_SIGMA_K, compared_shares
from assistant.engineering.settling import (
    TYPICAL_TAU_H,
    Expectation,
    expected_after_fix,
    settling_c,
    worked_share,
)
from assistant.engineering.units import celsius_of, metres_of

__all__ = [
    "READING_SIGMA_K",
    "TYPICAL_TAU_H",
    "Expectation",
    "celsius_of",
    "compared_shares",
    "expected_after_fix",
    "metres_of",
    "settling_c",
    "shares_of_bands",
    "worked_share",
]
