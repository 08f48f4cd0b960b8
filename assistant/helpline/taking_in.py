"""The first of the two transactions: a message is kept before anything is thought about it."""

from collections.abc import Callable, Sequence
from datetime import datetime
from hashlib import sha256
from typing import TypeVar
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Session

from assistant.casebook import KeptCase, Taken, cases, inbox, outbox, people, personal
from assistant.conversation.ids import CaseId, MessageId
from assistant.helpline.house import House
from assistant.helpline.keys import digest, id_from, token_for, token_hash
from assistant.helpline.pictures import MOST_AT_ONCE, as_kept, keep_photos
from assistant.helpline.views import Answer, MessageView, replies_between
from assistant.thread import Place
from kb.errors import RequestError
from kb.ids import Language

Result = TypeVar("Result")
LONGEST_CLIENT_ID = 200
NOT_STORABLE = "\x00"
"""PostgreSQL keeps no NUL in a text; like a half of a surrogate pair it becomes the mark for a lost letter."""


def once_more(transaction: Callable[[], Result]) -> Result:
    """Run it again when another writer has just kept the very thing that we would keep."""
    try:
        return transaction()
    except IntegrityError:
        return transaction()


def checked_text(house: House, text: str) -> str:
    """The text as it can be kept. Fails with `RequestError` when it is too long.

    Letters that no database keeps are shown as lost, never dropped in silence.
    """
    if len(text) > house.longest_text:
        raise RequestError(
            f"a text of {len(text)} characters",
            mend=f"send at most {house.longest_text} characters, in several messages if need be",
            kind="too_long",
        )
    return text.replace(NOT_STORABLE, "\ufffd").encode("utf-16", "surrogatepass").decode("utf-16", "replace")


def checked_zone(zone: str) -> str:
    """The zone. Fails with `RequestError` when it is no IANA name."""
    try:
        return ZoneInfo(zone).key
    except (ZoneInfoNotFoundError, ValueError, OSError):
        raise RequestError(
            f"no time zone {zone[:40]!r}", mend="send an IANA name such as America/Chicago"
        ) from None


def checked_photos(house: House, photos: Sequence[bytes]) -> tuple[bytes, ...]:
    """The pictures as they are kept. Fails with `RequestError` on too many, or one that is none."""
    if photos and house.album is None:
        raise RequestError("this helpline keeps no photos", mend="say in words what the photo shows")
    if len(photos) > MOST_AT_ONCE:
        raise RequestError(
            f"{len(photos)} photos at once",
            mend=f"send at most {MOST_AT_ONCE}, in several messages if need be",
        )
    return tuple(as_kept(photo) for photo in photos)


def check_client_id(client_id: str) -> None:
    """Fails with `RequestError` on an id that could not be told from another's."""
    printable = client_id.isprintable() and client_id.strip() == client_id
    if not 1 <= len(client_id) <= LONGEST_CLIENT_ID or not printable:
        raise RequestError(
            "a client id that cannot be used",
            mend=f"send 1 to {LONGEST_CLIENT_ID} printable characters, a new one for each message",
        )


def case_of(session: Session, case_id: str) -> KeptCase:
    """The case. Fails with `RequestError` when there is none."""
    kept = cases.find_case(session, case_id)
    if kept is None:
        raise RequestError(f"no case `{case_id[:40]}`", mend="open a case first", kind="not_found")
    return kept


def refuse_other_content(kept_digest: str, now: str) -> None:
    """Fails with `RequestError` when other content comes under a client id; erased content is not compared."""
    if kept_digest not in ("", now):
        raise RequestError(
            "this client id came before with other content",
            mend="send a new client id with new content",
            kind="conflict",
        )


def new_case_row(
    house: House,
    *,
    sender: str,
    client_id: str,
    content: str,
    person_id: str,
    room_id: str,
    channel: str,
    place: Place,
    at: datetime,
    address_id: str | None = None,
    language: Language | None = None,
    greet: bool = False,
    carried: tuple[tuple[str, str], ...] = (),
) -> KeptCase:
    """A case that has not begun, its id and token from the server's key."""
    case_id = CaseId(id_from(house.key, "case", sender, client_id))
    return KeptCase(
        id=case_id,
        person_id=person_id,
        room_id=room_id,
        sender=sender,
        client_id=client_id,
        content_digest=content,
        token_hash=token_hash(token_for(house.key, case_id)),
        channel=channel,
        address_id=address_id,
        zone=place.zone,
        region=place.region,
        language=language,
        greet=greet,
        carried=carried,
        opened_at=at,
    )


def open_row(session: Session, house: House, new: KeptCase, text: str | None) -> None:
    """Keep a case that a page opened: a person and a room of its own, and its first message."""
    people.add_person(session, new.person_id, new.language, new.opened_at)
    people.add_room(session, new.person_id)
    cases.add_case(session, new)
    if text is not None:
        keep_message(session, house, new, text, client_id=new.client_id, at=new.opened_at)


def keep_message(
    session: Session,
    house: House,
    case: KeptCase,
    text: str,
    *,
    client_id: str,
    at: datetime,
    photos: Sequence[bytes] = (),
) -> Taken:
    """Keep a message of a case, or find it when it came before."""
    shown = (sha256(photo).hexdigest() for photo in photos)
    sender, content = f"case:{case.id}", digest(house.key, "content", text, *shown)
    before = inbox.find_message(session, sender, client_id)
    if before is not None:
        refuse_other_content(before.content_digest, content)
        return before
    message_id = MessageId(id_from(house.key, "message", sender, client_id))
    personal.add_text(session, personal.MESSAGE, message_id, text, case.person_id)
    keep_photos(session, house, message_id, photos, at)
    return inbox.take_in(
        session,
        sender=sender,
        client_id=client_id,
        message_id=message_id,
        content_digest=content,
        at=at,
        case_id=case.id,
        photos=len(photos),
    )


def answer_to(session: Session, inbox_id: int) -> Answer:
    """What answered a message: the same, however often it is asked for."""
    taken = inbox.message(session, inbox_id)
    if taken.sorts_id is not None:
        return answer_to(session, taken.sorts_id)
    if taken.answer_from is not None and taken.answer_until is not None and taken.case_id is not None:
        said = replies_between(session, taken.case_id, taken.answer_from, taken.answer_until)
        return Answer(messages=said, state=taken.answer_state or "asking", case=taken.case_id)
    if taken.reply_id is None:
        state = cases.find_case(session, taken.case_id).state if taken.case_id else "closed"  # type: ignore[union-attr]  # a foreign key
        return Answer(messages=(), state=state, case=taken.case_id)
    return Answer(messages=(_reply(session, taken.reply_id),), state="waiting")


def _reply(session: Session, outbox_id: int) -> MessageView:
    sent = outbox.parcel(session, outbox_id)
    text = personal.text_of(session, personal.REPLY, sent.text_id or "") or ""
    return MessageView(id=sent.id, from_="assistant", text=text, at=sent.made_at)
