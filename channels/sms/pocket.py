"""The demo's courier: texts stay in a pocket, where a pretend phone finds them."""

import threading
from dataclasses import dataclass, field
from datetime import datetime

from assistant.helpline import Accepted, NotSent


@dataclass(slots=True)
class Pocket:
    """A courier that carries nothing away."""

    _texts: list[tuple[str, str]] = field(default_factory=list)
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def send(self, address: str, text: str, once: str, again_since: datetime | None) -> Accepted:
        """Put the text into the pocket."""
        del once, again_since
        with self._lock:
            self._texts.append((address, text))
        return Accepted()

    def look_back(self, address: str, text: str, since: datetime) -> Accepted | NotSent:
        """It is in the pocket, or it is not."""
        del since
        with self._lock:
            return Accepted() if (address, text) in self._texts else NotSent()

    def texts(self, address: str, after: int) -> tuple[tuple[int, str], ...]:
        """The texts to an address behind a place, each with its own place, from 1."""
        with self._lock:
            kept = tuple(enumerate(self._texts, start=1))
        return tuple((place, text) for place, (to, text) in kept if to == address and place > after)
