"""One happening, decided outside any lock and written once: the second of the two transactions of every use case.

A case is loaded at a version, `step` decides, and what follows is written if the case still is at that version; else
once more, on what is there now. Nothing here depends on who began the work: a sweeper after a crash does the same.
"""

import logging
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from functools import reduce

from sqlalchemy.orm import Session

from assistant.casebook import KeptCase, Taken, cases, inbox, load_case, people, personal
from assistant.conversation import Case, apply, new_case
from assistant.conversation.events import DeskCalled, Event, Said, StateChanged
from assistant.conversation.happenings import CaseBegun, Happening, MessageHeard, StepFailed
from assistant.conversation.ids import MessageId, SentenceId
from assistant.helpline.agreeing import note_answers
from assistant.helpline.committing import commit
from assistant.helpline.house import House
from assistant.helpline.plug import Conversing
from assistant.thread import agreed_to
from assistant.wording import variant

log = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """What a happening left in the log."""

    first: int
    last: int
    """Below `first` where nothing followed."""
    case: Case
    fault: str | None
    """What failed in deciding, where it failed twice."""


Wanted = Callable[[Session, KeptCase], bool]
Then = Callable[[Session, Written], None]


def happen(
    house: House,
    case_id: str,
    happening: Happening,
    *,
    wanted: Wanted,
    then: Then,
    unasked: bool = False,
    by_page: bool = False,
) -> Written | None:
    """Decide what follows and write it, once. None: `wanted` said that somebody else has done it.

    `by_page`: a page waits for what is said, so that no text repeats it, but for a danger.
    `wanted` is asked inside the writing transaction, with the case held; it may write, and what it raises undoes all.
    """
    while True:  # each turn but the last means that somebody else got on
        with house.casebook.reading() as session:
            before, version = load_case(session, case_id)
        conversing = house.editions.speaking_in(before, happening, house.files_of)
        events, fault = _decide(conversing, case_id, before, happening)
        with house.casebook.writing() as session:
            kept = cases.lock_case(session, case_id)
            if kept.version != version:
                continue
            if not wanted(session, kept):
                return None
            after = commit(
                session,
                conversing,
                kept,
                before,
                events,
                program=house.program,
                unasked=unasked,
                by_page=by_page,
            )
            note_answers(session, house, kept, events)
            written = Written(first=version + 1, last=version + len(events), case=after, fault=fault)
            if fault is not None:
                cases.note_fault(session, case_id, fault)
            then(session, written)
            return written


def settle(house: House, case_id: str) -> None:
    """Begin the case if a crash left it unbegun, and answer every message of it that waits, in order."""
    while True:
        with house.casebook.reading() as session:
            kept = cases.find_case(session, case_id)
            waiting = inbox.next_waiting(session, case_id)
            text = personal.text_of(session, personal.MESSAGE, waiting.message_id) if waiting else None
        if kept is not None and kept.version == 0:
            _begin(house, kept)
        elif waiting is not None:
            _answer(house, case_id, waiting, text or "")
        else:
            return


def _begin(house: House, kept: KeptCase) -> None:
    with house.casebook.reading() as session:
        given = people.consent_of(session, kept.address_id) if kept.address_id else ()
    begun = CaseBegun(
        at=kept.opened_at,
        language=kept.language,
        channel=kept.channel,
        zone=kept.zone,
        region=kept.region,
        desk_opens=house.desk.opens,
        desk_closes=house.desk.closes,
        room=kept.room_id,
        greet=kept.greet,
        carried=kept.carried,
        agreed=agreed_to(given) if kept.address_id else None,
        phone_line=house.line is not None,
    )
    written = happen(
        house,
        kept.id,
        begun,
        wanted=lambda _session, now: now.version == 0,
        then=lambda session, written: cases.note_begun(session, kept.id, written.last),
    )
    if written is not None and written.last < written.first:
        msg = f"case {kept.id} was begun and nothing followed: `step` owes it an event"
        raise ValueError(msg)


def _answer(house: House, case_id: str, waiting: Taken, text: str) -> None:
    def still_waits(session: Session, _kept: KeptCase) -> bool:
        now = inbox.message(session, waiting.id)
        return now.state == "waiting" and now.case_id == case_id

    def note(session: Session, written: Written) -> None:
        failed = written.fault is not None
        inbox.note_answer(
            session,
            waiting.id,
            first=written.first,
            last=written.last,
            case_state=written.case.state,
            failed=failed,
        )
        cases.note_heard(session, case_id, written.first)

    heard = MessageHeard(at=waiting.at, message=waiting.message_id, text=text, photos=waiting.photos)
    by_page = waiting.address_id is None
    happen(house, case_id, heard, wanted=still_waits, then=note, by_page=by_page)


def _decide(
    conversing: Conversing, case_id: str, case: Case, happening: Happening
) -> tuple[tuple[Event, ...], str | None]:
    """What follows; where deciding fails twice, an honest sentence and a person, with what failed."""
    try:
        return conversing.step(case, happening), None
    except Exception:  # deciding failed: it is logged, tried once more, and then owned up to
        log.exception("deciding failed in case %s, trying once more", case_id)
    try:
        return conversing.step(case, happening), None
    except Exception as failure:
        log.exception("deciding failed twice in case %s", case_id)
        fault = type(failure).__name__  # its text might hold the customer's words
    message = happening.message if isinstance(happening, MessageHeard) else None
    return _own_up(conversing, case_id, case, happening.at, message, fault), fault


def _own_up(
    conversing: Conversing, case_id: str, case: Case, at: datetime, message: MessageId | None, fault: str
) -> tuple[Event, ...]:
    try:
        return conversing.step(case, StepFailed(at=at, message=message, fault=fault))
    except Exception:
        log.exception("owning up failed in case %s", case_id)
        return _last_words(case, at)


def _last_words(case: Case, at: datetime) -> tuple[Event, ...]:
    """When nothing can be decided at all, a person must know, and the customer must not wait in vain."""
    language = case.language or "en"
    words = variant("fault", language, 0)
    said = Said(at=at, sentence=SentenceId("fault"), language=language, text=words, urgent=True)
    call = DeskCalled(at=at, why="fault", urgency="today")
    if case.state in ("danger", "closed"):
        return (call, said)
    return (call, StateChanged(at=at, state="with_person"), said)


def case_at(session: Session, case_id: str, sequence: int) -> Case:
    """The case as its log told it up to one place."""
    told = [event for place, event in cases.events_of(session, case_id) if place <= sequence]
    return reduce(apply, told, new_case())
