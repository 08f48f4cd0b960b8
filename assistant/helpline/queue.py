"""The desk's queue: every running case in a line, ordered by an urgency that says why.

First people, then product, then who waits longest for a person, then what is stuck; the rest by when it is due.
"""

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final, Literal

from sqlalchemy.orm import Session

from assistant.casebook import DeskRow, desk, load_case, timers
from assistant.conversation.after_close import PROMISED
from assistant.conversation.case import Case
from assistant.conversation.ids import ASSISTANT, NOBODY, CaseState
from assistant.conversation.known import unit_of
from assistant.conversation.product_clock import product_hours_left
from assistant.helpline.house import House
from assistant.wording import degrees
from kb.ids import Language, QuantityId

TARGET: Final = QuantityId("target_c")
ROOM: Final = QuantityId("room_c")
MISREAD_TWICE: Final = 2
LONGEST_H: Final = 1e6
SOON_H: Final = 6.0
"""Product with so little time left goes before everybody who waits (common practice, no source)."""

RECENT: Final = timedelta(minutes=15)
SOON: Final = timedelta(minutes=60)
"""A promised hour so near stands among those who wait."""

Reason = Literal[
    "phone_now", "danger", "food", "promise_over", "unreachable", "came_back", "waits_for_person", "colleague_silent",
    "photo", "promise_soon", "stuck", "promised", "runs",
]  # fmt: skip
ORDER: Final[tuple[Reason, ...]] = (
    "phone_now", "danger", "food", "promise_over", "unreachable", "came_back", "waits_for_person", "colleague_silent",
    "photo", "promise_soon", "stuck", "promised", "runs",
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class QueueLine:
    """One case as the queue shows it."""

    row: DeskRow
    reason: Reason
    """The most urgent thing about it."""
    since: datetime | None
    """Since when that is so; of a promise, when it is due."""
    danger: str | None
    """The hazard that stands, in words."""
    complaint: str | None
    last: str | None
    target: str | None
    cause: str | None
    share: float | None
    """None while a fix for it was done and is not yet proved."""
    hours_left: float | None
    """Until the product passes its limit, at the trend that was seen last; 0: over."""
    language: Language | None
    channel: str
    state: CaseState
    promised: datetime | None
    """The hour at which a colleague promised to be back."""
    next: str | None
    """What comes next, in words: the question that is open, or the fix that is under way."""


def queue_of(session: Session, house: House, at: datetime, language: Language) -> tuple[QueueLine, ...]:
    """Every case that is not closed, the most urgent first."""
    lines = [_line(session, house, row, at, language) for row in desk.desk_rows(session)]
    return tuple(sorted(lines, key=_place))


def _place(line: QueueLine) -> tuple[int, float, str, str]:
    since = line.since or line.row.last_message_at
    left = line.hours_left if line.reason == "food" and line.hours_left is not None else LONGEST_H
    return (ORDER.index(line.reason), left, since.isoformat() if since else "", line.row.case)


def _line(session: Session, house: House, row: DeskRow, at: datetime, language: Language) -> QueueLine:
    case, _ = load_case(session, row.case)
    due = timers.next_due(session, row.case)
    reason, since = urgency_of(row, case, due, at)
    last, target = case.latest_number(ROOM), case.latest_number(TARGET)
    unit = unit_of(case)
    fix = case.fix_under_way
    mending = fix is not None and fix.done_at is not None
    suspect = str(fix.cause) if fix is not None and mending else row.cause
    causes, complaints = (
        house.conversing.causes.get(language, {}),
        house.conversing.complaints.get(language, {}),
    )
    return QueueLine(
        row=row,
        reason=reason,
        since=since,
        danger=_danger(house, case, language) if row.state == "danger" else None,
        complaint=complaints.get(str(case.complaints[-1].symptom)) if case.complaints else None,
        last=degrees(last.si, unit) if last else None,
        target=degrees(target.si, unit) if target else None,
        cause=causes.get(suspect, suspect) if suspect else None,
        share=None if mending else row.cause_probability,
        hours_left=product_hours_left(case, at),
        language=case.language,
        channel=case.opened.channel if case.opened else "web",
        state=row.state,
        promised=_promised(case),
        next=_next_step(house, case, language),
    )


def _danger(house: House, case: Case, language: Language) -> str | None:
    raised = case.hazards[-1].hazard if case.hazards else None
    return house.conversing.hazards.get(language, {}).get(str(raised)) if raised else None


def _promised(case: Case) -> datetime | None:
    return next((timer.due for timer in case.timers if timer.timer == PROMISED), None)


def _next_step(house: House, case: Case, language: Language) -> str | None:
    """The open question, or the fix under way, in the colleague's words."""
    waiting, fix = case.waiting_for, case.fix_under_way
    if waiting is not None and waiting.kind == "check" and waiting.check is not None:
        return house.conversing.sentences.get(language, {}).get(f"ask:{waiting.check}")
    if fix is not None and case.state == "fixing":
        return house.conversing.fixes.get(language, {}).get(str(fix.fix))
    return None


def urgency_of(
    row: DeskRow, case: Case, due: datetime | None, at: datetime
) -> tuple[Reason, datetime | None]:
    """Why a case stands where it stands, and since when."""
    heard = row.last_message_at
    if row.phone_now:
        return "phone_now", row.needs_since or heard
    if row.state == "danger":
        return "danger", row.needs_since or heard
    return _call(row, case, at) or _course(row, case, due, at)


def _call(row: DeskRow, case: Case, at: datetime) -> tuple[Reason, datetime | None] | None:
    """Somebody needs a person now; None: nobody does."""
    alone, heard = row.voice in (ASSISTANT, NOBODY), row.last_message_at
    left = product_hours_left(case, at)
    calls = [call.why for call in case.desk_calls]
    if alone and ("food" in calls or (left is not None and left <= SOON_H)):
        return "food", row.needs_since or heard
    if row.needs_since is not None and calls[-1:] == ["promised"]:
        return "promise_over", case.desk_calls[-1].at
    if row.unreachable:
        return "unreachable", row.needs_since
    if row.needs_since is not None and calls[-1:] == ["came_back"]:
        return "came_back", row.needs_since
    if row.needs_since is not None and alone:
        return "waits_for_person", row.needs_since
    return None


def _course(row: DeskRow, case: Case, due: datetime | None, at: datetime) -> tuple[Reason, datetime | None]:
    """What else stands about it."""
    heard, promised = row.last_message_at, _promised(case)
    if row.voice not in (ASSISTANT, NOBODY) and row.needs_since and at - row.needs_since > RECENT:
        return "colleague_silent", row.needs_since
    if row.photo_since is not None:
        return "photo", row.photo_since
    if promised is not None and promised - at <= SOON:
        return "promise_soon", promised
    if case.misread >= MISREAD_TWICE:
        return "stuck", heard
    if due is not None:
        return "promised", due
    return "runs", heard
