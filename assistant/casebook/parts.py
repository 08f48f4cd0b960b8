"""Parts of a room's equipment: what is known of them, and what somebody is to send."""

from dataclasses import dataclass
from datetime import date, datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from assistant.casebook import personal
from assistant.casebook.desk_tables import PartRequestRow, RoomPartRow
from assistant.casebook.kept import kept_as
from assistant.casebook.tables import CaseRow, PersonalTextRow


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomPart:
    """What is known of one part of a room."""

    room_id: str
    part: str
    bought_on: date | None
    proof: bool | None
    misused: bool | None
    name: str
    at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class PartRequest:
    """A part to send; `note` is empty once it is erased."""

    id: int
    case_id: str
    part: str
    standing: str
    rule: str
    name: str
    at: datetime
    done_by: str | None
    done_at: datetime | None
    note: str
    room: str | None


def put_part(session: Session, part: RoomPart) -> None:
    """Keep what is known of a part, in place of what was known before."""
    session.merge(
        RoomPartRow(
            room_id=part.room_id,
            part=part.part,
            bought_on=part.bought_on,
            proof=part.proof,
            misused=part.misused,
            name=part.name,
            at=part.at,
        )
    )
    session.flush()


def parts_of(session: Session, room_id: str) -> tuple[RoomPart, ...]:
    """Everything known of a room's parts."""
    query = select(RoomPartRow).where(RoomPartRow.room_id == room_id).order_by(RoomPartRow.part)
    return tuple(kept_as(RoomPart, row) for row in session.scalars(query))


def ask_for(
    session: Session,
    case_id: str,
    part: str,
    *,
    standing: str,
    rule: str,
    name: str,
    at: datetime,
    text_id: str,
) -> bool:
    """Ask for a part, its note being kept already; false: the same was asked for before."""
    if session.scalar(select(PartRequestRow.id).where(PartRequestRow.text_id == text_id)) is not None:
        return False
    row = PartRequestRow(
        case_id=case_id, part=part, standing=standing, rule=rule, name=name, at=at, text_id=text_id
    )
    session.add(row)
    session.flush()
    return True


def note_done(session: Session, request_id: int, name: str, at: datetime) -> bool:
    """Somebody has sent it; false where there is none, or somebody else had."""
    row = session.get(PartRequestRow, request_id)
    if row is None or row.done_at is not None:
        return False
    row.done_by, row.done_at = name, at
    return True


def requests(session: Session, case_id: str | None = None) -> tuple[PartRequest, ...]:
    """What is to be sent, the oldest open one first, those that are done last; of one case, or of all."""
    query = (
        select(PartRequestRow, PersonalTextRow.text)
        .join(CaseRow, CaseRow.id == PartRequestRow.case_id)
        .outerjoin(
            PersonalTextRow,
            (PersonalTextRow.kind == personal.ROOM_NAME) & (PersonalTextRow.owner == CaseRow.room_id),
        )
        .order_by(PartRequestRow.done_at.is_not(None), PartRequestRow.at, PartRequestRow.id)
    )
    if case_id is not None:
        query = query.where(PartRequestRow.case_id == case_id)
    rows = session.execute(query).all()
    notes = personal.texts_of(session, personal.PART_NOTE, [row.text_id for row, _ in rows])
    return tuple(kept_as(PartRequest, row, note=notes.get(row.text_id, ""), room=room) for row, room in rows)
