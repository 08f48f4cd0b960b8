"""Search over everything said: letters without accents or case, every word somewhere in the case.

What people wrote is folded in its own row of `personal_text`, so that an erasure takes it along; what we said, which
holds nothing personal, stands in `said_text`.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from sqlalchemy import Executable, literal, select, union_all
from sqlalchemy.orm import Session

from assistant.casebook.desk_tables import AsideRow, SaidTextRow
from assistant.casebook.folding import folded
from assistant.casebook.personal import ASIDE, CLOSING, MESSAGE, PLACE, ROOM_NAME
from assistant.casebook.tables import CaseRow, InboxRow, PersonalTextRow
from assistant.conversation.ids import CaseId

MOST_WORDS: Final = 8
MOST_CASES: Final = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """A case that holds every word, with the place of the first of them."""

    case: CaseId
    kind: str
    """message · aside · room_name · place · closing · said."""
    folded: str
    """What stands there, without accents."""
    sequence: int | None
    """The message's place in the log."""


def search(session: Session, text: str) -> tuple[Found, ...]:
    """Cases in which every word was said, by whomever, or their room is called so; the latest first."""
    words = folded(text).split()[:MOST_WORDS]
    if not words:
        return ()
    first = {found.case: found for found in reversed(_with(session, words[0]))}
    for word in words[1:]:
        also = {found.case for found in _with(session, word)}
        first = {case: found for case, found in first.items() if case in also}
    last = select(CaseRow.id).order_by(CaseRow.opened_at.desc(), CaseRow.id)
    order = [CaseId(case) for case in session.scalars(last) if case in first]
    return tuple(first[case] for case in order[:MOST_CASES])


def _with(session: Session, word: str) -> Sequence[Found]:
    """Every place where a word stands, as a part of another word too."""
    rows = session.execute(_places(word))
    return [Found(case=CaseId(row[0]), kind=row[1], folded=row[2], sequence=row[3]) for row in rows]


def _places(word: str) -> Executable:
    text = PersonalTextRow
    has = text.folded.contains(word, autoescape=True)
    nowhere = literal(None, type_=InboxRow.answer_from.type)
    message = (
        select(InboxRow.case_id, text.kind, text.folded, InboxRow.answer_from)
        .join(InboxRow, InboxRow.message_id == text.owner)
        .where(text.kind == MESSAGE, InboxRow.case_id.is_not(None), has)
    )
    aside = (
        select(AsideRow.case_id, text.kind, text.folded, nowhere)
        .join(AsideRow, AsideRow.text_id == text.owner)
        .where(text.kind == ASIDE, has)
    )
    room = (
        select(CaseRow.id, text.kind, text.folded, nowhere)
        .join(CaseRow, CaseRow.room_id == text.owner)
        .where(text.kind.in_((ROOM_NAME, PLACE)), has)
    )
    closing = (
        select(CaseRow.id, text.kind, text.folded, nowhere)
        .join(CaseRow, CaseRow.id == text.owner)
        .where(text.kind == CLOSING, has)
    )
    ours = select(SaidTextRow.case_id, literal("said"), SaidTextRow.folded, SaidTextRow.sequence).where(
        SaidTextRow.folded.contains(word, autoescape=True)
    )
    return union_all(message, aside, room, closing, ours)


def keep_said(session: Session, case_id: str, sequence: int, text: str) -> None:
    """Keep our own words for the search."""
    session.add(SaidTextRow(case_id=case_id, sequence=sequence, folded=folded(text)))
