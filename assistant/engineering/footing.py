"""What a worked result stands on, so that nothing that went into it is hidden."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Footing:
    """Inputs with units in their names, what was assumed for want of an answer, and how far the result holds."""

    inputs: tuple[tuple[str, float], ...]
    defaults: tuple[str, ...] = ()
    """Names of inputs that nobody gave."""

    holds: str
    """The conditions, in a phrase."""

    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Term:
    """One line of an itemised sum, in watts averaged over the day."""

    name: str
    mean_w: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Range:
    """A value and the 90 % interval around it."""

    low: float
    middle: float
    high: float
