"""A case's reasoning as data: what is known, asked and worked out, and what is believed."""

from collections.abc import Mapping
from dataclasses import asdict
from datetime import datetime

from sqlalchemy.orm import Session

from assistant.casebook import KeptCase, cases, load_case
from assistant.conversation.events import Asked, FactLearned
from assistant.conversation.record import to_record
from assistant.conversation.sum_events import SumDone
from assistant.helpline.house import House


def reasons_of(session: Session, house: House, kept: KeptCase, at: datetime | None) -> Mapping[str, object]:
    """Everything that the case's log and the knowledge say about why, ready for JSON."""
    log = cases.events_of(session, kept.id)
    case, _ = load_case(session, kept.id)
    insight = house.conversing.insight(case, at or (log[-1][1].at if log else kept.opened_at))
    sums = [event for _, event in log if isinstance(event, SumDone)]
    return {
        "edition": house.conversing.edition,
        "beliefs": [asdict(share) for share in insight.beliefs],
        "marginals": [{"cause": cause, "probability": share} for cause, share in insight.marginals],
        "nothing_wrong": insight.nothing_wrong,
        "something_else": insight.something_else,
        "findings": [_plain(fact) for fact in case.facts],
        "asked": [_plain(asked) for asked in case.asked],
        "sums": [_plain(done) for done in sums],
        "next": [asdict(check) for check in insight.next],
        "entropy_bits": insight.entropy_bits,
    }


def _plain(event: FactLearned | Asked | SumDone) -> Mapping[str, object]:
    """The event's body, its pairs as objects."""
    body = dict(to_record(event).body)
    for name in ("likelihood", "inputs", "results", "splits"):
        if name in body:
            body[name] = {str(key): value for key, value in body[name]}
    return body
