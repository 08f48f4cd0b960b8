"""What can happen to a case: the only way in. Time comes with it; nothing below ever looks at a clock."""

from dataclasses import dataclass
from datetime import datetime

from assistant.conversation.ids import ConsentScope, MessageId, TimerName
from kb.ids import FindingId, Language, StateId


@dataclass(frozen=True, slots=True, kw_only=True)
class CaseBegun:
    """A case was opened by somebody's first message, or by a page before any."""

    at: datetime
    language: Language | None
    """What the channel or an earlier case knows of their language; None: the first words decide."""
    channel: str
    zone: str
    """IANA time zone of the room, or the best guess."""
    region: str
    """`911`, `112`, `unknown` or `other`: which number saves lives there."""
    desk_opens: str = "07:00"
    desk_closes: str = "19:00"
    """When people are at the desk, wall time where the desk's customers are."""
    room: str | None = None
    """A room's id where an earlier case knows it."""
    greet: bool = False
    """Opened by a page before any message: say who answers, and ask."""
    agreed: tuple[ConsentScope, ...] | None = None
    """Texts that may come unasked, by an earlier yes; None: this channel needs none."""
    phone_line: bool = False
    """A page's customer may take the case along to a phone."""
    carried: tuple[tuple[str, str], ...] = ()
    """Findings that an earlier case of the same room leaves to this one, as (finding, state)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MessageHeard:
    """A customer's message."""

    at: datetime
    message: MessageId
    text: str
    photos: int = 0
    """How many pictures came with it; with no words, they are all of it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoLost:
    """A picture that a message brought cannot be shown to anybody."""

    at: datetime
    message: MessageId


@dataclass(frozen=True, slots=True, kw_only=True)
class TimerDue:
    """An hour that was promised has come."""

    at: datetime
    timer: TimerName


@dataclass(frozen=True, slots=True, kw_only=True)
class ColleagueTookOver:
    """Somebody at the desk speaks from now on."""

    at: datetime
    colleague: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ColleagueWrote:
    """Somebody at the desk wrote to the customer; the words are kept beside the log under `message`."""

    at: datetime
    colleague: str
    message: MessageId


@dataclass(frozen=True, slots=True, kw_only=True)
class ColleagueHandedBack:
    """The assistant speaks again."""

    at: datetime
    colleague: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ColleagueReopened:
    """After a danger, somebody at the desk says that repair may go on."""

    at: datetime
    colleague: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ColleagueClosed:
    """Somebody at the desk closed the case, with the confirmed cause where there is one."""

    at: datetime
    colleague: str
    cause: str | None
    is_new: bool = False
    """The cause is none that the knowledge lists; its words stand beside the log."""
    fix: str | None = None
    """What mended it, where the knowledge lists it."""
    held: bool | None = None
    """They say already that it held, or that it did not."""
    ask_at: datetime | None = None
    """When we ask them whether it held."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ColleagueLearned:
    """Somebody at the desk says what a finding is: they asked by telephone, or mend what was misread."""

    at: datetime
    colleague: str
    finding: FindingId
    state: StateId


@dataclass(frozen=True, slots=True, kw_only=True)
class ColleagueSaid:
    """Somebody at the desk sends a sentence of ours by its id: it goes out in the customer's language."""

    at: datetime
    colleague: str
    sentence: str
    """`ask:CHECK`, `fix:FIX`, `hazard:HAZARD` or one of our own sentences."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ColleaguePromised:
    """Somebody at the desk promises to be back at an hour."""

    at: datetime
    colleague: str
    due: datetime
    tell: bool
    """The customer is told the hour."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StepFailed:
    """Deciding about a message failed twice: the customer gets an honest sentence, the desk the case."""

    at: datetime
    message: MessageId | None
    fault: str


Happening = (
    CaseBegun
    | MessageHeard
    | PhotoLost
    | TimerDue
    | ColleagueTookOver
    | ColleagueWrote
    | ColleagueSaid
    | ColleaguePromised
    | ColleagueLearned
    | ColleagueHandedBack
    | ColleagueReopened
    | ColleagueClosed
    | StepFailed
)
