"""Cases and their logs."""

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from datetime import datetime
from functools import reduce

from sqlalchemy import func, or_, select, update
from sqlalchemy.orm import Session

from assistant.casebook.kept import KeptCase, LiveCase, kept_as
from assistant.casebook.personal import ROOM_NAME
from assistant.casebook.tables import HELD, CaseRow, ConsentRow, EventRow, PersonalTextRow, RoomRow
from assistant.conversation import Case, apply, new_case
from assistant.conversation.events import Event
from assistant.conversation.ids import ASSISTANT, NOBODY, CaseId, CaseState
from assistant.conversation.record import Record, from_record, to_record

RUNNING: tuple[CaseState, ...] = ("asking", "fixing", "waiting", "with_person", "danger")


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """What the log says now, written beside it so that lists need not fold every case."""

    state: CaseState
    voice: str
    edition: str | None
    asks: str | None
    asked_at: datetime | None
    why: str | None
    urgency: str | None
    needs_since: datetime | None
    cause: str | None
    cause_probability: float | None
    last_heard_at: datetime | None
    last_said_at: datetime | None


def add_case(session: Session, case: KeptCase) -> None:
    """A case that has not begun: its first event is still to be decided."""
    values = asdict(case) | {"carried": [list(fact) for fact in case.carried]}
    session.add(CaseRow(**values))
    session.flush()


def find_case(session: Session, case_id: str) -> KeptCase | None:
    """The case as its row has it."""
    row = session.get(CaseRow, case_id)
    return None if row is None else _kept(row)


def find_case_opened_by(session: Session, sender: str, client_id: str) -> KeptCase | None:
    """The case that was opened under a client id."""
    row = session.scalar(select(CaseRow).where(CaseRow.sender == sender, CaseRow.client_id == client_id))
    return None if row is None else _kept(row)


def lock_case(session: Session, case_id: str) -> KeptCase:
    """The case, held until the transaction ends; SQLite holds the whole book already."""
    return _kept(session.get_one(CaseRow, case_id, with_for_update=HELD, populate_existing=True))


def events_of(session: Session, case_id: str, after: int = 0) -> tuple[tuple[int, Event], ...]:
    """The case's log, each event with its place in it."""
    query = select(EventRow).where(EventRow.case_id == case_id, EventRow.sequence > after)
    rows = session.scalars(query.order_by(EventRow.sequence))
    return tuple((row.sequence, from_record(Record(row.kind, row.version, row.body))) for row in rows)


def case_ids(session: Session, *, closed: bool = False) -> tuple[str, ...]:
    """Every case, or every closed one, in the order in which they were opened."""
    query = select(CaseRow.id).order_by(CaseRow.opened_at, CaseRow.id)
    return tuple(session.scalars(query.where(CaseRow.state == "closed") if closed else query))


def event_at(session: Session, case_id: str, sequence: int) -> Event | None:
    """One event of the log."""
    row = session.get(EventRow, (case_id, sequence))
    return None if row is None else from_record(Record(row.kind, row.version, row.body))


def load_case(session: Session, case_id: str) -> tuple[Case, int]:
    """The case as its log tells it, and the log's length: the version that a decision is made on."""
    log = events_of(session, case_id)
    return reduce(apply, (event for _, event in log), new_case()), log[-1][0] if log else 0


def append_events(
    session: Session, case_id: str, version: int, events: Sequence[Event], *, edition: str, program: str
) -> None:
    """Write what happened after `version`; another writer at the same place fails."""
    for sequence, event in enumerate(events, start=version + 1):
        record = to_record(event)
        session.add(
            EventRow(
                case_id=case_id,
                sequence=sequence,
                kind=record.kind,
                version=record.version,
                body=record.body,
                at=event.at,
                edition=edition,
                program=program,
            )
        )
    session.flush()


def standing_of(session: Session, case_id: str) -> Standing:
    """What was written beside the log last."""
    return kept_as(Standing, session.get_one(CaseRow, case_id))


def note_standing(session: Session, case_id: str, version: int, standing: Standing) -> None:
    """Write how long the log is, and what it says now."""
    _set(session, case_id, version=version, **asdict(standing))


def note_heard(session: Session, case_id: str, sequence: int) -> None:
    """Where the customer's last message stands in the log."""
    _set(session, case_id, heard_sequence=sequence)


def note_begun(session: Session, case_id: str, sequence: int) -> None:
    """Where the opening ends in the log."""
    _set(session, case_id, begun_until=sequence)


def note_fault(session: Session, case_id: str, fault: str) -> None:
    """Tell the desk what failed."""
    _set(session, case_id, fault=fault)


def note_phone_now(session: Session, case_id: str, at: datetime | None) -> None:
    """Tell the desk to call them, since no text may reach them; None: somebody did."""
    _set(session, case_id, phone_now_at=at)


def note_photo(session: Session, case_id: str, at: datetime | None) -> None:
    """A photo waits for the desk's eyes; None: somebody looked."""
    row = session.get_one(CaseRow, case_id)
    row.photo_since = None if at is None else row.photo_since or at
    session.flush()


def speak_over(session: Session, case_id: str, address_id: str) -> None:
    """From now on the case's texts go to this address."""
    _set(session, case_id, address_id=address_id)


def call_desk_about_address(session: Session, address_id: str, at: datetime) -> None:
    """Our texts do not arrive: every running case of the address needs a person from now on."""
    query = select(CaseRow).where(
        CaseRow.address_id == address_id, CaseRow.state != "closed", CaseRow.needs_since.is_(None)
    )
    for row in session.scalars(query):
        row.needs_since = at


def unbegun_cases(session: Session) -> tuple[CaseId, ...]:
    """Cases whose opening a crash cut short."""
    query = select(CaseRow.id).where(CaseRow.version == 0).order_by(CaseRow.opened_at, CaseRow.id)
    return tuple(CaseId(case) for case in session.scalars(query))


def cases_of_address(session: Session, address_id: str) -> tuple[KeptCase, ...]:
    """The running cases that are spoken of over an address, oldest first."""
    query = select(CaseRow).where(
        CaseRow.address_id == address_id, CaseRow.state.in_(RUNNING), CaseRow.version > 0
    )
    return tuple(_kept(row) for row in session.scalars(query.order_by(CaseRow.opened_at, CaseRow.id)))


def addresses_out_of_step(session: Session) -> tuple[str, ...]:
    """Addresses whose running cases still speak after an opt-out, or are still silent after a new yes."""
    last = select(func.max(ConsentRow.id)).where(ConsentRow.scope == "texts").group_by(ConsentRow.address_id)
    wrong = or_(
        (ConsentRow.kind == "opt_out") & (CaseRow.voice == ASSISTANT),
        (ConsentRow.kind == "opt_in") & (CaseRow.voice == NOBODY),
    )
    query = (
        select(CaseRow.address_id)
        .join(ConsentRow, ConsentRow.address_id == CaseRow.address_id)
        .where(ConsentRow.id.in_(last), CaseRow.state.in_(RUNNING), CaseRow.version > 0, wrong)
        .order_by(CaseRow.address_id)
    )
    return tuple(dict.fromkeys(address for address in session.scalars(query) if address is not None))


def latest_case_of_room(session: Session, room_id: str) -> CaseId | None:
    """The last case that a room had."""
    query = select(CaseRow.id).where(CaseRow.room_id == room_id, CaseRow.version > 0)
    found = session.scalar(query.order_by(CaseRow.opened_at.desc(), CaseRow.id.desc()).limit(1))
    return None if found is None else CaseId(found)


def cases_of_room(session: Session, room_id: str) -> tuple[KeptCase, ...]:
    """All cases that a room had, the latest first."""
    query = select(CaseRow).where(CaseRow.room_id == room_id, CaseRow.version > 0)
    return tuple(_kept(row) for row in session.scalars(query.order_by(CaseRow.opened_at.desc(), CaseRow.id)))


def cases_of_persons(session: Session, persons: Sequence[str], since: datetime) -> tuple[LiveCase, ...]:
    """Cases that a message may belong to: those that run, and those that rested since `since`; oldest first."""
    last = func.coalesce(CaseRow.last_heard_at, CaseRow.opened_at)
    query = (
        select(CaseRow, RoomRow.number, PersonalTextRow.text)
        .join(RoomRow, RoomRow.id == CaseRow.room_id)
        .outerjoin(
            PersonalTextRow, (PersonalTextRow.kind == ROOM_NAME) & (PersonalTextRow.owner == CaseRow.room_id)
        )
        .where(CaseRow.person_id.in_(persons), or_(CaseRow.state.in_(RUNNING), last >= since))
        .order_by(CaseRow.opened_at, CaseRow.id)
    )
    return tuple(
        kept_as(LiveCase, row, room_number=number, room_name=name, last_at=row.last_heard_at or row.opened_at)
        for row, number, name in session.execute(query)
    )


def _set(session: Session, case_id: str, **values: object) -> None:
    session.execute(update(CaseRow).where(CaseRow.id == case_id).values(values))


def _kept(row: CaseRow) -> KeptCase:
    return kept_as(KeptCase, row, carried=tuple((finding, state) for finding, state in row.carried))
