"""What became of it: the only way out of `step`, and all that a case remembers.

Everything decided stands in an event, so that folding never decides. No event holds a customer's words, name or
number: those live beside the log under the message's id, and a case folds the same when they are gone.
"""

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from assistant.conversation.desk_events import ColleagueSpoke, HeldTold
from assistant.conversation.edition_events import EditionMoved
from assistant.conversation.ids import CaseState, ConsentScope, MessageId, SentenceId, TimerName
from assistant.conversation.line_events import ConsentAnswered, PhotoTaken
from assistant.conversation.sum_events import ProductLearned, SumDone, WatchBegun, WatchEnded
from kb.ids import CauseId, CheckId, FindingId, FixId, HazardId, Language, QuantityId, StateId, SymptomId

Likelihood = tuple[tuple[StateId, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CaseOpened:
    """The case exists."""

    at: datetime
    language: Language | None
    channel: str
    edition: str
    zone: str
    region: str
    room: str | None
    desk_opens: str = "07:00"
    desk_closes: str = "19:00"
    agreed: tuple[ConsentScope, ...] | None = None
    """Texts that may come unasked, by an earlier yes; None: this channel needs none."""
    phone_line: bool = False
    """A page's customer may take the case along to a phone."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Heard:
    """A customer's message was taken in and read."""

    at: datetime
    message: MessageId
    language: Language
    unread: tuple[tuple[int, int], ...] = ()
    moves: tuple[str, ...] = ()
    answered: bool = False
    """The open question got its answer."""
    last_thing: str | None = None
    """The id of the thing named last: what "it" means in the next message."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FactLearned:
    """A finding is known, surely or softly."""

    at: datetime
    finding: FindingId
    state: StateId
    likelihood: Likelihood
    """p(state | words) over all its states."""
    confidence: float
    source: Literal["answer", "said", "sum", "implied", "carried", "colleague"]
    check: CheckId | None = None
    message: MessageId | None = None
    span: tuple[int, int] = (0, 0)
    epoch: int = 0
    replaces: bool = False
    """A correction: what was believed of it in this epoch no longer counts."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FactTakenBack:
    """What we took a finding for was wrong, and nothing takes its place."""

    at: datetime
    finding: FindingId
    message: MessageId | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ComplaintHeard:
    """What they complain of."""

    at: datetime
    symptom: SymptomId
    confidence: float
    message: MessageId | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class NumberLearned:
    """A quantity was given, in SI, with the unit that the person used."""

    at: datetime
    quantity: QuantityId
    si: float
    value: float
    unit: str
    message: MessageId | None = None
    taken_at: datetime | None = None
    """When it was read off, where that was said; else `at`."""
    replaces: bool = False

    @property
    def read_at(self) -> datetime:
        """When it was read off, as far as we know."""
        return self.taken_at or self.at


@dataclass(frozen=True, slots=True, kw_only=True)
class HazardRaised:
    """A hazard was heard, or a colleague raised it."""

    at: datetime
    hazard: HazardId
    level: Literal["danger", "stop and confirm", "care"]
    message: MessageId | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class HazardCleared:
    """A stop-and-confirm was confirmed, or a colleague reopened after a danger."""

    at: datetime
    hazard: HazardId
    by: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Believed:
    """What is believed now; the leading causes with their probabilities."""

    at: datetime
    causes: tuple[tuple[CauseId, float], ...]
    nothing_wrong: float
    something_else: float
    entropy_bits: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """A check was put to the customer."""

    at: datetime
    check: CheckId
    gain_bits: float
    again: bool = False
    splits: tuple[tuple[CauseId, StateId], ...] = ()
    """The causes it tells apart, each with the state it would most likely show: the reason, for "why?"."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckLaidAside:
    """A check will not be asked now."""

    at: datetime
    check: CheckId
    reason: Literal["unsure", "cannot", "skipped", "unanswered"]


@dataclass(frozen=True, slots=True, kw_only=True)
class WaitingFor:
    """What the next message is read against; every reply of ours that expects something sets it."""

    at: datetime
    kind: Literal[
        "check", "say_back", "done", "hazard_done", "hazard_sign", "number", "opening", "which_unit", "resolved",
        "consent", "did_it_hold", "made_safe", "nothing",
    ]  # fmt: skip
    check: CheckId | None = None
    finding: FindingId | None = None
    state: StateId | None = None
    """With `say_back`: what we think we read."""
    quantity: QuantityId | None = None
    value: float | None = None
    """With `which_unit`: the bare number."""
    hazard: HazardId | None = None
    fix: FixId | None = None
    scope: ConsentScope | None = None
    """With `consent`: to which texts; `quantity` is the number that may come in place of an answer."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FixOffered:
    """One fix was offered."""

    at: datetime
    fix: FixId
    cause: CauseId
    probability: float


@dataclass(frozen=True, slots=True, kw_only=True)
class StepGiven:
    """One part of the fix was sent; `last` once all of it is."""

    at: datetime
    fix: FixId
    upto: int
    """How many of its steps have been sent."""
    last: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class FixDone:
    """The customer says that it is done: a new epoch, and what it touches no longer counts as now."""

    at: datetime
    fix: FixId
    touches: tuple[FindingId, ...]
    since: datetime | None = None  # when it was done, where a later number told so; else `at`


@dataclass(frozen=True, slots=True, kw_only=True)
class FixDeclined:
    """The customer can't or won't."""

    at: datetime
    fix: FixId


@dataclass(frozen=True, slots=True, kw_only=True)
class FixJudged:
    """How sure we are that it worked, from what was seen afterwards."""

    at: datetime
    fix: FixId
    worked: float
    """p(seen | worked) / (p(seen | worked) + p(seen | did not)): 0.5 says nothing."""
    moved: float | None = None  # the same of a room that fell and stopped short, against one that stayed


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """The room held, for the `times`-th check in a row."""

    at: datetime
    times: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """We said something: these very words, for ever."""

    at: datetime
    sentence: SentenceId
    language: Language
    text: str
    """The words as sent, but for `{room}`, which is filled from what the person calls their room."""
    opens_with: tuple[SentenceId, ...] = ()
    """Sentences that stand before `sentence` in the same text."""
    options: tuple[tuple[str, str], ...] = ()
    """(value, label) in order; shown as numbers in a text message, as buttons on a page."""
    urgent: bool = False
    """Danger, or an answer to somebody waiting: quiet hours do not hold it."""
    voice: str = "assistant"
    message: MessageId | None = None
    """A colleague's own words stand beside the log under this id, and `text` is empty."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TimerSet:
    """Come back at this hour; a timer of the same name is replaced."""

    at: datetime
    timer: TimerName
    due: datetime
    """UTC."""
    local: str
    """Wall time where the room is, as promised: `2026-07-14T17:00`."""
    zone: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TimerDropped:
    """No longer needed."""

    at: datetime
    timer: TimerName


@dataclass(frozen=True, slots=True, kw_only=True)
class StateChanged:
    """Where the case stands."""

    at: datetime
    state: CaseState


@dataclass(frozen=True, slots=True, kw_only=True)
class VoiceChanged:
    """Who speaks: `assistant`, `nobody`, or a colleague's name."""

    at: datetime
    voice: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DeskCalled:
    """A person at the desk is needed."""

    at: datetime
    why: Literal[
        "danger", "asked_for_a_person", "licensed_trade", "part", "out_of_questions", "planning", "other_equipment",
        "not_understood", "fault", "food", "no_change", "desk_work", "promised", "came_back",
    ]  # fmt: skip
    urgency: Literal["now", "today", "next"]
    cause: CauseId | None = None
    fix: FixId | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class LanguageChosen:
    """Our replies are in this language from now on."""

    at: datetime
    language: Language


@dataclass(frozen=True, slots=True, kw_only=True)
class StartedOver:
    """The customer wants to begin again: what was read no longer counts; what was promised stands."""

    at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class CaseClosed:
    """The case is over, held, explained, handed on or given up."""

    at: datetime
    reason: Literal["held", "nothing_wrong", "handed_on", "by_customer", "by_colleague", "dormant"]
    cause: CauseId | None = None
    is_new: bool = False
    """A colleague names a cause that the knowledge does not list; its words stand beside the log."""
    fix: FixId | None = None
    """What mended it, as a colleague says."""
    held: bool | None = None
    colleague: str | None = None


Event = (
    CaseOpened | Heard | PhotoTaken | ConsentAnswered | FactLearned | FactTakenBack | ComplaintHeard | NumberLearned | SumDone | HazardRaised
    | HazardCleared | Believed | Asked | CheckLaidAside | WaitingFor | FixOffered | StepGiven | FixDone | FixDeclined
    | FixJudged | Held | WatchBegun | WatchEnded | ProductLearned | Said | TimerSet | TimerDropped | StateChanged | VoiceChanged | DeskCalled | LanguageChosen
    | StartedOver | ColleagueSpoke | CaseClosed | EditionMoved | HeldTold
)  # fmt: skip
