"""`stale-spanish`: a Spanish text that was not touched when its English changed.

The record `.spanish.json` beside the families holds, for every text, the marks of both languages as they were when somebody last
vouched for them. A text whose English has another mark, and its Spanish the same, is stale. `accept` writes the record anew.

passes:
    # recorded as {en: clean the filter, es: limpie el filtro}
    fix: clean_filter
    means: {en: wash the filter, es: lave el filtro}
fails:
    # recorded as {en: clean the filter, es: limpie el filtro}
    fix: clean_filter
    means: {en: wash the filter, es: limpie el filtro}
"""

import json
from collections.abc import Iterator, Mapping
from hashlib import sha256
from pathlib import Path
from typing import Final

from kb.knowledge import Knowledge
from kb.linting.texts import Written, texts
from kb.linting.vanished_id import vanished
from kb.problems import Place, Problem
from kb.shelf import Shelf

RECORD: Final = ".spanish.json"
RULE_NAME: Final = "stale-spanish"


def stale_spanish(shelf: Shelf, folder: Path, shown: str) -> Iterator[Problem]:
    """Stale texts by the record in `folder`; one warning where texts are not, or no longer, in it as they stand."""
    record = recorded(folder)
    unvouched = 0
    for written in texts(shelf):
        now, then = _marks(written), record.get(written.name)
        if then is not None and now["en"] != then.get("en") and now["es"] == then.get("es"):
            yield written.problem(
                shelf,
                "es",
                what="the English was changed, and this Spanish was not",
                why="the two may say different things, and a caution may be missing from one",
                mend="write the Spanish anew; if it is right as it is: `helpline kb check --accept-spanish`",
                rule=RULE_NAME,
            )
        elif now != then:
            unvouched += 1
    if unvouched:
        yield Problem(
            place=Place(path=f"{shown}/{RECORD}"),
            what=f"{unvouched} texts are new or changed since the record of Spanish was written",
            why="a later change of their English alone would go unseen",
            mend="read their Spanish, then `helpline kb check --accept-spanish`",
            rule="unrecorded-spanish",
            severity="warning",
        )


def accept(shelf: Shelf, knowledge: Knowledge | None, folder: Path) -> int:
    """Write the record of all texts as they stand, and return how many there are.

    What is recorded of an id that went without a trail stays, so that the check goes on asking for it.
    """
    record = {written.name: _marks(written) for written in texts(shelf)}
    count, before = len(record), recorded(folder)
    lost = set() if knowledge is None else set(vanished(before, shelf, knowledge))
    record |= {name: dict(marks) for name, marks in before.items() if tuple(name.split(":", 2)[:2]) in lost}
    body = json.dumps(dict(sorted(record.items())), indent=0, ensure_ascii=False)
    (folder / RECORD).write_text(body + "\n", encoding="utf-8")
    return count


def _marks(written: Written) -> dict[str, str]:
    return {language: sha256(words.encode()).hexdigest()[:8] for language, words in _both(written)}


def _both(written: Written) -> Iterator[tuple[str, str]]:
    yield "en", written.text.en
    yield "es", written.text.es


def recorded(folder: Path) -> Mapping[str, Mapping[str, str]]:
    """The record as it stands: marks by the name of the text."""
    try:
        found = json.loads((folder / RECORD).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}  # no record, or a broken one: every text is unvouched, which is told
    return found if isinstance(found, dict) else {}
