"""From the strength of a claim to a probability: one map, fitted to labelled texts, for what nobody asked about.

A claim's strength comes from distances and wordings; how often such a claim is right was counted on the tuning and
development sets (`helpline read --score … --worst 0` prints the counts by source). In between the counts the map is a
straight line. What answers the open question is left as it is: those strengths were found honest.
"""

from collections.abc import Mapping
from itertools import pairwise
from typing import Final

from assistant.reading.compose import Source

Points = tuple[tuple[float, float], ...]

_ALONE: Final[Mapping[Source, Points]] = {
    "unnamed": ((0.0, 0.0), (0.5, 0.05), (0.62, 0.3), (0.64, 0.5), (1.0, 0.55)),
}
"""With no question open."""
_IN_A_REPLY: Final[Mapping[Source, Points]] = {
    "unnamed": ((0.0, 0.0), (1.0, 0.3)),
    "carried": ((0.0, 0.0), (1.0, 0.3)),
}
"""Beside an answer: the thing asked about draws words to itself that are the answer, and no further finding."""


def probability_of(strength: float, source: Source, *, replying: bool) -> float:
    """How likely a claim of this strength from this source is right, between 0 and 1.

    >>> probability_of(0.9, "saying", replying=True), probability_of(0.5, "carried", replying=True)
    (0.9, 0.15)
    """
    points = (_IN_A_REPLY if replying else _ALONE).get(source)
    if points is None:
        return strength
    for (low, from_), (high, to) in pairwise(points):
        if strength <= high:
            return from_ + (to - from_) * (strength - low) / (high - low)
    return points[-1][1]
