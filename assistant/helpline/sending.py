"""Texts handed to a courier: checked again at the last moment, in order, and seen twice at most once."""

import logging
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, Protocol

from sqlalchemy.orm import Session

from assistant.casebook import Parcel, cases, outbox, people, personal
from assistant.conversation.events import Said
from assistant.conversation.turn import numbered
from assistant.thread import filled, is_opted_out, room_words

if TYPE_CHECKING:
    from assistant.helpline.house import House

log = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True, kw_only=True)
class Accepted:
    """The provider took the text on."""

    provider_id: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Refused:
    """The provider will never send it."""

    why: str


class Courier(Protocol):
    """Whoever carries texts away. Raising means that nobody knows what became of the text."""

    def send(self, address: str, text: str, once: str) -> Accepted | Refused:
        """Carry `text` to `address`; the same `once` is the same text, tried again."""
        ...


def hand_out(house: "House", now: datetime) -> int:
    """Send what is due; how many texts were taken on or refused."""
    handed = 0
    while house.courier is not None:
        with house.casebook.writing() as session:
            parcel = outbox.claim(session, now)
            if parcel is None:
                return handed
            ready = _made_ready(session, parcel, now)
        if ready is not None:
            handed += _hand_over(house, house.courier, parcel, ready, now)
    return handed


def _made_ready(session: Session, parcel: Parcel, now: datetime) -> tuple[str, str] | None:
    """Address and words of a claimed text; None, and its end noted, where it must not go out any more."""
    if parcel.attempts > outbox.MOST_ATTEMPTS:
        log.error(
            "nobody knows whether text %s arrived; it was tried %s times", parcel.id, outbox.MOST_ATTEMPTS
        )
        outbox.finish(session, parcel, "unknown")
        return None
    address = personal.text_of(session, personal.NUMBER, parcel.address_id)
    words = _words(session, parcel, now)
    if address is None or words is None or _is_stale(session, parcel):
        outbox.finish(session, parcel, "withdrawn")
        return None
    return address, words


def _is_stale(session: Session, parcel: Parcel) -> bool:
    opted_out = is_opted_out(people.consent_of(session, parcel.address_id))
    if opted_out and not parcel.despite_optout:
        return True
    if parcel.case_id is None or parcel.safety:
        return False
    kept = cases.find_case(session, parcel.case_id)
    return kept is None or kept.voice != parcel.voice or outbox.has_moved_on(session, parcel)


def _words(session: Session, parcel: Parcel, now: datetime) -> str | None:
    if parcel.case_id is None or parcel.sequence is None:
        return personal.text_of(session, personal.REPLY, parcel.text_id or "")
    said = cases.event_at(session, parcel.case_id, parcel.sequence)
    if not isinstance(said, Said):
        return None
    if said.message is not None:
        return personal.text_of(session, personal.MESSAGE, said.message)
    name, several = _room(session, parcel, said, now)
    text = filled(said.text, name)
    opening = f"{name}: " if several and parcel.names_room and "{room}" not in said.text else ""
    options = numbered(said.options)
    return f"{opening}{text}" if options in text else f"{opening}{text} {options}"


def _room(session: Session, parcel: Parcel, said: Said, now: datetime) -> tuple[str | None, bool]:
    """What the case's room is called, and whether the address has other rooms with a running case."""
    persons = people.persons_of(session, parcel.address_id)
    running = [case for case in cases.cases_of_persons(session, persons, now) if case.state != "closed"]
    own = next((case for case in running if case.id == parcel.case_id), None)
    several = len({case.room_id for case in running}) > 1
    if own is None or not several:
        return (own.room_name if own else None), False
    return room_words(own.room_name, own.room_number, said.language), True


def _hand_over(
    house: "House", courier: Courier, parcel: Parcel, ready: tuple[str, str], now: datetime
) -> int:
    address, words = ready
    try:
        outcome = courier.send(address, words, f"{parcel.id}")
    except Exception:  # whatever the courier hit, the text may be out: its lease decides
        log.exception("the courier failed with text %s", parcel.id)
        return 0
    with house.casebook.writing() as session:
        match outcome:
            case Accepted():
                outbox.finish(session, parcel, "sent", at=now, provider_id=outcome.provider_id)
            case Refused():
                outbox.finish(session, parcel, "refused", at=now, refusal=outcome.why)
    return 1
