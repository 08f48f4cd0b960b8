"""The case clock, which a demo can move forward, and the machine's, which nobody can.

How far it was moved is kept, so that every process of a demo agrees.
"""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Final, Protocol

from sqlalchemy.orm import Session

from assistant.casebook.engine import Casebook
from assistant.casebook.program_tables import ClockRow
from kb.errors import RequestError

CASE_CLOCK: Final = "case"


class CaseClock(Protocol):
    """Tells what time it is for cases: in UTC, aware."""

    def now(self) -> datetime:
        """The time now."""
        ...


@dataclass(frozen=True, slots=True)
class MachineClock:
    """The machine's own time."""

    def now(self) -> datetime:
        """The time now."""
        return datetime.now(UTC)  # noqa: TID251 - the one place that looks; everything below is told


@dataclass(frozen=True, slots=True)
class MovableClock:
    """The machine's time and what was added to it; kept in the casebook, so that all processes of a demo agree."""

    casebook: Casebook
    machine: CaseClock = MachineClock()

    def now(self) -> datetime:
        """The time now."""
        with self.casebook.reading() as session:
            return self.machine.now() + ahead(session)

    def forward(self, by: timedelta) -> datetime:
        """Move on; the time then. Fails with `RequestError` on going back: what was said cannot be unsaid."""
        if by < timedelta(0):
            raise RequestError("the case clock only moves forward", mend="give a time above nought")
        with self.casebook.writing() as session:
            move_ahead(session, by)
        return self.now()


def ahead(session: Session) -> timedelta:
    """How far it was moved forward so far."""
    row = session.get(ClockRow, CASE_CLOCK)
    return timedelta(seconds=row.ahead_s if row else 0.0)


def move_ahead(session: Session, by: timedelta) -> None:
    """Move it on."""
    row = session.get(ClockRow, CASE_CLOCK, with_for_update=True)
    if row is None:
        session.add(ClockRow(name=CASE_CLOCK, ahead_s=by.total_seconds()))
    else:
        row.ahead_s += by.total_seconds()
    session.flush()
