"""Whether a part is covered: the desk's own policy, a plain file, laid over dates that a colleague wrote down.

In, out or unknown, always with the rule that says so. No price stands anywhere.
"""

import calendar
from dataclasses import dataclass
from datetime import date
from typing import Annotated, Final, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError, model_validator
from ruamel.yaml import YAML
from ruamel.yaml.error import MarkedYAMLError

from assistant.casebook.parts import RoomPart
from kb.errors import SettingsError
from kb.ids import Language

Standing = Literal["in", "out", "unknown"]
MONTHS_A_YEAR: Final = 12


class Frozen(BaseModel):
    """The manner of every model here."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Words(Frozen):
    """The same in both languages."""

    en: Annotated[str, Field(min_length=1)]
    es: Annotated[str, Field(min_length=1)]

    def in_(self, language: Language) -> str:
        """The words in `language`."""
        return self.en if language == "en" else self.es


class Rule(Frozen):
    """How long one part is covered, and when it is not."""

    part: Annotated[str, Field(pattern=r"^[a-z][a-z_]{1,39}$")]
    name: Words
    months: Annotated[int, Field(ge=0, le=240)]
    """From the day it was bought, that day of the last month included; 0: never covered."""
    proof: bool = True
    """The day must be shown on paper."""
    misuse_ends_it: bool = True
    """Opened, flooded or wired otherwise than its sheet says: no longer covered."""
    rule: Words
    """The rule itself, as it is told to the customer."""


class Policy(Frozen):
    """Everything that the desk covers."""

    whose: str
    rules: tuple[Rule, ...]

    @model_validator(mode="after")
    def _names_each_part_once(self) -> "Policy":
        names = [rule.part for rule in self.rules]
        doubled = sorted({name for name in names if names.count(name) > 1})
        if doubled:
            msg = f"parts with two rules: {', '.join(doubled)}"
            raise ValueError(msg)
        return self

    def rule_for(self, part: str) -> Rule | None:
        """The rule of a part."""
        return next((rule for rule in self.rules if rule.part == part), None)


NO_POLICY: Final = Policy(whose="", rules=())


@dataclass(frozen=True, slots=True, kw_only=True)
class Covered:
    """How one part stands on a day."""

    part: str
    name: str
    standing: Standing
    why: Literal["within", "past", "never", "misused", "no_date", "no_proof", "maybe_misused"]
    until: date | None
    """The last day on which it is covered, where the day of purchase is known."""
    rule: str
    known: RoomPart | None


def read_policy(text: str, path: str) -> Policy:
    """The policy that stands in a file. Fails with `SettingsError`, which names every fault."""
    try:
        return Policy.model_validate(YAML(typ="safe", pure=True).load(text))
    except MarkedYAMLError as error:
        line = error.problem_mark.line + 1 if error.problem_mark else 1
        raise SettingsError(
            f"{path}:{line}: {error.problem}", mend="write it as the one that comes with the program"
        ) from error
    except ValidationError as error:
        faults = "; ".join(f"{'.'.join(map(str, one['loc']))}: {one['msg']}" for one in error.errors())
        raise SettingsError(
            f"{path}: {faults}", mend="write it as the one that comes with the program"
        ) from error


def covered(rule: Rule, known: RoomPart | None, today: date, language: Language) -> Covered:
    """How a part stands today. What nobody wrote down is unknown, never guessed."""
    until = None if known is None or known.bought_on is None else months_after(known.bought_on, rule.months)
    standing, why = _standing(rule, known, until, today)
    return Covered(
        part=rule.part,
        name=rule.name.in_(language),
        standing=standing,
        why=why,
        until=until,
        rule=rule.rule.in_(language),
        known=known,
    )


def _standing(
    rule: Rule, known: RoomPart | None, until: date | None, today: date
) -> tuple[Standing, Literal["within", "past", "never", "misused", "no_date", "no_proof", "maybe_misused"]]:
    if rule.months == 0:
        return "out", "never"
    if known is not None and known.misused and rule.misuse_ends_it:
        return "out", "misused"
    if known is None or until is None:
        return "unknown", "no_date"
    if today > until:
        return "out", "past"
    if rule.proof and not known.proof:
        return "unknown", "no_proof"
    if rule.misuse_ends_it and known.misused is None:
        return "unknown", "maybe_misused"
    return "in", "within"


def months_after(day: date, months: int) -> date:
    """The same day so many months later, or the last one of a shorter month.

    >>> months_after(date(2024, 2, 29), 12), months_after(date(2026, 1, 31), 1)
    (datetime.date(2025, 2, 28), datetime.date(2026, 2, 28))
    """
    years, month = divmod(day.month - 1 + months, MONTHS_A_YEAR)
    year = day.year + years
    last = calendar.monthrange(year, month + 1)[1]
    return date(year, month + 1, min(day.day, last))
