"""The one table from words to numbers.

Words for how strongly a cause shows: inside the middle half of, or between, published studies of how people use them:
Mauboussin & Mauboussin, "If you say something is 'likely' …" (2018, public raw answers); Rohrmann, "Verbal qualifiers
for rating scales" (2007); Hakel, "How often is often?", Am. Psychol. 23 (1968); Kent, "Words of estimative
probability" (1964). Rounding is ours. Never 0, never 1.
"""

from types import MappingProxyType
from typing import Final

from kb.schema import HowCommon, HowStrongly, Strength

HOW_STRONGLY: Final = MappingProxyType[HowStrongly, float](
    {
        "nearly always": 0.92,
        "usually": 0.77,
        "often": 0.67,
        "sometimes": 0.30,
        "rarely": 0.10,
        "almost never": 0.03,
    }
)

HOW_RIGHT: Final = MappingProxyType[HowStrongly, float](
    {
        "nearly always": 0.97,
        "usually": 0.90,
        "often": 0.77,
        "sometimes": 0.60,
        "rarely": 0.50,
        "almost never": 0.40,
    }
)
"""How often people are right about what they look at (ours; common practice, no source).

Not the table above: nobody takes a lit word "fan" for "cool" one time in twelve. "usually" is one wrong answer in ten.
"""

HOW_COMMON: Final = MappingProxyType[HowCommon, float](
    {"very common": 16.0, "common": 8.0, "uncommon": 3.0, "rare": 1.0, "very rare": 0.3}
)
"""Weights, ours; normalised over the causes of one kind of equipment."""

SHARE_NOTHING_WRONG: Final = 0.10
SHARE_TWO_CAUSES: Final = 0.15
"""Fixed shares of belief before anything is said (common practice, no source)."""
SHARE_SOMETHING_ELSE: Final = 0.10
"""Measured: with .05 it hardly ever leads where a cause is taken out of the knowledge; .15 costs known causes 3 in 100."""

LEAST_LEFT: Final = 0.03
"""What the words on one finding always leave for the states they do not name."""


def strength(word: Strength) -> float:
    """The probability that a word, or a number written in its place, stands for.

    >>> strength("usually"), strength(0.4)
    (0.77, 0.4)
    """
    return word if isinstance(word, float) else HOW_STRONGLY[word]
