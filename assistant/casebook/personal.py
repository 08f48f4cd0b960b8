"""Words, names and numbers of people, beside the log; and how they are erased."""

from collections.abc import Mapping, Sequence
from typing import Final

from sqlalchemy import delete, select, update
from sqlalchemy.orm import Session

from assistant.casebook import photos
from assistant.casebook.folding import folded
from assistant.casebook.tables import (
    AddressRow,
    CaseRow,
    ConsentRow,
    InboxRow,
    OutboxRow,
    PersonAddressRow,
    PersonalTextRow,
    TimerRow,
)

MESSAGE: Final = "message"
"""What a customer or a colleague wrote, by the message's id."""
ROOM_NAME: Final = "room_name"
NUMBER: Final = "number"
"""Where an address is, as its channel dials it."""
REPLY: Final = "reply"
"""What we said outside any case: it may hold room names."""

ASIDE: Final = "aside"
"""A colleague's note beside a case."""
PLACE: Final = "place"
"""Where a room is, as its people call the place."""
CLOSING: Final = "closing"
"""What was wrong and what mended it, in a colleague's words, by the case."""
PART_NOTE: Final = "part_note"
"""Where a part goes to, and what else whoever sends it must know."""
HANDED: Final = "handed"
"""What a webhook carried away, by the message that it answered: a repeated webhook gets the same bytes."""
UNSEARCHED: Final = (NUMBER, REPLY, HANDED)
"""Telephone numbers, and copies of our texts."""


def write_text(session: Session, kind: str, owner: str, text: str, person_id: str | None) -> None:
    """Keep words beside the log; the same owner's earlier words of that kind go."""
    session.merge(_row(kind, owner, text, person_id))
    session.flush()


def add_text(session: Session, kind: str, owner: str, text: str, person_id: str | None) -> None:
    """Keep words whose owner is new."""
    session.add(_row(kind, owner, text, person_id))
    session.flush()


def _row(kind: str, owner: str, text: str, person_id: str | None) -> PersonalTextRow:
    searched = None if kind in UNSEARCHED else folded(text)
    return PersonalTextRow(kind=kind, owner=owner, text=text, person_id=person_id, folded=searched)


def text_of(session: Session, kind: str, owner: str) -> str | None:
    """The words, or None once they are erased."""
    return session.scalar(
        select(PersonalTextRow.text).where(PersonalTextRow.kind == kind, PersonalTextRow.owner == owner)
    )


def texts_of(session: Session, kind: str, owners: Sequence[str]) -> Mapping[str, str]:
    """The words of several owners at once; those erased are missing."""
    query = select(PersonalTextRow).where(PersonalTextRow.kind == kind, PersonalTextRow.owner.in_(owners))
    return {row.owner: row.text for row in session.scalars(query)}


def belongs_to(session: Session, kind: str, owner: str, person_id: str) -> None:
    """Say whose words they are, once it is known."""
    session.execute(
        update(PersonalTextRow)
        .where(PersonalTextRow.kind == kind, PersonalTextRow.owner == owner)
        .values(person_id=person_id)
    )


def erase(session: Session, person_id: str) -> int:
    """Empty everything personal of one person; how many texts went.

    The logs stay and fold as before. A number that somebody else shares stays theirs. Of an address that opted out its
    keyed digest stays, so that nobody texts it again.
    """
    addresses = select(PersonAddressRow.address_id).where(PersonAddressRow.person_id == person_id)
    theirs = tuple(session.scalars(addresses.order_by(PersonAddressRow.address_id)))
    shared = select(PersonAddressRow.address_id).where(
        PersonAddressRow.address_id.in_(theirs), PersonAddressRow.person_id != person_id
    )
    others = frozenset(session.scalars(shared))
    alone = tuple(address for address in theirs if address not in others)
    gone = _empty_texts(session, person_id, theirs, alone)
    _stop_writing_to(session, person_id, alone)
    for address_id in alone:
        _forget_address(session, address_id)
    session.execute(delete(PersonAddressRow).where(PersonAddressRow.person_id == person_id))
    return gone


def _empty_texts(session: Session, person_id: str, addresses: Sequence[str], alone: Sequence[str]) -> int:
    cases = select(CaseRow.id).where(CaseRow.person_id == person_id)
    taken = (InboxRow.case_id.in_(cases)) | (InboxRow.case_id.is_(None) & InboxRow.address_id.in_(alone))
    messages = select(InboxRow.message_id).where(taken)
    replies = select(OutboxRow.text_id).where(
        OutboxRow.address_id.in_(addresses), OutboxRow.text_id.is_not(None)
    )
    text = PersonalTextRow
    gone = session.execute(
        delete(text)
        .where(
            (text.person_id == person_id)
            | (text.kind.in_((MESSAGE, HANDED)) & text.owner.in_(messages))
            | ((text.kind == REPLY) & text.owner.in_(replies))
            | ((text.kind == NUMBER) & text.owner.in_(alone))
        )
        .returning(text.owner)
    ).all()
    photos.erase_of(session, tuple(session.scalars(messages)))
    # the digest of a short text could be guessed back, so it goes too
    session.execute(update(InboxRow).where(taken).values(content_digest=""))
    waiting = InboxRow.state.in_(("waiting", "held"))
    session.execute(update(InboxRow).where(taken, waiting).values(state="erased"))
    return len(gone)


def _stop_writing_to(session: Session, person_id: str, alone: Sequence[str]) -> None:
    cases = select(CaseRow.id).where(CaseRow.person_id == person_id)
    on_their_way = OutboxRow.case_id.in_(cases) | OutboxRow.address_id.in_(alone)
    unsent = OutboxRow.state.in_(("ready", "put_back"))
    session.execute(update(OutboxRow).where(unsent, on_their_way).values(state="withdrawn"))
    session.execute(delete(TimerRow).where(TimerRow.case_id.in_(cases)))
    session.execute(
        update(CaseRow).where(CaseRow.person_id == person_id).values(content_digest="", phone_now_at=None)
    )


def _forget_address(session: Session, address_id: str) -> None:
    last = (
        select(ConsentRow.kind)
        .where(ConsentRow.address_id == address_id, ConsentRow.scope == "texts")
        .order_by(ConsentRow.id.desc())
        .limit(1)
    )
    row = session.get_one(AddressRow, address_id)
    row.held_inbox_id, row.offered_cases = None, None
    if session.scalar(last) != "opt_out":
        row.digest = f"erased:{address_id}"
    session.flush()
