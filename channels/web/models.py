"""What crosses the border as JSON: checked once here, believed from here on."""

from collections.abc import Iterable
from datetime import datetime
from typing import Annotated, Literal
from zoneinfo import available_timezones

from pydantic import AfterValidator, BaseModel, ConfigDict, Field

from assistant.conversation.ids import CaseState
from assistant.helpline import Answer, MessageView, Opening, Slip
from kb.ids import Language

LONGEST_TEXT = 10_000


def _has_words(text: str) -> str:
    if not text.strip():
        msg = "a text needs at least one character that shows; leave the field out where there is nothing to say"
        raise ValueError(msg)
    return _storable(text)


def _storable(text: str) -> str:
    if "\x00" in text:
        msg = "NUL characters cannot be kept; send text, not bytes"
        raise ValueError(msg)
    return text


Words = Annotated[
    str,
    Field(min_length=1, max_length=LONGEST_TEXT, examples=["my cooler is at 52, set to 38"]),
    AfterValidator(_has_words),
]
ClientId = Annotated[
    str,
    Field(
        min_length=1,
        max_length=200,
        description="Made by the client, at random (128 bits or more); the same again gets the same answer.",
        examples=["b5d4c1f2a9e84c0f8d3b7a6e5f4c3b2a"],
    ),
    AfterValidator(_storable),
]


Zone = Annotated[
    str | None,
    Field(
        max_length=60,
        description="The room's IANA time zone, for the hours that we name; one that we do not know is passed over.",
        examples=["America/Chicago"],
    ),
    AfterValidator(lambda zone: zone if zone in available_timezones() else None),
]


class In(BaseModel):
    """What may come in: no field that we do not know."""

    model_config = ConfigDict(extra="forbid", strict=True)


class CaseIn(In):
    """A case to open, with or without a first message."""

    text: Words | None = None
    language: Literal["en", "es"] | None = None
    zone: Zone = None
    client_id: ClientId


class PhotoMessageIn(In):
    """One message with photos; words may come with them."""

    text: Annotated[str, Field(max_length=LONGEST_TEXT), AfterValidator(_storable)] = ""
    client_id: ClientId


class MessageIn(In):
    """One message of the customer."""

    text: Words
    client_id: ClientId


class ClockIn(In):
    """How far the demo's case clock moves."""

    forward_minutes: Annotated[float, Field(gt=0, le=60 * 24 * 60, examples=[240])]


class OptionOut(BaseModel):
    """One way to answer: what it means, and what a button says."""

    value: str
    text: str


class MessageOut(BaseModel):
    """One message; ids rise within a case."""

    model_config = ConfigDict(populate_by_name=True)
    id: int
    from_: Annotated[Literal["customer", "assistant", "staff"], Field(alias="from")]
    text: str
    options: tuple[OptionOut, ...]
    at: datetime
    photos: int = 0
    """How many photos came with it and are kept."""

    @classmethod
    def of(cls, message: MessageView) -> "MessageOut":
        """The message as it is shown."""
        options = tuple(OptionOut(value=value, text=text) for value, text in message.options)
        return cls(
            id=message.id,
            from_=message.from_,
            text=message.text,
            options=options,
            at=message.at,
            photos=len(message.photos),
        )


class RoomOut(BaseModel):
    """What stands on the slip's stub; each part only where it is known."""

    name: str | None = None
    target: str | None = None
    last: str | None = None


class MessagesOut(BaseModel):
    """Messages, and where the case stands."""

    messages: tuple[MessageOut, ...]
    state: CaseState
    room: RoomOut | None = None

    @classmethod
    def of(cls, answer: Answer) -> "MessagesOut":
        """The answer of a use case."""
        return cls(messages=_all(answer.messages), state=answer.state)

    @classmethod
    def since(cls, messages: Iterable[MessageView], slip: Slip) -> "MessagesOut":
        """What came since, and the case at a glance."""
        room = RoomOut(name=slip.room, target=slip.target, last=slip.last)
        return cls(messages=_all(messages), state=slip.state, room=room)


class CaseOut(MessagesOut):
    """A case that was opened, with the token that its messages need."""

    case: str
    token: str

    @classmethod
    def opened(cls, opening: Opening) -> "CaseOut":
        """The case as opened."""
        return cls(
            case=opening.case, token=opening.token, messages=_all(opening.messages), state=opening.state
        )


class BeliefOut(BaseModel):
    """Causes at work together; none of them: nothing wrong, or something that we do not know."""

    causes: tuple[str, ...]
    probability: float


class MarginalOut(BaseModel):
    """How likely a cause is at work, whatever else is."""

    cause: str
    probability: float


class KnownOut(BaseModel):
    """What was learnt of a finding, softly where the words were doubtful."""

    finding: str
    state: str
    likelihood: dict[str, float]
    confidence: float
    source: str
    epoch: int


class AskedOut(BaseModel):
    """A question that was put, and what it was worth then."""

    check: str
    gain_bits: float
    at: datetime


class SumOut(BaseModel):
    """A sum, with what went in and what came out; units stand in the names."""

    sum: str
    inputs: dict[str, float]
    results: dict[str, float]


class ApartOut(BaseModel):
    """A cause that a question tells from others, and the state that would speak for it."""

    cause: str
    state: str
    probability: float


class NextOut(BaseModel):
    """A question that could be asked next; `effort` in minutes of the grower's time."""

    check: str
    gain_bits: float
    effort: float
    apart: tuple[ApartOut, ...]


class EvidenceRowOut(BaseModel):
    """What one thing learnt says for (+) and against (-) each leading cause, in bits."""

    about: str
    state: str
    epoch: int
    bits: tuple[float, ...]


class EvidenceOut(BaseModel):
    """The leading causes side by side: prior, then row by row; together with the conflict they give the belief."""

    causes: tuple[str, ...]
    prior_bits: tuple[float, ...]
    rows: tuple[EvidenceRowOut, ...]
    conflict_bits: float
    belief: tuple[float, ...]


class DoubtOut(BaseModel):
    """An answer that the others speak against."""

    check: str
    against_bits: float
    mistaken: float


class ConflictOut(BaseModel):
    """How badly the answers fit together."""

    bits: float
    unexplained_bits: float
    doubts: tuple[DoubtOut, ...]


class ReasoningOut(BaseModel):
    """What is believed of a case and why, for staff; described here, made by the helpline."""

    edition: str
    beliefs: tuple[BeliefOut, ...]
    marginals: tuple[MarginalOut, ...]
    nothing_wrong: float
    something_else: float
    findings: tuple[KnownOut, ...]
    asked: tuple[AskedOut, ...]
    sums: tuple[SumOut, ...]
    next: tuple[NextOut, ...]
    entropy_bits: float
    mended: float
    evidence: EvidenceOut | None
    conflict: ConflictOut | None
    picture: str
    """Beliefs over the conversation, as SVG with its alternative text."""


class WorksheetOut(BaseModel):
    """One sum on its sheet, for staff; `picture` is an SVG with its alternative text, or empty."""

    name: str
    title: str
    verdict: str
    inputs: tuple[tuple[str, str], ...]
    defaults: tuple[str, ...]
    results: tuple[tuple[str, str], ...]
    formula: str
    source: str
    picture: str


class SumsOut(BaseModel):
    """The latest of each sum of a case, and the hours that its product has left at the present trend."""

    sums: tuple[WorksheetOut, ...]
    product_hours_left: float | None


class ClockOut(BaseModel):
    """The demo's case clock."""

    now: datetime


class ProblemError(BaseModel):
    """One field that cannot be taken."""

    pointer: str
    detail: str


class ProblemOut(BaseModel):
    """A problem (RFC 9457): `detail` says how to mend it."""

    type: str
    title: str
    status: int
    detail: str
    errors: tuple[ProblemError, ...] = ()


def language_of(tag: str | None) -> Language:
    """The nearer of our two languages.

    >>> language_of("es-MX"), language_of("fr"), language_of(None)
    ('es', 'en', 'en')
    """
    return "es" if (tag or "").lower().startswith("es") else "en"


def _all(messages: Iterable[MessageView]) -> tuple[MessageOut, ...]:
    return tuple(MessageOut.of(message) for message in messages)
