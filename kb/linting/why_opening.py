"""`why-opening` (warning): a `why` that does not begin as an answer to "why?".

passes:
    check: look_at_filter
    why: {en: Because a clogged filter starves the coil., es: Porque un filtro tapado ahoga el serpentín.}
fails:
    check: look_at_filter
    why: {en: A clogged filter starves the coil., es: Porque un filtro tapado ahoga el serpentín.}
"""

from collections.abc import Iterator
from types import MappingProxyType
from typing import Final

from kb.ids import Language
from kb.knowledge import Knowledge
from kb.linting.rule import Rule
from kb.problems import Problem
from kb.shelf import Shelf

OPENING: Final = MappingProxyType[Language, str]({"en": "Because ", "es": "Porque "})


def search(shelf: Shelf, knowledge: Knowledge) -> Iterator[Problem]:
    """Reasons of checks that open otherwise."""
    for id_, check in knowledge.checks.items():
        for language, opening in OPENING.items():
            if not check.why.in_(language).startswith(opening):
                yield shelf.problem(
                    "check",
                    id_,
                    "why",
                    language,
                    what=f"the reason does not begin with “{opening.strip()}”",
                    why="it is sent alone, as the answer to “why?”",
                    mend=f"begin it with “{opening.strip()}”",
                    rule=RULE.name,
                    severity="warning",
                )


RULE = Rule("why-opening", search)
