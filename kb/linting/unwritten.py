"""`unwritten`: a place that was left <in angle brackets> when the page was begun.

passes:
    fix: clean_filter
    means: {en: wash the filter, es: lave el filtro}
fails:
    fix: clean_filter
    means: {en: <an order in a few words>, es: lave el filtro}
"""

import re
from collections.abc import Iterator

from kb.knowledge import Knowledge
from kb.linting.rule import Rule
from kb.problems import Problem
from kb.shelf import Shelf
from kb.written import Location, Plain

LEFT_OPEN = re.compile(r"<[^<>]+>")


def search(shelf: Shelf, _knowledge: Knowledge) -> Iterator[Problem]:
    """Every text with such a place, one problem a text."""
    for (kind, id_), origin in shelf.origins.items():
        value = origin.page.value
        for step in origin.top:
            value = value[step]
        for at, words in _texts(value, ()):
            found = LEFT_OPEN.search(words)
            if found is not None:
                yield shelf.problem(
                    kind,
                    id_,
                    *at,
                    what=f"`{found[0]}` still stands where words belong",
                    why="a customer would read the brackets",
                    mend=f"write {found[0][1:-1].rstrip('?.')}",
                    rule=RULE.name,
                )


def _texts(value: Plain, at: Location) -> Iterator[tuple[Location, str]]:
    if isinstance(value, str):
        yield at, value
    elif isinstance(value, dict):
        for key, item in value.items():
            yield from _texts(item, (*at, key))
    elif isinstance(value, list):
        for index, item in enumerate(value):
            yield from _texts(item, (*at, index))


RULE = Rule("unwritten", search)
