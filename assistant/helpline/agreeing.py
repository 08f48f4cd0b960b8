"""What somebody said to texts that come unasked: kept, and the first yes confirmed as the rules of texting have it."""

from collections.abc import Sequence
from datetime import datetime

from sqlalchemy.orm import Session

from assistant.casebook import KeptCase, people
from assistant.conversation.events import Event
from assistant.conversation.line_events import ConsentAnswered
from assistant.helpline.house import House
from assistant.helpline.outside import say_outside
from assistant.thread import ConsentGiven


def note_answers(session: Session, house: House, kept: KeptCase, events: Sequence[Event]) -> None:
    """Keep every yes and no among the events; the first yes of an address is confirmed, once."""
    if kept.address_id is None:
        return
    for event in events:
        if not isinstance(event, ConsentAnswered):
            continue
        before = people.consent_of(session, kept.address_id)
        people.note_consent(session, kept.address_id, _given(event))
        if event.yes and not any(one.kind == "opt_in" for one in before):
            _confirm(session, house, kept, kept.address_id, event.at)


def _confirm(session: Session, house: House, kept: KeptCase, address_id: str, at: datetime) -> None:
    say_outside(session, house, address_id, f"consent:{kept.id}:{at.isoformat()}", "agreed", at)


def _given(answered: ConsentAnswered) -> ConsentGiven:
    return ConsentGiven(
        kind="opt_in" if answered.yes else "opt_out",
        at=answered.at,
        source="text",
        scope=answered.scope,
        message_id=answered.message,
    )
