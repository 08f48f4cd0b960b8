"""A case's reasoning as data: what is known, asked and worked out, what is believed and why, and how belief moved."""

from collections.abc import Mapping
from dataclasses import asdict
from datetime import datetime
from functools import reduce

from sqlalchemy.orm import Session

from assistant.casebook import KeptCase, cases, load_case
from assistant.conversation import apply, new_case
from assistant.conversation.events import Asked, FactLearned
from assistant.conversation.known import unit_of
from assistant.conversation.moving import edition_in
from assistant.conversation.product_clock import product_hours_left
from assistant.conversation.record import to_record
from assistant.conversation.sum_events import SumDone
from assistant.conversation.worksheets import worksheet_of
from assistant.drawing.beliefs import draw_beliefs
from assistant.helpline.house import House
from assistant.helpline.plug import Conversing
from assistant.helpline.steps_of_belief import Log, belief_steps
from kb.ids import Language


def reasons_of(session: Session, house: House, kept: KeptCase, at: datetime | None) -> Mapping[str, object]:
    """Everything that the case's log and the knowledge say about why, ready for JSON."""
    log = tuple(cases.events_of(session, kept.id))
    return reasons_in(
        house.conversing_of(edition_in(log)), log, at or (log[-1][1].at if log else kept.opened_at)
    )


def reasons_in(
    conversing: Conversing, log: Log, at: datetime, language: Language = "en"
) -> Mapping[str, object]:
    """The same of a log that need not be kept anywhere; `language` is that of the picture."""
    case = reduce(apply, (event for _, event in log), new_case())
    insight = conversing.insight(case, at)
    words = conversing.causes.get(language, {})
    steps = belief_steps(log, lambda cause: words.get(cause, cause))
    return {
        "edition": conversing.edition,
        "beliefs": [asdict(share) for share in insight.beliefs],
        "marginals": [{"cause": cause, "probability": share} for cause, share in insight.marginals],
        "nothing_wrong": insight.nothing_wrong,
        "something_else": insight.something_else,
        "mended": insight.mended,
        "findings": [_plain(fact) for fact in case.facts],
        "asked": [_plain(asked) for asked in case.asked],
        "sums": [_plain(event) for _, event in log if isinstance(event, SumDone)],
        "next": [asdict(check) for check in insight.next],
        "entropy_bits": insight.entropy_bits,
        "evidence": None if insight.evidence is None else asdict(insight.evidence),
        "conflict": None if insight.conflict is None else asdict(insight.conflict),
        "picture": draw_beliefs(steps, language),
    }


def sums_of(session: Session, kept: KeptCase, at: datetime) -> Mapping[str, object]:
    """The latest of each sum, in the person's own unit, and the hours that the product has left."""
    case, _ = load_case(session, kept.id)
    unit = unit_of(case)
    language: Language = case.language or "en"
    return {
        "sums": [asdict(worksheet_of(done, unit, language)) for done in case.sums],
        "product_hours_left": product_hours_left(case, at),
    }


def _plain(event: FactLearned | Asked | SumDone) -> Mapping[str, object]:
    """The event's body, its pairs as objects."""
    body = dict(to_record(event).body)
    for name in ("likelihood", "inputs", "results", "splits"):
        if name in body:
            body[name] = {str(key): value for key, value in body[name]}
    return body
