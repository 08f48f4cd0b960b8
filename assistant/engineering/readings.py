"""What a texted temperature is worth: whole degrees read off a saw-tooth, at an unknown point of the cycle."""

import math
from collections.abc import Mapping
from typing import Final

from assistant.engineering.bands import shares_of_bands

READING_SIGMA_K: Final = 0.8
"""One texted reading of one room (rounding to 1 F and a saw-tooth of 2-4 F; common practice, no source: 0.6-1.0 K)."""

NO_VERDICT_BELOW_K: Final = 2.2
"""Two separate instruments less than 4 F apart agree, for all one can tell (common practice, no source)."""


def compared_shares(display_c: float, thermometer_c: float) -> Mapping[str, float]:
    """Whether a display and a separate thermometer agree: shares of `display_lower`, `agree`, `display_higher`.

    >>> shares = compared_shares(4.0, 10.0)
    >>> max(shares, key=shares.__getitem__)
    'display_lower'
    """
    sigma_k = math.hypot(READING_SIGMA_K, READING_SIGMA_K)
    return shares_of_bands(
        display_c - thermometer_c,
        sigma_k,
        [-NO_VERDICT_BELOW_K, NO_VERDICT_BELOW_K],
        ["display_lower", "agree", "display_higher"],
    )
