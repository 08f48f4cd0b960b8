"""The season that has gone by, kept ready-made: recorded once by playing it, put into a new demo in a second.

A line a row, in the order in which rows may be written; hours are moved by whole days when it is put in.
"""

import json
import lzma
import re
from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any, Final

from sqlalchemy import BigInteger, Integer, Table, insert, select

from assistant.casebook import Casebook, searching
from assistant.casebook.folding import folded
from assistant.casebook.personal import HANDED, NUMBER, UNSEARCHED
from assistant.casebook.tables import Base, Utc
from assistant.helpline.keys import digest

FILE: Final = Path(__file__).with_name("season.jsonl.xz")
KEPT: Final = (
    "person", "room", "address", "person_address", "consent", "case", "event", "inbox", "personal_text", "deed",
    "aside", "closing",
)  # fmt: skip
"""Tables of a season that is over: what is on its way, promised or signed in is not of it."""
KEYED: Final = ("content_digest", "token_hash")
RISING: Final = ("id", "reply_id", "sorts_id")
"""The new book counts for itself: somebody may have written to it already."""
WORKED_OUT: Final = ("folded",)
"""Put in again from the words."""
COMPACT: Final[dict[str, Any]] = {"ensure_ascii": False, "separators": (",", ":")}  # Any: json's own keywords
_HOUR = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d")
Row = dict[str, Any]  # Any: a row of any table


def record(casebook: Casebook, ends: datetime, path: Path = FILE) -> int:
    """Write down what stands in a casebook whose season ended at `ends`; how many rows."""
    lines = [json.dumps({"ends": ends.date().isoformat()})]
    with casebook.reading() as session:
        for table in _tables():
            found = session.execute(select(table).order_by(*table.primary_key.columns)).mappings()
            lines += [
                json.dumps([table.name, _plain(dict(row))], **COMPACT)
                for row in found
                if row.get("kind") != HANDED
            ]
    path.write_bytes(lzma.compress("\n".join(lines).encode(), preset=9 | lzma.PRESET_EXTREME))
    return len(lines) - 1


def put_in(casebook: Casebook, key: bytes, now: datetime, path: Path = FILE) -> int:
    """Put the recorded season into a casebook that has none, so that it ends today; how many rows."""
    with lzma.open(path, "rt", encoding="utf-8") as lines:
        ends = date.fromisoformat(json.loads(next(lines))["ends"])
        days = timedelta(days=(now.astimezone(UTC).date() - ends).days)
        rows = [(name, _moved(row, days)) for name, row in map(json.loads, lines)]
    numbers = {
        row["owner"]: row["text"] for name, row in rows if name == "personal_text" and row["kind"] == NUMBER
    }
    with casebook.writing() as session:
        for table in _tables():
            own = [_typed(table, row) for name, row in rows if name == table.name]
            for row in own if table.name == "address" else ():
                row["digest"] = digest(key, "address", row["channel"], numbers[row["id"]])
            if own:
                session.execute(insert(table), own)
        for name, row in rows:
            if name == "event" and row["kind"] == "Said" and row["body"]["text"]:
                searching.keep_said(session, row["case_id"], row["sequence"], row["body"]["text"])
    return len(rows)


def _tables() -> Iterator[Table]:
    return (Base.metadata.tables[name] for name in KEPT)


def _plain(value: Any) -> Any:
    """As JSON, without what no demo needs: digests that a server's key made, and digits that nobody reads."""
    match value:
        case dict():
            return {
                name: "" if name in KEYED else _plain(part)
                for name, part in value.items()
                if name not in WORKED_OUT
            }
        case list() | tuple():
            return [_plain(part) for part in value]
        case datetime():
            return value.astimezone(UTC).isoformat()
        case float():
            return float(f"{value:.4g}")
        case _:
            return value


def _typed(table: Table, row: Row) -> Row:
    moments = {column.name for column in table.columns if isinstance(column.type, Utc)}
    typed = {
        name: datetime.fromisoformat(value) if name in moments and value is not None else value
        for name, value in row.items()
    }
    if isinstance(table.primary_key.columns[0].type, Integer | BigInteger):
        typed = {name: value for name, value in typed.items() if name not in RISING}
    if table.name == "personal_text":
        typed["folded"] = None if row["kind"] in UNSEARCHED else folded(row["text"])
    return typed


def _moved(value: Any, days: timedelta) -> Any:
    """Every hour in it, moved."""
    match value:
        case dict():
            return {name: _moved(part, days) for name, part in value.items()}
        case list():
            return [_moved(part, days) for part in value]
        case str() if _HOUR.match(value):
            hour = datetime.fromisoformat(value) + days
            return hour.isoformat() if len(value) > len("2026-07-14T17:00") else f"{hour:%Y-%m-%dT%H:%M}"
        case _:
            return value
