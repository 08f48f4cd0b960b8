"""Getting at pictures that wait with a provider: what a channel must be able to do, and what it may answer."""

from dataclasses import dataclass
from typing import Protocol


@dataclass(frozen=True, slots=True)
class Unfit:
    """It will never be had: it is gone, too large, or not where a picture of ours may be."""

    why: str


@dataclass(frozen=True, slots=True)
class NotYet:
    """It may be had later."""

    why: str


class Fetcher(Protocol):
    """Whoever gets at pictures that wait with the provider."""

    def fetch(self, origin: str) -> bytes | Unfit | NotYet:
        """The bytes there, unchecked but for their number."""
        ...

    def forget(self, origin: str) -> bool:
        """Have the provider delete it; false: try again later."""
        ...
