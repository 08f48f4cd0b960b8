"""What is kept of the program itself: the editions that spoke, and how far a demo's clock was moved."""

from datetime import datetime

from sqlalchemy import LargeBinary
from sqlalchemy.orm import Mapped, mapped_column

from assistant.casebook.tables import Base


class EditionRow(Base):
    """The knowledge of one edition, as its files were: so that old cases can be shown."""

    __tablename__ = "edition"
    edition: Mapped[str] = mapped_column(primary_key=True)
    files: Mapped[bytes] = mapped_column(LargeBinary())
    kept_at: Mapped[datetime]


class ClockRow(Base):
    """How far the case clock has been moved; one row, in the demo only."""

    __tablename__ = "clock"
    name: Mapped[str] = mapped_column(primary_key=True)
    ahead_s: Mapped[float]
