"""From events to rows: the log, what the log says now, timers, and texts on their way, all in one transaction."""

from collections.abc import Sequence
from datetime import datetime
from functools import reduce

from sqlalchemy.orm import Session

from assistant.casebook import (
    KeptCase,
    Standing,
    cases,
    closings,
    editions,
    outbox,
    people,
    personal,
    searching,
    timers,
)
from assistant.conversation import Case, apply
from assistant.conversation.desk_events import HeldTold
from assistant.conversation.events import CaseClosed, DeskCalled, Event, Heard, Said, VoiceChanged
from assistant.conversation.ids import ASSISTANT, NOBODY
from assistant.conversation.line_events import PhotoTaken
from assistant.helpline.plug import Conversing
from assistant.thread import first_polite, is_opted_out, zones_of

NEEDS_A_PERSON = ("danger", "with_person")


def commit(
    session: Session,
    conversing: Conversing,
    kept: KeptCase,
    before: Case,
    events: Sequence[Event],
    *,
    program: str,
    unasked: bool,
    by_page: bool,
) -> Case:
    """Write what follows for the case, which the caller holds at `kept.version`; the case afterwards.

    `conversing` decided them, in this version of the `program`. `unasked`: nobody wrote just now, so what is said names its room where there are several.
    """
    after = reduce(apply, events, before)
    if not events:
        return after
    editions.keep_edition(session, conversing.edition, conversing.files, events[0].at)
    cases.append_events(session, kept.id, kept.version, events, edition=conversing.edition, program=program)
    standing = _standing(conversing, cases.standing_of(session, kept.id), after, events)
    cases.note_standing(session, kept.id, kept.version + len(events), standing)
    if after.language != before.language:
        people.set_language(session, kept.person_id, after.language)
    timers.follow_timers(session, kept.id, events)
    if any(isinstance(event, PhotoTaken) for event in events):
        cases.note_photo(session, kept.id, events[0].at)
    _follow_desk(session, kept, events)
    if any(isinstance(event, VoiceChanged) for event in events):
        outbox.withdraw_unspoken(session, kept.id, after.voice)
    if kept.address_id is not None:
        _send_or_call(session, kept, kept.address_id, after, events, unasked=unasked, by_page=by_page)
    return after


def _follow_desk(session: Session, kept: KeptCase, events: Sequence[Event]) -> None:
    """What the desk searches in and learns from."""
    for sequence, event in enumerate(events, start=kept.version + 1):
        match event:
            case Said() if event.text:
                searching.keep_said(session, kept.id, sequence, event.text)
            case CaseClosed() | HeldTold():
                closings.note(session, kept.id, event)
            case _:
                pass


def _standing(conversing: Conversing, was: Standing, after: Case, events: Sequence[Event]) -> Standing:
    said = [event.at for event in events if isinstance(event, Said)]
    last_said_at = said[-1] if said else was.last_said_at
    asks, asked_at = _open_question(conversing, was, after, last_said_at)
    needed = after.state in NEEDS_A_PERSON
    call = after.desk_calls[-1] if needed and after.desk_calls else None
    cause = after.believed.causes[0] if after.believed and after.believed.causes else None
    return Standing(
        state=after.state,
        voice=after.voice,
        edition=conversing.edition,
        asks=asks,
        asked_at=asked_at,
        why=call.why if call else None,
        urgency=call.urgency if call else None,
        needs_since=_needs_since(was, after, events) if needed else None,
        cause=str(cause[0]) if cause else None,
        cause_probability=cause[1] if cause else None,
        last_heard_at=after.last_heard_at,
        last_said_at=last_said_at,
    )


def _open_question(
    conversing: Conversing, was: Standing, after: Case, last_said_at: datetime | None
) -> tuple[str | None, datetime | None]:
    if (
        after.voice != ASSISTANT
    ):  # a colleague asks in words of their own: whatever they wrote last may be a question
        return ("other", last_said_at) if last_said_at != was.last_said_at else (was.asks, was.asked_at)
    if after.waiting_for is None:
        return None, None
    return ("number" if conversing.waits_for_number(after) else "other"), after.waiting_for.at


def _needs_since(was: Standing, after: Case, events: Sequence[Event]) -> datetime | None:
    """Since when somebody waits for a person; under a colleague, since the first message that has no word of theirs."""
    if any(isinstance(event, Said) and event.voice != ASSISTANT for event in events):
        return None
    calls = after.voice in (ASSISTANT, NOBODY) or any(
        isinstance(event, Heard | DeskCalled) for event in events
    )
    return was.needs_since or (events[0].at if calls else None)


def _send_or_call(
    session: Session,
    kept: KeptCase,
    address_id: str,
    after: Case,
    events: Sequence[Event],
    *,
    unasked: bool,
    by_page: bool,
) -> None:
    """Texts for what was said; to whom none may or can go, a danger has the desk call them."""
    if is_opted_out(people.consent_of(session, address_id)) or people.is_unreachable(session, address_id):
        danger = [event.at for event in events if isinstance(event, DeskCalled) and event.why == "danger"]
        if danger:
            cases.note_phone_now(session, kept.id, danger[-1])
        return
    for sequence, event in enumerate(events, start=kept.version + 1):
        if isinstance(event, Said) and (not by_page or _is_safety(event)):
            _put_out(
                session, kept, address_id, after, sequence, event, kept.version + len(events), unasked=unasked
            )


def _put_out(
    session: Session,
    kept: KeptCase,
    address_id: str,
    after: Case,
    sequence: int,
    said: Said,
    version: int,
    *,
    unasked: bool,
) -> None:
    outbox.put_out(
        session,
        case_id=kept.id,
        sequence=sequence,
        text_id=None,
        channel=people.address(session, address_id).channel,
        address_id=address_id,
        made_at=said.at,
        due_after=said.at if said.urgent else first_polite(said.at, _zones(session, kept, address_id)),
        voice=after.voice,
        version=version,
        safety=_is_safety(said),
        names_room=unasked,
        despite_optout=False,
    )


def _zones(session: Session, kept: KeptCase, address_id: str) -> tuple[str, ...]:
    """Where they may be asleep: the zone that a page told, else all that their number may be in."""
    number = personal.text_of(session, personal.NUMBER, address_id)
    return (kept.zone,) if kept.channel != "sms" or number is None else zones_of(number, kept.zone)


def _is_safety(said: Said) -> bool:
    """Danger goes out whoever speaks by then."""
    return any(sentence.startswith(("hazard:", "danger")) for sentence in (*said.opens_with, said.sentence))
