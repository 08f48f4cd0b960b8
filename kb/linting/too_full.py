"""`too-full`: words on one finding, in a cause or as its background, that leave nothing for the states they do not name.

passes:
    cause: filter_clogged
    shows: {filter: {clogged: usually, dusty: rarely}}
fails:
    cause: filter_clogged
    shows: {filter: {clogged: nearly always, dusty: sometimes}}
"""

from collections.abc import Iterator
from typing import Final

from kb.files import Kind
from kb.knowledge import Knowledge
from kb.likelihood import LEAST_LEFT, strength
from kb.linting.rule import Rule
from kb.problems import Problem
from kb.shelf import Shelf
from kb.written import Location

MOST: Final = 1.0 - LEAST_LEFT
ROUNDING: Final = 1e-9


def search(shelf: Shelf, knowledge: Knowledge) -> Iterator[Problem]:
    """Findings too full in causes, then in their own background."""
    for id_, cause in knowledge.causes.items():
        for shown, states in cause.shows.items():
            total = sum(map(strength, states.values()))
            if total > MOST + ROUNDING:
                yield _too_full(shelf, "cause", id_, ("shows", shown), total)
    for finding_id, finding in knowledge.findings.items():
        total = sum(strength(word) for state, word in finding.background.items() if state != finding.normal)
        if finding.normal is not None and total > MOST + ROUNDING:
            yield _too_full(shelf, "finding", finding_id, ("background",), total)


def _too_full(shelf: Shelf, kind: Kind, id_: str, at: Location, total: float) -> Problem:
    return shelf.problem(
        kind,
        id_,
        *at,
        key=True,
        what=f"the words on one finding add up to {total:.2f}",
        why=f"they may take {MOST:.2f} at most: some rooms always show a state that nobody named",
        mend="weaken a word, or leave out the state that matters least",
        rule=RULE.name,
    )


RULE = Rule("too-full", search)
