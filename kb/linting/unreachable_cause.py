"""`unreachable-cause`: a cause that no answer can speak for.

passes:
    cause: filter_clogged
    shows: {filter: {clogged: nearly always}}
fails:
    cause: filter_clogged
    shows: {}
"""

from collections.abc import Iterator

from kb.knowledge import Knowledge
from kb.linting.rule import Rule
from kb.problems import Problem
from kb.shelf import Shelf


def search(shelf: Shelf, knowledge: Knowledge) -> Iterator[Problem]:
    """Causes of which no finding is found by any check."""
    found = {check.finds for check in knowledge.checks.values()}
    for id_, cause in knowledge.causes.items():
        if not found & cause.shows.keys():
            yield shelf.problem(
                "cause",
                id_,
                "shows",
                key=True,
                what=f"no check finds anything that `{id_}` shows",
                why="the cause could be guessed and never found",
                mend="say what it shows, or write a check that finds one of its findings",
                rule=RULE.name,
            )


RULE = Rule("unreachable-cause", search)
