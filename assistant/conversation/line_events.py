"""Events of the line itself: pictures that came, and what somebody says about texts that come unasked."""

from dataclasses import dataclass
from datetime import datetime

from assistant.conversation.ids import ConsentScope, MessageId


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoTaken:
    """Pictures came with a message; they are for people to look at."""

    at: datetime
    message: MessageId
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ConsentAnswered:
    """They said whether we may text them unasked."""

    at: datetime
    scope: ConsentScope
    yes: bool
    message: MessageId | None = None
