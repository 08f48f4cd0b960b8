"""The desk's queue: whom to help first."""

from sqlalchemy import func, select
from sqlalchemy.orm import Session, aliased

from assistant.casebook.kept import DeskRow, kept_as
from assistant.casebook.personal import PLACE, ROOM_NAME
from assistant.casebook.tables import AddressRow, CaseRow, ConsentRow, PersonalTextRow
from assistant.conversation.ids import CaseId


def desk_rows(session: Session) -> tuple[DeskRow, ...]:
    """Every case that is not closed, or whose people must be called: danger, food, who waits longest, the rest."""
    named, placed = aliased(PersonalTextRow), aliased(PersonalTextRow)
    query = (
        select(CaseRow, named.text, placed.text, AddressRow.unreachable)
        .outerjoin(AddressRow, AddressRow.id == CaseRow.address_id)
        .outerjoin(named, (named.kind == ROOM_NAME) & (named.owner == CaseRow.room_id))
        .outerjoin(placed, (placed.kind == PLACE) & (placed.owner == CaseRow.room_id))
        .where((CaseRow.state != "closed") | CaseRow.phone_now_at.is_not(None))
    )
    silent = _opted_out(session)
    rows = [
        (row, _desk_row(row, name, place, silent, mute)) for row, name, place, mute in session.execute(query)
    ]
    return tuple(shown for _, shown in sorted(rows, key=lambda pair: _place(pair[0])))


def _desk_row(
    row: CaseRow, room: str | None, place: str | None, silent: frozenset[str], unreachable: str | None
) -> DeskRow:
    spoken = [at for at in (row.last_heard_at, row.last_said_at) if at is not None]
    return kept_as(
        DeskRow,
        row,
        case=CaseId(row.id),
        room=room,
        place=place,
        last_message_at=max(spoken, default=None),
        phone_now=row.phone_now_at is not None,
        no_texts=row.address_id in silent,
        unreachable=unreachable,
    )


def _place(row: CaseRow) -> tuple[int, str, str]:
    since = row.phone_now_at or row.needs_since or row.last_heard_at or row.opened_at
    if row.state == "danger" or row.phone_now_at is not None:
        first = 0
    elif row.needs_since is None:
        first = 3
    else:
        first = 1 if row.urgency in ("now", "today") else 2
    return (first, since.isoformat(), row.id)


def _opted_out(session: Session) -> frozenset[str]:
    last = select(func.max(ConsentRow.id)).where(ConsentRow.scope == "texts").group_by(ConsentRow.address_id)
    query = select(ConsentRow.address_id).where(ConsentRow.id.in_(last), ConsentRow.kind == "opt_out")
    return frozenset(session.scalars(query))
