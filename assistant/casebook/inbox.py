"""Messages as they were taken in: each once, whatever its sender repeats."""

from datetime import datetime

from sqlalchemy import select, update
from sqlalchemy.orm import Session

from assistant.casebook.kept import Taken, kept_as
from assistant.casebook.tables import InboxRow
from assistant.conversation.ids import CaseId, CaseState, MessageId


def find_message(session: Session, sender: str, client_id: str) -> Taken | None:
    """What was taken in under a client id."""
    row = session.scalar(select(InboxRow).where(InboxRow.sender == sender, InboxRow.client_id == client_id))
    return None if row is None else kept_as(Taken, row)


def client_ids_from(session: Session, opening: str) -> frozenset[str]:
    """Every client id that begins with `opening`."""
    query = select(InboxRow.client_id).where(InboxRow.client_id.startswith(opening, autoescape=True))
    return frozenset(session.scalars(query))


def take_in(
    session: Session,
    *,
    sender: str,
    client_id: str,
    message_id: MessageId,
    content_digest: str,
    at: datetime,
    case_id: str | None = None,
    address_id: str | None = None,
    state: str = "waiting",
    photos: int = 0,
    carrier_word: str | None = None,
) -> Taken:
    """Keep a new message. Fails with `IntegrityError` when another writer has just kept it."""
    row = InboxRow(
        sender=sender,
        client_id=client_id,
        message_id=message_id,
        content_digest=content_digest,
        case_id=case_id,
        address_id=address_id,
        at=at,
        state=state,
        photos=photos,
        carrier_word=carrier_word,
    )
    session.add(row)
    session.flush()
    return kept_as(Taken, row)


def message(session: Session, inbox_id: int) -> Taken:
    """A message by its row."""
    return kept_as(Taken, session.get_one(InboxRow, inbox_id, populate_existing=True))


def next_waiting(session: Session, case_id: str) -> Taken | None:
    """The oldest message of the case that has no answer yet."""
    query = select(InboxRow).where(InboxRow.case_id == case_id, InboxRow.state == "waiting")
    row = session.scalar(query.order_by(InboxRow.id).limit(1))
    return None if row is None else kept_as(Taken, row)


def next_unsorted(session: Session, address_id: str) -> Taken | None:
    """The oldest message of the address that belongs to no case yet."""
    query = select(InboxRow).where(
        InboxRow.address_id == address_id, InboxRow.case_id.is_(None), InboxRow.state == "waiting"
    )
    row = session.scalar(query.order_by(InboxRow.id).limit(1))
    return None if row is None else kept_as(Taken, row)


def cases_waiting(session: Session) -> tuple[CaseId, ...]:
    """Cases with a message that has no answer yet, the oldest message first."""
    query = select(InboxRow.case_id).where(InboxRow.state == "waiting", InboxRow.case_id.is_not(None))
    return tuple(dict.fromkeys(CaseId(case) for case in session.scalars(query.order_by(InboxRow.id)) if case))


def addresses_waiting(session: Session) -> tuple[str, ...]:
    """Addresses with a message that belongs to no case yet, the oldest message first."""
    query = select(InboxRow.address_id).where(InboxRow.state == "waiting", InboxRow.case_id.is_(None))
    return tuple(
        dict.fromkeys(address for address in session.scalars(query.order_by(InboxRow.id)) if address)
    )


def sort_into(session: Session, inbox_id: int, case_id: str) -> None:
    """The message belongs to this case; it waits for its answer there."""
    values = {"case_id": case_id, "state": "waiting"}
    session.execute(update(InboxRow).where(InboxRow.id == inbox_id).values(values))


def set_aside(
    session: Session, inbox_id: int, state: str, *, reply_id: int | None = None, sorts_id: int | None = None
) -> None:
    """The message was answered, or is held, outside any case."""
    values = {"state": state, "reply_id": reply_id, "sorts_id": sorts_id}
    session.execute(update(InboxRow).where(InboxRow.id == inbox_id).values(values))


def note_answer(
    session: Session, inbox_id: int, *, first: int, last: int, case_state: CaseState, failed: bool = False
) -> None:
    """Which events answered the message."""
    values = {
        "state": "failed" if failed else "answered",
        "answer_from": first,
        "answer_until": last,
        "answer_state": case_state,
    }
    session.execute(update(InboxRow).where(InboxRow.id == inbox_id).values(values))


def messages_of(session: Session, case_id: str, after: int = 0) -> tuple[Taken, ...]:
    """The customer's messages that have their place in the log, in its order."""
    query = select(InboxRow).where(
        InboxRow.case_id == case_id, InboxRow.answer_from > after, InboxRow.sender.not_like("colleague:%")
    )
    return tuple(kept_as(Taken, row) for row in session.scalars(query.order_by(InboxRow.answer_from)))
