"""The knowledge of each edition that ever spoke here, as its files were."""

import io
import zipfile
from collections.abc import Mapping
from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from assistant.casebook.program_tables import EditionRow

LONG_AGO = (1980, 1, 1, 0, 0, 0)
"""One date for all: the same files make the same bytes."""


def keep_edition(session: Session, edition: str, files: Mapping[str, str], at: datetime) -> None:
    """Keep an edition's files by their path; a second time changes nothing."""
    if session.scalar(select(EditionRow.edition).where(EditionRow.edition == edition)) is not None:
        return
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as archive:
        for path in sorted(files):
            entry = zipfile.ZipInfo(path, LONG_AGO)
            archive.writestr(entry, files[path], zipfile.ZIP_DEFLATED)
    session.add(EditionRow(edition=edition, files=packed.getvalue(), kept_at=at))
    session.flush()


def edition_files(session: Session, edition: str) -> Mapping[str, str] | None:
    """The files of an edition, or None where it never spoke here."""
    row = session.get(EditionRow, edition)
    if row is None:
        return None
    with zipfile.ZipFile(io.BytesIO(row.files)) as archive:
        return {path: archive.read(path).decode() for path in archive.namelist()}
