"""Texts handed to a courier: checked again at the last moment, in order, and seen twice at most once."""

import json
import logging
import re
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from sqlalchemy.orm import Session

from assistant.casebook import Parcel, cases, inbox, outbox, people, personal
from assistant.conversation.events import Said
from assistant.conversation.ids import ASSISTANT, NOBODY
from assistant.conversation.turn import numbered
from assistant.helpline.couriers import Accepted, Courier, Later, NotSent, Refused
from assistant.helpline.house import House
from assistant.helpline.limits import count_cost, may_be_texted, may_cost, tell_of_cost
from assistant.helpline.outside import NOTICE, say_outside
from assistant.thread import ConsentGiven, filled, is_opted_out, room_words
from kb.gsm7 import fold_for_sms, segments

log = logging.getLogger(__name__)
UNSAYABLE: Final = re.compile(r"[\x00-\x09\x0b-\x1f\x7f]")
"""Control characters, which markup cannot carry; a line feed stays."""

FIRST_WAIT: Final = timedelta(seconds=30)
LONGEST_WAIT: Final = timedelta(minutes=30)
GIVEN_UP_AFTER: Final = timedelta(hours=4)
"""A repair step that comes later than this answers a question that nobody asks any more."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Handed:
    """A text that the caller itself carries away."""

    once: str
    text: str


def hand_out(house: House, now: datetime) -> int:
    """Send what is due; how many texts were taken on or refused."""
    handed = 0
    while house.courier is not None:
        with house.casebook.writing() as session:
            parcel = outbox.claim(session, now, due_by=now - house.courier_waits)
            if parcel is None:
                return handed
            ready = _made_ready(session, house, parcel, now)
        if ready is not None:
            handed += _hand_over(house, house.courier, parcel, ready, now)
    return handed


def hand_to_caller(house: House, inbox_id: int, now: datetime) -> tuple[Handed, ...]:
    """What the address of a message is owed, for the answer to its webhook; the same webhook again gets the same.

    Empty where something earlier is still under way: then all goes by the courier, and in order.
    """
    with house.casebook.writing() as session:
        taken = inbox.message(session, inbox_id)
        if taken.address_id is None:
            return ()
        people.lock_address(session, taken.address_id)
        before = personal.text_of(session, personal.HANDED, taken.message_id)
        if before is not None:
            return tuple(Handed(once=once, text=text) for once, text in json.loads(before))
        parcels = outbox.claim_for_caller(session, taken.address_id, now)
        made = [(parcel, _made_ready(session, house, parcel, now)) for parcel in parcels]
        handed = tuple(Handed(once=f"{parcel.id}", text=ready[1]) for parcel, ready in made if ready)
        kept = json.dumps([(one.once, one.text) for one in handed], ensure_ascii=False)
        personal.write_text(session, personal.HANDED, taken.message_id, kept, None)
        return handed


def note_delivery(
    house: House,
    outbox_id: int,
    *,
    word: str,
    provider_id: str | None,
    refusal: Refused | None,
    at: datetime,
) -> None:
    """The provider's word on a text: that it has it, or that it failed, and why."""
    with house.casebook.writing() as session:
        parcel = outbox.note_delivery(session, outbox_id, word=word, provider_id=provider_id, at=at)
        if parcel is not None and refusal is not None:
            _follow_refusal(session, parcel, refusal, at)


def _made_ready(session: Session, house: House, parcel: Parcel, now: datetime) -> tuple[str, str] | None:
    """Address and words of a claimed text; None, and its end noted, where it must not go out any more."""
    address = personal.text_of(session, personal.NUMBER, parcel.address_id)
    words = _words(session, parcel, now)
    if address is None or words is None or _is_stale(session, parcel):
        outbox.finish(session, parcel, "withdrawn")
        return None
    words = as_carried(words)
    if parcel.attempts > outbox.MOST_ATTEMPTS:
        return address, words  # it is only looked for once more
    if parcel.channel == "sms" and not _may_be_paid(session, house, parcel, address, words, now):
        return None
    outbox.note_segments(session, parcel.id, segments(words))
    return address, words


def _may_be_paid(
    session: Session, house: House, parcel: Parcel, address: str, words: str, now: datetime
) -> bool:
    """The text stays within what may be spent; where not, the desk knows, and they are told once a day."""
    parts, limits, notice = segments(words), house.limits, parcel.voice == NOTICE
    here = may_be_texted(address, limits.places)
    by_colleague = parcel.case_id is not None and parcel.voice not in (ASSISTANT, NOBODY)
    free = parcel.safety or parcel.despite_optout or by_colleague
    if not here and not notice:
        _turn_down(session, parcel, "elsewhere", now)
        return False
    if free or may_cost(session, limits, parcel.address_id, parts, now, notice=notice):
        count_cost(session, parcel.address_id, parts, now)
        return True
    _turn_down(session, parcel, "daily_limit", now)
    if not notice and tell_of_cost(session, parcel.address_id, now):
        say_outside(session, house, parcel.address_id, f"{parcel.id}", "no_more_today", now, voice=NOTICE)
    return False


def _turn_down(session: Session, parcel: Parcel, why: str, now: datetime) -> None:
    log.warning("text %s was not sent: %s", parcel.id, why)
    outbox.finish(session, parcel, "refused", at=now, refusal=why)
    if parcel.safety and parcel.case_id is not None:
        cases.note_phone_now(session, parcel.case_id, now)
    cases.call_desk_about_address(session, parcel.address_id, now)


def as_carried(words: str) -> str:
    """The words in the letters that cost least, without what no text can carry: sent, kept and counted alike."""
    return fold_for_sms(UNSAYABLE.sub("", words))


def _is_stale(session: Session, parcel: Parcel) -> bool:
    opted_out = is_opted_out(people.consent_of(session, parcel.address_id))
    if opted_out and not parcel.despite_optout:
        return True
    if parcel.case_id is None or parcel.safety:
        return False
    kept = cases.find_case(session, parcel.case_id)
    if kept is None:
        return True
    spoken_over = parcel.voice == ASSISTANT and kept.voice != ASSISTANT
    return spoken_over or outbox.has_moved_on(session, parcel)


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


def _hand_over(house: House, courier: Courier, parcel: Parcel, ready: tuple[str, str], now: datetime) -> int:
    address, words = ready
    if parcel.attempts > outbox.MOST_ATTEMPTS and not _surely_not_sent(house, courier, parcel, ready, now):
        return 0
    again_since = parcel.made_at if parcel.attempts > 1 else None
    try:
        outcome = courier.send(address, words, f"{parcel.id}", again_since)
    except Exception:  # whatever the courier hit, the text may be out: its lease decides
        log.exception("the courier failed with text %s", parcel.id)
        return 0
    with house.casebook.writing() as session:
        match outcome:
            case Accepted():
                outbox.finish(session, parcel, "sent", at=now, provider_id=outcome.provider_id)
            case Refused():
                outbox.finish(session, parcel, "refused", at=now, refusal=outcome.why)
                _follow_refusal(session, parcel, outcome, now)
            case Later():
                _put_back(session, parcel, outcome, now)
                return 0
    return 1


def _surely_not_sent(
    house: House, courier: Courier, parcel: Parcel, ready: tuple[str, str], now: datetime
) -> bool:
    """It was tried twice, and nobody knows: it goes again only where the provider says that it has neither.

    What arrived after all is noted; where it cannot be known, the desk is told: never silence.
    """
    try:
        found = courier.look_back(*ready, parcel.made_at)
    except Exception:  # it cannot be asked now: its lease brings it back
        log.exception("the courier could not look for text %s", parcel.id)
        return False
    if isinstance(found, NotSent) and now - parcel.due_after <= GIVEN_UP_AFTER:
        return True
    with house.casebook.writing() as session:
        if isinstance(found, Accepted):
            outbox.finish(session, parcel, "sent", at=now, provider_id=found.provider_id)
            return False
        log.error(
            "nobody knows whether text %s arrived; it was tried %s times", parcel.id, parcel.attempts - 1
        )
        outbox.finish(session, parcel, "unknown")
        if parcel.safety and parcel.case_id is not None:
            cases.note_phone_now(session, parcel.case_id, now)
        cases.call_desk_about_address(session, parcel.address_id, now)
    return False


def _put_back(session: Session, parcel: Parcel, later: Later, now: datetime) -> None:
    log.warning("text %s goes later: %s", parcel.id, later.why)
    if now - parcel.due_after > GIVEN_UP_AFTER and not parcel.safety:
        outbox.finish(session, parcel, "refused", at=now, refusal=later.why)
        cases.call_desk_about_address(session, parcel.address_id, now)
        return
    wait = min(FIRST_WAIT * 2 ** min(parcel.put_backs, 10), LONGEST_WAIT)
    outbox.put_back(session, parcel, now + wait, later.why)


def _follow_refusal(session: Session, parcel: Parcel, refusal: Refused, at: datetime) -> None:
    """What a refusal means beyond its text: no further ones, and a person who knows."""
    match refusal.kind:
        case "opted_out":
            if not is_opted_out(people.consent_of(session, parcel.address_id)):
                given = ConsentGiven(kind="opt_out", at=at, source="carrier")
                people.note_consent(session, parcel.address_id, given)
            outbox.withdraw_all_to(session, parcel.address_id)
        case "unusable":
            people.note_unreachable(session, parcel.address_id, refusal.why)
            outbox.withdraw_all_to(session, parcel.address_id)
        case "carrier" | "ours":
            log.error("text %s was not sent: %s", parcel.id, refusal.why)
    if parcel.safety and parcel.case_id is not None:
        cases.note_phone_now(session, parcel.case_id, at)
    cases.call_desk_about_address(session, parcel.address_id, at)
