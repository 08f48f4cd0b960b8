"""What sums did: each with all that went into it, so that its worksheet and picture can be drawn from it for ever."""

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from assistant.conversation.ids import MessageId
from kb.ids import ProductId


@dataclass(frozen=True, slots=True, kw_only=True)
class SumDone:
    """A sum over known numbers; what it says of a finding stands as a `FactLearned` of source `sum`."""

    at: datetime
    sum: str
    inputs: tuple[tuple[str, float], ...]
    """(name with its unit, value) in order; a list of readings gives the same names again and again."""
    results: tuple[tuple[str, float], ...]
    defaults: tuple[str, ...] = ()
    """Names of the inputs that nobody gave."""
    verdict: str = ""
    version: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class ProductLearned:
    """Something that is kept in the room was named."""

    at: datetime
    product: ProductId
    message: MessageId | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class WatchBegun:
    """The customer's room is watched until it holds: readings in, verdicts out."""

    at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class WatchEnded:
    """It holds, it will not get there, or something else came up."""

    at: datetime
    why: Literal["held", "stalls", "rising", "news"]
