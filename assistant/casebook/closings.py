"""How cases ended: worked out from their logs, for the desk's lists and for what is learnt."""

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from assistant.casebook import personal
from assistant.casebook.desk_tables import ClosingRow
from assistant.casebook.kept import kept_as
from assistant.conversation.desk_events import HeldTold
from assistant.conversation.events import CaseClosed


@dataclass(frozen=True, slots=True, kw_only=True)
class Closing:
    """How one case ended last."""

    case_id: str
    at: datetime
    reason: str
    name: str | None
    cause: str | None
    is_new: bool
    fix: str | None
    held: bool | None


def note(session: Session, case_id: str, event: CaseClosed | HeldTold) -> None:
    """Follow the log: a case that ends again ends as it did last."""
    row = session.get(ClosingRow, case_id)
    if isinstance(event, HeldTold):
        if row is not None:
            row.held = event.held
        return
    values = {
        "at": event.at,
        "reason": event.reason,
        "name": event.colleague,
        "cause": event.cause,
        "is_new": event.is_new,
        "fix": event.fix,
        "held": True if event.reason == "held" else event.held,
    }
    session.merge(ClosingRow(case_id=case_id, **values))
    session.flush()


def closing_of(session: Session, case_id: str) -> Closing | None:
    """How a case ended; None while it runs for the first time."""
    row = session.get(ClosingRow, case_id)
    return None if row is None else kept_as(Closing, row)


def closings(session: Session, *, new_causes_only: bool = False) -> tuple[Closing, ...]:
    """All endings, the latest first."""
    query = select(ClosingRow).order_by(ClosingRow.at.desc(), ClosingRow.case_id)
    if new_causes_only:
        query = query.where(ClosingRow.is_new)
    return tuple(kept_as(Closing, row) for row in session.scalars(query))


def words_of(session: Session, case_id: str) -> str:
    """What was wrong and what mended it, in the colleague's words; empty once erased."""
    return personal.text_of(session, personal.CLOSING, case_id) or ""
