"""What a channel gets to show: messages in order, an answer, an opening."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Literal

from sqlalchemy.orm import Session

from assistant.casebook import cases, inbox, outbox, personal, photos
from assistant.conversation.events import Event, Said
from assistant.conversation.ids import ASSISTANT, CaseId, CaseState
from assistant.thread import filled


@dataclass(frozen=True, slots=True, kw_only=True)
class MessageView:
    """One message of a case. `id` is its place in the case's log: it rises, and never changes."""

    id: int
    from_: Literal["customer", "assistant", "staff"]
    text: str
    """Empty once it is erased."""
    options: tuple[tuple[str, str], ...] = ()
    """(value, label) of the answers that fit, in order."""
    at: datetime
    sentence: str | None = None
    """The id of our own sentence that it is; None: typed by hand."""
    photos: tuple[str, ...] = ()
    """Ids of the pictures that came with it and are here."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What answered a message, the message itself not among it."""

    messages: tuple[MessageView, ...]
    state: CaseState
    case: CaseId | None = None
    """None: it was about our texts, or which room was meant, and no case took it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """A case that was opened, with the token that opens it again."""

    case: CaseId
    token: str
    messages: tuple[MessageView, ...]
    state: CaseState


def messages_between(
    session: Session, case_id: str, after: int, until: int | None = None
) -> tuple[MessageView, ...]:
    """The case's messages after one place in its log, up to another; withdrawn texts were never said."""
    log = cases.events_of(session, case_id, after)
    withdrawn = outbox.withdrawn_sequences(session, case_id)
    said = [(place, event) for place, event in log if isinstance(event, Said) and place not in withdrawn]
    views = [*_spoken(session, case_id, said), *_heard(session, case_id, after)]
    kept = (view for view in views if until is None or view.id <= until)
    return tuple(sorted(kept, key=lambda view: view.id))


def replies_between(session: Session, case_id: str, first: int, last: int) -> tuple[MessageView, ...]:
    """What was said in a stretch of the log, the customer's own words left out."""
    return tuple(
        view for view in messages_between(session, case_id, first - 1, last) if view.from_ != "customer"
    )


def room_name(session: Session, case_id: str) -> str | None:
    """What the person calls the case's room."""
    case = cases.find_case(session, case_id)
    return None if case is None else personal.text_of(session, personal.ROOM_NAME, case.room_id)


def _spoken(session: Session, case_id: str, said: Sequence[tuple[int, Event]]) -> list[MessageView]:
    events = [(place, event) for place, event in said if isinstance(event, Said)]
    words = personal.texts_of(
        session, personal.MESSAGE, [event.message for _, event in events if event.message]
    )
    room = room_name(session, case_id)
    return [
        MessageView(
            id=place,
            from_="assistant" if event.voice == ASSISTANT else "staff",
            text=words.get(event.message, "") if event.message else filled(event.text, room),
            options=event.options,
            sentence=None if event.message else str(event.sentence),
            at=event.at.astimezone(UTC),
        )
        for place, event in events
    ]


def _heard(session: Session, case_id: str, after: int) -> list[MessageView]:
    taken = inbox.messages_of(session, case_id, after)
    ids = [message.message_id for message in taken]
    words = personal.texts_of(session, personal.MESSAGE, ids)
    shown = photos.photos_of(session, [message.message_id for message in taken if message.photos])
    return [
        MessageView(
            id=message.answer_from,
            from_="customer",
            text=words.get(message.message_id, ""),
            at=message.at,
            photos=shown.get(message.message_id, ()),
        )
        for message in taken
        if message.answer_from is not None
    ]
