"""Texts from an address: kept, sorted into a case or answered outside any, then settled like every other message."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Literal, TypedDict, Unpack

from sqlalchemy.orm import Session

from assistant.casebook import Taken, cases, inbox, load_case, people, personal
from assistant.conversation.happenings import ColleagueHandedBack, ColleagueTookOver
from assistant.conversation.ids import ASSISTANT, NOBODY, CaseId, MessageId
from assistant.helpline.house import House
from assistant.helpline.keys import digest, id_from
from assistant.helpline.limits import (
    NOT_KEPT_FROM,
    TurnedAway,
    count_text,
    is_full,
    may_be_texted,
    tell_once,
)
from assistant.helpline.outside import NOTICE, say_outside
from assistant.helpline.pictures import MOST_AT_ONCE, note_waiting
from assistant.helpline.settling import happen, settle
from assistant.helpline.sorting import Glance, Sorting, candidates, known_as_open
from assistant.helpline.taking_in import check_client_id, checked_text, once_more, refuse_other_content
from assistant.thread import (
    ServiceWord,
    ToCase,
    choose_case,
    is_cry_for_help,
    is_opted_out,
    may_be_service_word,
    phone_number,
    place_of,
    service_word,
)
from kb.errors import RequestError


def dialled(house: House, channel: str, address: str) -> str:
    """The address in the one form in which it is kept. Fails with `RequestError` when nobody could answer to it."""
    if channel != "sms":
        return address
    number = phone_number(address, house.country)
    if number is None:
        raise RequestError(
            "the sender is no telephone number that can be answered",
            mend="send numbers as +, country and number; texts from short codes are not answered",
        )
    return number


class Besides(TypedDict, total=False):
    """What may come with a text."""

    photos: Sequence[str]
    """Where the provider has the pictures that came with it."""
    carrier_word: ServiceWord | None
    """What the carrier took it for, and has answered."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FromAddress:
    """A message as a channel with addresses took it in."""

    channel: str
    number: str
    """As `dialled` made it."""
    text: str
    client_id: str
    at: datetime
    photos: tuple[str, ...] = ()
    """Where the provider has the pictures that came with it."""
    carrier_word: ServiceWord | None = None
    """What the carrier took it for, and has answered."""
    danger: bool = False
    """It tells of a danger: no limit holds it."""
    too_long: bool = False
    """Its words were more than we take in, and are not here."""


def came_from(
    house: House,
    channel: str,
    address: str,
    text: str,
    client_id: str,
    at: datetime,
    *,
    photos: Sequence[str],
    carrier_word: ServiceWord | None,
) -> FromAddress:
    """The message as it is kept. Fails with `RequestError` when nobody could answer to the address."""
    number = dialled(house, channel, address)
    too_long = len(text) > house.longest_text
    text = checked_text(house, text[: house.longest_text])
    return FromAddress(
        channel=channel,
        number=number,
        text=text,
        client_id=client_id,
        at=at,
        photos=tuple(photos)[:MOST_AT_ONCE] if house.album is not None else (),
        carrier_word=carrier_word,
        danger=(too_long or is_crowded(house, channel, number, at)) and house.conversing.endangers(text),
        too_long=too_long,
    )


def keep_from_address(session: Session, house: House, came: FromAddress) -> Taken:
    """Keep a message from an address, or find it when it came before; a new address gets a person."""
    address_id = _address_id(session, house, came.channel, came.number, came.client_id, came.at)
    sender, content = f"address:{address_id}", digest(house.key, "content", came.text)
    client_id, at = came.client_id, came.at
    before = inbox.find_message(session, sender, client_id)
    if before is not None:
        refuse_other_content(before.content_digest, content)
        return before
    message_id = MessageId(id_from(house.key, "message", sender, client_id))
    persons = people.persons_of(session, address_id)
    personal.write_text(
        session, personal.MESSAGE, message_id, came.text, persons[0] if len(persons) == 1 else None
    )
    why = _turned_away(session, house, came, address_id)
    if why is None:
        note_waiting(session, house, message_id, came.photos, at)
    elif why == "flood":
        raise RequestError(
            "far too many texts from one number", mend="wait for a quarter of an hour", kind="too_many"
        )
    taken = inbox.take_in(
        session,
        sender=sender,
        client_id=client_id,
        message_id=message_id,
        content_digest=content,
        at=at,
        address_id=address_id,
        photos=len(came.photos),
        carrier_word=came.carrier_word,
        state="waiting" if why is None else f"turned_away:{why}",
    )
    if why is not None and tell_once(session, why, address_id, at):
        reply = say_outside(session, house, address_id, message_id, why, at, voice=NOTICE)
        inbox.set_aside(session, taken.id, taken.state, reply_id=reply)
    return taken


def _turned_away(
    session: Session, house: House, came: FromAddress, address_id: str
) -> TurnedAway | Literal["flood"] | None:
    """Why the text is not read; a word that stops our texts always is."""
    times = count_text(session, house.limits, address_id, came.at)
    if came.channel != "sms" or came.danger:
        return None
    if service_word(came.text, opted_out=False, answers=False) == "stop" or came.carrier_word == "stop":
        return None
    if times >= NOT_KEPT_FROM:
        return "flood"
    if times > 0:
        return "too_many"
    if came.too_long:
        return "too_long"
    return None if may_be_texted(came.number, house.limits.places) else "elsewhere"


def _address_id(
    session: Session, house: House, channel: str, number: str, client_id: str, at: datetime
) -> str:
    hidden = digest(house.key, "address", channel, number)
    known = people.find_address(session, channel, hidden)
    if known is None:
        place = place_of(number, otherwise=house.home) if channel == "sms" else house.home
        address_id = id_from(house.key, "address", channel, number, client_id)
        people.add_address(
            session, address_id=address_id, channel=channel, digest=hidden, zone=place.zone, region=place.region, at=at
        )  # fmt: skip
    else:
        address_id = known.id
        people.note_unreachable(session, address_id, None)  # who writes may be written to again
    if not people.persons_of(session, address_id):
        person_id = id_from(house.key, "person", address_id, client_id)
        people.add_person(session, person_id, None, at)
        people.link(session, person_id, address_id)
        personal.write_text(session, personal.NUMBER, address_id, number, None)
    return address_id


def is_crowded(house: House, channel: str, number: str, at: datetime) -> bool:
    """Texts of this number are near or over a limit: only then is it worth reading them before they are kept."""
    if channel == "sms" and not may_be_texted(number, house.limits.places):
        return True
    with house.casebook.reading() as session:
        address = people.find_address(session, channel, digest(house.key, "address", channel, number))
        return address is not None and is_full(session, house.limits, address.id, at)


def take_in(
    house: House,
    channel: str,
    address: str,
    text: str,
    client_id: str,
    at: datetime,
    **more: Unpack[Besides],
) -> int:
    """Keep a text from an address and answer it; its row in the inbox. Fails with `RequestError`."""
    check_client_id(client_id)
    came = came_from(
        house,
        channel,
        address,
        text,
        client_id,
        at,
        photos=more.get("photos", ()),
        carrier_word=more.get("carrier_word"),
    )

    def keep() -> tuple[int, str]:
        with house.casebook.writing() as session:
            taken = keep_from_address(session, house, came)
            return taken.id, taken.address_id or ""

    inbox_id, address_id = once_more(keep)
    settle_message(house, inbox_id, address_id)
    return inbox_id


def settle_message(house: House, inbox_id: int, address_id: str) -> None:
    """Answer a message and all that waits before it, whoever else is at work on them."""
    settle_address(house, address_id)
    with house.casebook.reading() as session:
        taken = inbox.message(session, inbox_id)
    if taken.state == "waiting" and taken.case_id is not None:  # sorted by another, who is not done with it
        settle(house, taken.case_id)


def settle_address(house: House, address_id: str) -> None:
    """Sort every message of the address that waits, in order, and answer each before the next is sorted."""
    while True:
        with house.casebook.reading() as session:
            taken = inbox.next_unsorted(session, address_id)
        if taken is None:
            break
        case_id = _sort(house, address_id, taken)
        if case_id is not None:
            settle(house, case_id)
    follow_consent(house, address_id)


def _sort(house: House, address_id: str, taken: Taken) -> CaseId | None:
    """Find the message's case, or answer it outside any; the case that now waits for an answer, if there is one."""
    glance = _look(house, address_id, taken)
    with house.casebook.writing() as session:
        address = people.lock_address(session, address_id)
        now = inbox.message(session, taken.id)
        if now.state != "waiting" or now.case_id is not None:
            return now.case_id
        text = personal.text_of(session, personal.MESSAGE, taken.message_id)
        if text is None:
            inbox.set_aside(session, taken.id, "erased")
            return None
        return Sorting(session, house, address, taken, text).sort(glance)


def _look(house: House, address_id: str, taken: Taken) -> Glance:
    with house.casebook.reading() as session:
        text = personal.text_of(session, personal.MESSAGE, taken.message_id) or ""
        if not may_be_service_word(text) and not is_cry_for_help(text) and taken.carrier_word != "help":
            return Glance()
        known = candidates(session, address_id, taken.at)
        cries = is_cry_for_help(text) or taken.carrier_word == "help"
        endangered = [case.id for case in known if cries and _met_danger(session, case.id)]
        asked = choose_case(text, known_as_open(known), taken.at)
        case = load_case(session, asked.case)[0] if isinstance(asked, ToCase) else None
    open_ = case is not None and case.state != "closed" and case.waiting_for is not None
    answers = case is not None and open_ and house.conversing_of(case.edition).answers(case, text)
    danger = len(text.split()) > 1 and house.conversing.endangers(text)
    return Glance(answers=answers, endangered=endangered[-1] if endangered else None, danger=danger)


def _met_danger(session: Session, case_id: str) -> bool:
    case, _ = load_case(session, case_id)
    return case.state == "danger" or any(call.why == "danger" for call in case.desk_calls)


def follow_consent(house: House, address_id: str) -> None:
    """Nobody speaks in the cases of somebody who opted out, the desk has them; after a new yes the assistant goes on."""
    with house.casebook.reading() as session:
        given = people.consent_of(session, address_id)
        running = cases.cases_of_address(session, address_id) if given else ()
    silent, has = is_opted_out(given), ASSISTANT if is_opted_out(given) else NOBODY
    for kept in running:
        if kept.voice == has:
            turn = ColleagueTookOver if silent else ColleagueHandedBack
            happen(
                house,
                kept.id,
                turn(at=given[-1].at, colleague=NOBODY),
                wanted=lambda _session, now: now.voice == has,
                then=lambda _session, _written: None,
            )
