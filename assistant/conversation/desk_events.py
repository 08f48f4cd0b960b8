"""What a colleague does, and what is told after they closed the case."""

from dataclasses import dataclass
from datetime import datetime

from assistant.conversation.ids import MessageId


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldTold:
    """Asked some days after the close whether it held, they answered."""

    at: datetime
    held: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ColleagueSpoke:
    """A colleague wrote; the words stand beside the log."""

    at: datetime
    colleague: str
    message: MessageId
