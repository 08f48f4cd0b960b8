"""`cause-without-fix`: a cause that, once found, leaves the customer alone with it.

passes:
    cause: filter_clogged
    fixes: [clean_filter]
fails:
    cause: filter_clogged
    fixes: []
"""

from collections.abc import Iterator

from kb.knowledge import Knowledge
from kb.linting.rule import Rule
from kb.problems import Problem
from kb.shelf import Shelf


def search(shelf: Shelf, knowledge: Knowledge) -> Iterator[Problem]:
    """Causes with an empty list of fixes."""
    for id_, cause in knowledge.causes.items():
        if not cause.fixes:
            yield shelf.problem(
                "cause",
                id_,
                "fixes",
                key=True,
                what=f"nothing mends `{id_}`",
                why="the cause would be found, and the customer left alone with it",
                mend="name a fix; licensed work and things that are normal have fixes too (`who: electrician`, `who: nobody`)",
                rule=RULE.name,
            )


RULE = Rule("cause-without-fix", search)
