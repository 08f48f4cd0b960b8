"""What leaves the room: plain frozen values in place of rows."""

from collections.abc import Mapping
from dataclasses import dataclass, fields
from datetime import datetime
from typing import Any, Literal, TypeVar

from sqlalchemy import Row

from assistant.casebook.tables import Base
from assistant.conversation.ids import ASSISTANT, CaseId, CaseState, MessageId, TimerName
from kb.ids import Language

Kept = TypeVar("Kept")


def kept_as(shape: type[Kept], row: Base | Row[Any], **more: object) -> Kept:  # Any: a row of any columns
    """The row's columns that `shape` names, with `more` in place of any."""
    values: Mapping[str, object] = {
        field.name: more[field.name] if field.name in more else getattr(row, field.name)
        for field in fields(shape)  # type: ignore[arg-type]  # only ever called with the dataclasses below
    }
    return shape(**values)


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptCase:
    """A case as its row has it."""

    id: CaseId
    person_id: str
    room_id: str
    sender: str
    client_id: str
    content_digest: str
    token_hash: str
    channel: str
    address_id: str | None
    zone: str
    region: str
    language: Language | None
    greet: bool
    carried: tuple[tuple[str, str], ...]
    opened_at: datetime
    begun_until: int | None = None
    version: int = 0
    heard_sequence: int = 0
    state: CaseState = "asking"
    voice: str = ASSISTANT


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """A message in the inbox."""

    id: int
    sender: str
    client_id: str
    message_id: MessageId
    content_digest: str
    case_id: CaseId | None
    address_id: str | None
    at: datetime
    state: str
    answer_from: int | None
    answer_until: int | None
    answer_state: CaseState | None
    reply_id: int | None
    sorts_id: int | None
    photos: int
    carrier_word: Literal["stop", "start", "help"] | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Address:
    """Where texts come from and go to."""

    id: str
    channel: str
    zone: str
    region: str
    language: Language | None
    held_inbox_id: int | None
    offered_cases: tuple[CaseId, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LiveCase:
    """What the thread needs to know of a case to choose among several."""

    id: CaseId
    room_id: str
    room_number: int
    room_name: str | None
    state: CaseState
    asks: str | None
    asked_at: datetime | None
    last_at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class DueTimer:
    """A promised hour that has come."""

    case_id: CaseId
    name: TimerName
    due: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Parcel:
    """An outbox row."""

    id: int
    case_id: CaseId | None
    sequence: int | None
    text_id: str | None
    channel: str
    address_id: str
    made_at: datetime
    due_after: datetime
    voice: str
    version: int
    safety: bool
    names_room: bool
    despite_optout: bool
    state: str
    attempts: int
    put_backs: int
    delivery: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class DeskRow:
    """A case as the desk's queue shows it."""

    case: CaseId
    room: str | None
    place: str | None
    """Where the room is, as its people call the place."""
    opened_at: datetime
    zone: str
    heard_sequence: int
    state: CaseState
    voice: str
    why: str | None
    urgency: str | None
    cause: str | None
    cause_probability: float | None
    needs_since: datetime | None
    last_message_at: datetime | None
    phone_now: bool
    """Call them now: a danger, or a cry for help, and no text may reach them."""
    no_texts: bool
    """They opted out of texts."""
    unreachable: str | None
    """Why no text can reach them, in the provider's terms."""
    photo_since: datetime | None
    """Since when a photo waits to be looked at."""
    fault: str | None
