"""`example`: a case beside a cause that does not come out as its author says.

What comes out is decided above this room, so whoever can decide (the workbench) hands in how: `Outcome` is given the knowledge, the
cause and one of its examples, and answers with what came instead, or None where it came out.

passes:
    cause: filter_clogged
    examples: [{said: {filter: clogged}, fix: clean_filter}]
fails:
    cause: filter_clogged
    examples: [{said: {filter: clogged}}]
"""

from collections.abc import Callable, Iterator
from typing import TypeAlias

from kb.knowledge import Knowledge
from kb.linting.rule import Rule
from kb.problems import Problem
from kb.schema import Cause, Example
from kb.shelf import Shelf

Outcome: TypeAlias = Callable[[Knowledge, Cause, Example], str | None]


def search(shelf: Shelf, knowledge: Knowledge) -> Iterator[Problem]:
    """Examples that expect nothing."""
    for id_, cause in knowledge.causes.items():
        for index, example in enumerate(cause.examples):
            if example.fix is None and not example.ask:
                yield shelf.problem(
                    "cause",
                    id_,
                    "examples",
                    index,
                    what="the example expects nothing",
                    why="it could never fail, and so never warn",
                    mend="write `fix: …` or `ask: […]`",
                    rule=RULE.name,
                )


def run(shelf: Shelf, knowledge: Knowledge, outcome: Outcome) -> Iterator[Problem]:
    """Examples that come out otherwise."""
    for id_, cause in knowledge.causes.items():
        for index, example in enumerate(cause.examples):
            instead = outcome(knowledge, cause, example)
            if instead is not None:
                yield shelf.problem(
                    "cause",
                    id_,
                    "examples",
                    index,
                    what=f"the example does not come out: {instead}",
                    why="a change here or in a neighbour has made the answers lead elsewhere",
                    mend="compare what the two causes show (`helpline kb show`): a state speaks the more, the rarer it is elsewhere "
                    "(`background` of its finding, `shows` of the neighbour), and `how_common` weighs; or correct the example",
                    rule=RULE.name,
                )


RULE = Rule("example", search)
