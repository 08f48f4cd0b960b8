"""Whoever carries texts away: what a channel must be able to do, and what may become of a text."""

from dataclasses import dataclass
from datetime import datetime
from typing import Literal, Protocol

RefusalKind = Literal["opted_out", "unusable", "carrier", "ours"]
"""`opted_out`: they told the carrier to stop us · `unusable`: no text reaches this number · `carrier`: this text was
filtered or blocked · `ours`: a fault on our side."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Accepted:
    """The provider took the text on."""

    provider_id: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Refused:
    """The provider will never send it."""

    why: str
    kind: RefusalKind = "ours"


@dataclass(frozen=True, slots=True, kw_only=True)
class Later:
    """The provider surely did not send it, and may later: it is busy, or our account with it is out of order."""

    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class NotSent:
    """The provider keeps a list, and it is not on it."""


Outcome = Accepted | Refused | Later


class Courier(Protocol):
    """Whoever carries texts away. Raising means that nobody knows what became of the text."""

    def send(self, address: str, text: str, once: str, again_since: datetime | None) -> Outcome:
        """Carry `text` to `address`; the same `once` is the same text.

        `again_since`: it may have gone out before, but not before then; look whether it did.
        """
        ...

    def look_back(self, address: str, text: str, since: datetime) -> Accepted | NotSent | None:
        """Whether it went out since then; None: that cannot be known here. Raises where it cannot be asked now."""
        ...
