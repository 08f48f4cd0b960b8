"""From a doubtful number to how likely it lies in each of several bands."""

from collections.abc import Mapping, Sequence
from statistics import NormalDist


def shares_of_bands(
    value: float, sigma: float, edges: Sequence[float], names: Sequence[str]
) -> Mapping[str, float]:
    """The share of a normal spread around `value` that falls into each band between `edges`.

    `edges` rise; `names` has one more entry than `edges`. `sigma` is above 0, in the unit of `value`.
    Shares sum to 1.

    >>> shares_of_bands(3.0, 1.0, [3.0], ["below", "above"])
    {'below': 0.5, 'above': 0.5}
    """
    spread = NormalDist(value, sigma)
    below = [0.0, *(spread.cdf(edge) for edge in edges), 1.0]
    return {name: high - low for name, low, high in zip(names, below[:-1], below[1:], strict=True)}
