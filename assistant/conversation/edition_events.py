"""What a new edition of the knowledge does to a case."""

from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class EditionMoved:
    """The case goes on with another edition; what it holds is called as that one calls it."""

    at: datetime
    edition: str
    renamed: tuple[tuple[str, str, str], ...] = ()
    """(kind, old id, new id) of what the case holds; of a state `(state, finding.old, new)`, the finding's id the new one."""
    gone: tuple[tuple[str, str], ...] = ()
    """(kind, id) of what the edition has nothing for: it counts no more."""
