"""What the hours bring: messages that a crash left waiting, promised hours, texts that may go out."""

import logging
from datetime import datetime

from sqlalchemy.orm import Session

from assistant.casebook import DueTimer, KeptCase, cases, inbox, people, timers
from assistant.conversation.happenings import TimerDue
from assistant.helpline.house import House
from assistant.helpline.phone import follow_consent, settle_address
from assistant.helpline.settling import Written, happen, settle

log = logging.getLogger(__name__)


def sweep(house: House) -> int:
    """Take up what a crash left: cases unbegun, messages unanswered or in no case, a consent not yet followed."""
    with house.casebook.reading() as session:
        unbegun = cases.unbegun_cases(session)
        unsorted = inbox.addresses_waiting(session)
        waiting = inbox.cases_waiting(session)
        spoken_for = people.addresses_with_consent(session)
    for address_id in unsorted:
        settle_address(house, address_id)
    left = tuple(dict.fromkeys((*unbegun, *waiting)))
    for case_id in left:
        settle(house, case_id)
    for address_id in spoken_for:
        follow_consent(house, address_id)
    return len(unsorted) + len(left)


def keep_promises(house: House, now: datetime) -> int:
    """Let every promised hour that has come happen, each once; how many."""
    with house.casebook.reading() as session:
        due = timers.due_timers(session, now)
    return sum(_come_due(house, timer, now) for timer in due)


def _come_due(house: House, timer: DueTimer, now: datetime) -> bool:
    def still_promised(session: Session, _kept: KeptCase) -> bool:
        if not timers.still_set(session, timer):
            return False
        timers.drop(session, timer.case_id, timer.name)  # before the events: they may promise the same again
        return True

    def nothing_more(_session: Session, _written: Written) -> None:
        """The events say it all."""

    happening = TimerDue(at=now, timer=timer.name)
    written = happen(house, timer.case_id, happening, wanted=still_promised, then=nothing_more, unasked=True)
    return written is not None
