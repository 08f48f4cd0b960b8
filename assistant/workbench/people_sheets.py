"""Customers as sheets of facts, written by people who have not read the knowledge: who they are, what is so, what they say."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from kb.errors import RequestError
from kb.ids import CauseId, FindingId, FixId, Language, QuantityId, StateId

SOMETHING_ELSE = CauseId("something_else")


class Sheet(BaseModel):
    """One customer, a JSON object a line."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    id: Annotated[str, Field(min_length=1)]
    language: Language
    equipment: StateId
    truth: tuple[CauseId, ...]
    """What is wrong; empty: nothing; `something_else`: nothing that the knowledge lists."""
    also_right: tuple[CauseId, ...] = ()
    """With nothing wrong: what explains it."""
    fixes: tuple[FixId, ...]
    """Right first remedies; empty: an honest hand-over is right."""
    first: str
    """Their first text."""
    facts: dict[FindingId, StateId]
    numbers: dict[QuantityId, str] = {}
    """As they would text them."""
    unit: str = "F"
    says: dict[FindingId, str] = {}
    """How they put a fact when asked, the wrong ones included."""
    cannot: tuple[FindingId, ...] = ()
    unsure: tuple[FindingId, ...] = ()
    wrong: dict[FindingId, StateId] = {}
    """What they report in place of what is so."""
    note: str = ""

    def reported(self, finding: FindingId) -> StateId | None:
        """The state that they would tell, true or not; None: the sheet does not say."""
        return self.wrong.get(finding) or self.facts.get(finding)


def read_sheets(path: Path) -> tuple[Sheet, ...]:
    """All customers of a file. Fails with `RequestError`, which names the line."""
    return tuple(_sheets(path))


def _sheets(path: Path) -> Iterator[Sheet]:
    try:
        lines = path.read_text(encoding="utf-8").splitlines()
    except OSError as error:
        raise RequestError(f"{path}: {error.strerror}", mend="name a file of customers") from error
    for number, line in enumerate(lines, start=1):
        if not line.strip():
            continue
        try:
            yield Sheet.model_validate(json.loads(line))
        except (ValidationError, json.JSONDecodeError) as error:
            raise RequestError(
                f"{path}:{number}: {error}", mend="one JSON object a line, as in `Sheet`"
            ) from error
