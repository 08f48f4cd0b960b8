"""`weak-normal`: a cause names only the normal state of a finding, and more weakly than where nothing is at work.

passes:
    {cause: filter_clogged, shows: {indoor_coil: {clean: 0.97}}}
fails:
    {cause: filter_clogged, shows: {indoor_coil: {clean: usually}}}
"""

from collections.abc import Iterator
from typing import Final

from kb.compiling import background
from kb.ids import CauseId, FindingId
from kb.knowledge import Knowledge
from kb.likelihood import HOW_STRONGLY, strength
from kb.linting.rule import Rule
from kb.problems import Problem
from kb.schema import Finding
from kb.shelf import Shelf

ROUNDING: Final = 1e-9


def search(shelf: Shelf, knowledge: Knowledge) -> Iterator[Problem]:
    """Every word on a lone normal state that speaks for the other states."""
    for id_, cause in knowledge.causes.items():
        for shown, states in cause.shows.items():
            finding = knowledge.findings[shown]
            if finding.normal is None or set(states) != {finding.normal}:
                continue
            usual = float(background(finding)[tuple(finding.states).index(finding.normal)])
            if strength(states[finding.normal]) < usual - ROUNDING:
                yield _weak(shelf, id_, shown, finding, usual)


def _weak(shelf: Shelf, id_: CauseId, shown: FindingId, finding: Finding, usual: float) -> Problem:
    enough = [word for word, share in HOW_STRONGLY.items() if share >= usual]
    stronger = f"write `{enough[-1]}`" if enough else f"write a share above {usual:.2f}"
    return shelf.problem(
        "cause",
        id_,
        "shows",
        shown,
        key=True,
        what=f"`{finding.normal}` is said more weakly than its background of {usual:.2f}",
        why=f"to see `{finding.normal}` would then speak against this cause, and every other state for it",
        mend=f"{stronger}, or leave `{shown}` out: it then shows as it would without the cause",
        rule=RULE.name,
    )


RULE = Rule("weak-normal", search)
