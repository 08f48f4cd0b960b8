"""Short codes that carry a case from a page to a phone or back: each is good once, and for a while."""

from datetime import datetime
from typing import Literal

from sqlalchemy import select, update
from sqlalchemy.orm import Session

from assistant.casebook.line_tables import CodeRow
from assistant.conversation.ids import CaseId

To = Literal["phone", "page"]


def keep_code(session: Session, digest: str, to: To, case_id: str, until: datetime, at: datetime) -> bool:
    """Keep a code, in place of the case's earlier ones; false: another case has the same one just now."""
    row = session.get(CodeRow, digest)
    if row is not None and row.used_at is None and row.until > at and row.case_id != case_id:
        return False
    session.execute(
        update(CodeRow)
        .where(CodeRow.case_id == case_id, CodeRow.to == to, CodeRow.used_at.is_(None))
        .values(used_at=at)
        .execution_options(synchronize_session=False)
    )
    session.expire_all()
    session.merge(CodeRow(digest=digest, to=to, case_id=case_id, until=until, used_at=None))
    session.flush()
    return True


def use_code(session: Session, digest: str, to: To, at: datetime) -> CaseId | None:
    """The case that the code carries; from now on it carries none. None: there is no such code, or no longer."""
    used = session.execute(
        update(CodeRow)
        .where(CodeRow.digest == digest, CodeRow.to == to, CodeRow.used_at.is_(None), CodeRow.until > at)
        .values(used_at=at)
        .returning(CodeRow.case_id)
        .execution_options(synchronize_session=False)
    ).scalar()
    session.expire_all()
    return None if used is None else CaseId(used)


def has_code(session: Session, digest: str, to: To, at: datetime) -> bool:
    """There is such a code, and it is still good."""
    query = select(CodeRow.digest).where(
        CodeRow.digest == digest, CodeRow.to == to, CodeRow.used_at.is_(None), CodeRow.until > at
    )
    return session.scalar(query) is not None
