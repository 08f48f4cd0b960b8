"""`stolen-wording`: a wording that is heard, and heard as something else than what it stands under.

Words are heard together: a new wording of one finding can take words away from another's. Hearing is done above this
room, so whoever can (the workbench) hands in how: `Heard` is given the knowledge, a wording and its language, and
answers with every finding heard and its state.
"""

from collections.abc import Callable, Iterator, Mapping
from typing import TypeAlias

from kb.ids import LANGUAGES, FindingId, Language, StateId
from kb.knowledge import Knowledge
from kb.problems import Problem
from kb.shelf import Shelf

Heard: TypeAlias = Callable[[Knowledge, str, Language], Mapping[FindingId, StateId]]
NAME = "stolen-wording"


def run(shelf: Shelf, knowledge: Knowledge, heard: Heard) -> Iterator[Problem]:
    """Sayings of findings that are read as another state or finding, in the order of the knowledge."""
    for id_, finding in knowledge.findings.items():
        for state, sayings in finding.sayings.items():
            for language in LANGUAGES:
                for index, words in enumerate(sayings.in_(language)):
                    instead = heard(knowledge, words, language)
                    if instead.get(id_) != state:
                        yield shelf.problem(
                            "finding",
                            id_,
                            "sayings",
                            state,
                            language,
                            index,
                            what=f"“{words}” is not heard as `{id_}: {state}` but as {_told(instead)}",
                            why="what a customer says in these very words would be taken for that",
                            mend="take the words out of one of the two, or write them with the thing they are said of",
                            rule=NAME,
                        )


def _told(heard: Mapping[FindingId, StateId]) -> str:
    return ", ".join(f"`{finding}: {state}`" for finding, state in sorted(heard.items())) or "nothing"
