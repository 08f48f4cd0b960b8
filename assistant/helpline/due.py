"""What the hours bring: messages that a crash left waiting, promised hours, a consent to follow."""

import logging
from collections.abc import Callable
from datetime import datetime
from functools import partial

from sqlalchemy.orm import Session

from assistant.casebook import DueTimer, KeptCase, cases, inbox, timers
from assistant.conversation.happenings import TimerDue
from assistant.helpline.house import House
from assistant.helpline.phone import follow_consent, settle_address
from assistant.helpline.settling import Written, happen, settle

log = logging.getLogger(__name__)


def sweep(house: House) -> int:
    """Take up what a crash left: cases unbegun, messages unanswered or in no case, a consent not yet followed."""
    with house.casebook.reading() as session:
        unsorted = inbox.addresses_waiting(session)
        left = tuple(dict.fromkeys((*cases.unbegun_cases(session), *inbox.cases_waiting(session))))
        out_of_step = cases.addresses_out_of_step(session)
    taken_up = [_alone(f"address {address}", partial(settle_address, house, address)) for address in unsorted]
    taken_up += [_alone(f"case {case}", partial(settle, house, case)) for case in left]
    for address in out_of_step:
        _alone(f"address {address}", partial(follow_consent, house, address))
    return sum(taken_up)


def keep_promises(house: House, now: datetime) -> int:
    """Let every promised hour that has come happen, each once; how many."""
    with house.casebook.reading() as session:
        due = timers.due_timers(session, now)
    return sum(_alone(f"case {timer.case_id}", partial(_come_due, house, timer, now)) for timer in due)


def _alone(what: str, work: Callable[[], bool | None]) -> bool:
    """One piece of work, whose failure stops no other: it is logged, and stays due. False: nothing was left to do."""
    try:
        return work() is not False
    except Exception:
        log.exception("%s could not be taken up; it stays due", what)
        return False


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
