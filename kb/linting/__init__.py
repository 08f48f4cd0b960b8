"""Linting: what loads and yet would fail a customer.

In: a folder. Out: every problem, errors and warnings, in order of place. Never: a repair. A rule is a module, named after its fault,
with a snippet that passes and one that fails in its docstring; `RULES` lists them.
"""

from pathlib import Path
from typing import Final

from kb.files import PACKAGED, shown_path
from kb.linting import (
    broken_trail,
    cause_without_fix,
    examples,
    live_work,
    long_sentence,
    measures,
    not_told_apart,
    options,
    placeholders,
    reserved_word,
    shared_wording,
    stolen_wording,
    too_common,
    too_full,
    too_long,
    unreachable_cause,
    unwritten,
    weak_normal,
    why_opening,
)
from kb.linting.examples import Outcome
from kb.linting.rule import Rule
from kb.linting.stale_spanish import RECORD, accept, recorded, stale_spanish
from kb.linting.stolen_wording import Heard
from kb.linting.unheard import unheard
from kb.linting.vanished_id import vanished_id
from kb.loading import look
from kb.problems import Problem, in_order

__all__ = ["RULES", "Heard", "Outcome", "Rule", "accept_spanish", "check"]

RULES: Final = (
    broken_trail.RULE,
    cause_without_fix.RULE,
    examples.RULE,
    live_work.RULE,
    long_sentence.RULE,
    measures.RULE,
    not_told_apart.RULE,
    options.RULE,
    placeholders.RULE,
    reserved_word.RULE,
    shared_wording.RULE,
    too_common.RULE,
    too_full.RULE,
    too_long.RULE,
    unreachable_cause.RULE,
    weak_normal.RULE,
    unwritten.RULE,
    why_opening.RULE,
)


def check(
    folder: Path | None = None,
    *,
    outcome: Outcome | None = None,
    heard: Heard | None = None,
    store: Path | None = None,
) -> tuple[Problem, ...]:
    """Every problem of the knowledge in `folder` (default: packaged): those of loading alone where it does not load.

    With `outcome` the example cases are run too, with `heard` every saying is read. `store` is as in `kb.load`.
    """
    shelf, knowledge, problems = look(folder, store=store)
    if knowledge is None:
        return problems
    found = [problem for rule in RULES for problem in rule.search(shelf, knowledge)]
    where = PACKAGED if folder is None else folder
    found.extend(stale_spanish(shelf, where, shown_path(where)))
    found.extend(unheard(knowledge, where, shown_path(where)))
    found.extend(vanished_id(recorded(where), shelf, knowledge, f"{shown_path(where)}/{RECORD}"))
    if outcome is not None:
        found.extend(examples.run(shelf, knowledge, outcome))
    if heard is not None:
        found.extend(stolen_wording.run(shelf, knowledge, heard))
    return in_order(found)


def accept_spanish(folder: Path) -> int:
    """Record the Spanish of every text in `folder` as right for its English as it stands; returns how many there are."""
    shelf, knowledge, _ = look(folder)
    return accept(shelf, knowledge, folder)
