"""Persons, their rooms, and the addresses that they write from."""

from collections.abc import Sequence
from datetime import datetime

from sqlalchemy import func, select, update
from sqlalchemy.orm import Session

from assistant.casebook.kept import Address, kept_as
from assistant.casebook.tables import (
    HELD,
    AddressRow,
    CaseRow,
    ConsentRow,
    PersonAddressRow,
    PersonalTextRow,
    PersonRow,
    RoomRow,
)
from assistant.conversation.ids import CaseId
from assistant.thread import ConsentGiven
from kb.ids import Language


def add_person(session: Session, person_id: str, language: Language | None, at: datetime) -> None:
    """Remember somebody new."""
    session.add(PersonRow(id=person_id, language=language, begun_at=at))
    session.flush()


def set_language(session: Session, person_id: str, language: Language | None) -> None:
    """The language that a person's next case begins in."""
    row = session.get(PersonRow, person_id)
    if row is not None and language is not None:
        row.language = language


def language_of(session: Session, person_id: str) -> Language | None:
    """The language that a person wrote in last."""
    language: Language | None = session.scalar(select(PersonRow.language).where(PersonRow.id == person_id))
    return language


def add_room(session: Session, person_id: str) -> str:
    """A further room of a person; its id."""
    last = session.scalar(select(func.max(RoomRow.number)).where(RoomRow.person_id == person_id))
    number = (last or 0) + 1
    room_id = f"{person_id}.{number}"
    session.add(RoomRow(id=room_id, person_id=person_id, number=number))
    session.flush()
    return room_id


def rooms_of(session: Session, person_id: str) -> tuple[str, ...]:
    """A person's rooms, in the order in which they came up."""
    query = select(RoomRow.id).where(RoomRow.person_id == person_id).order_by(RoomRow.number)
    return tuple(session.scalars(query))


def person_of_room(session: Session, room_id: str) -> str | None:
    """Whose room it is."""
    return session.scalar(select(RoomRow.person_id).where(RoomRow.id == room_id))


def add_address(
    session: Session, *, address_id: str, channel: str, digest: str, zone: str, region: str, at: datetime
) -> None:
    """Remember a new address."""
    session.add(
        AddressRow(id=address_id, channel=channel, digest=digest, zone=zone, region=region, begun_at=at)
    )
    session.flush()


def find_address(session: Session, channel: str, digest: str) -> Address | None:
    """The address with this keyed digest."""
    row = session.scalar(select(AddressRow).where(AddressRow.channel == channel, AddressRow.digest == digest))
    return None if row is None else _address(row)


def address(session: Session, address_id: str) -> Address:
    """The address as its row has it."""
    return _address(session.get_one(AddressRow, address_id))


def lock_address(session: Session, address_id: str) -> Address:
    """The address, held until the transaction ends: two messages from it are sorted one after the other."""
    row = session.get_one(AddressRow, address_id, with_for_update=HELD, populate_existing=True)
    return _address(row)


def speak_to_address_in(session: Session, address_id: str, language: Language) -> None:
    """The language of what is said to the address outside any case."""
    session.get_one(AddressRow, address_id).language = language


def hold_message(session: Session, address_id: str, inbox_id: int | None, offered: Sequence[CaseId]) -> None:
    """Keep a message until they say which room it is of; None lets go."""
    row = session.get_one(AddressRow, address_id)
    row.held_inbox_id, row.offered_cases = inbox_id, [str(case) for case in offered] or None


def note_unreachable(session: Session, address_id: str, why: str | None) -> None:
    """No text can reach the address, and why; None: it wrote, so it may be tried again."""
    session.get_one(AddressRow, address_id).unreachable = why


def is_unreachable(session: Session, address_id: str) -> bool:
    """No text can reach it, as far as we know."""
    return session.get_one(AddressRow, address_id).unreachable is not None


def link(session: Session, person_id: str, address_id: str) -> None:
    """The person writes from this address, perhaps among others."""
    session.merge(PersonAddressRow(person_id=person_id, address_id=address_id))
    session.flush()


def persons_of(session: Session, address_id: str) -> tuple[str, ...]:
    """Who writes from the address, in order of their ids."""
    query = select(PersonAddressRow.person_id).where(PersonAddressRow.address_id == address_id)
    return tuple(session.scalars(query.order_by(PersonAddressRow.person_id)))


def merge(session: Session, person_id: str, into: str) -> None:
    """They turn out to be one person: rooms, cases and words of the one are the other's from now on."""
    last = session.scalar(select(func.max(RoomRow.number)).where(RoomRow.person_id == into)) or 0
    rooms = session.scalars(
        select(RoomRow).where(RoomRow.person_id == person_id).order_by(RoomRow.number)
    ).all()
    for number, room in enumerate(rooms, start=last + 1):
        room.person_id, room.number = into, number
        session.flush()
    for table in (CaseRow, PersonalTextRow):
        session.execute(
            update(table)
            .where(table.person_id == person_id)
            .values(person_id=into)
            .execution_options(synchronize_session=False)
        )
    session.expire_all()


def note_consent(session: Session, address_id: str, given: ConsentGiven) -> None:
    """One more yes or no to texts."""
    session.add(
        ConsentRow(
            address_id=address_id,
            kind=given.kind,
            at=given.at,
            source=given.source,
            scope=given.scope,
            message_id=given.message_id,
        )
    )
    session.flush()


def consent_of(session: Session, address_id: str) -> tuple[ConsentGiven, ...]:
    """Every yes and no, in order."""
    query = select(ConsentRow).where(ConsentRow.address_id == address_id).order_by(ConsentRow.id)
    return tuple(kept_as(ConsentGiven, row) for row in session.scalars(query))


def _address(row: AddressRow) -> Address:
    return kept_as(Address, row, offered_cases=tuple(CaseId(case) for case in row.offered_cases or ()))
