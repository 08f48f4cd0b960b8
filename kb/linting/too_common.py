"""`too-common` (warning): a cause that is believed before anything is said, because it has more than 15 % of its equipment.

Too few causes on one kind of equipment must each have a large share, so nothing is said of fewer than seven.

passes:
    {cause: one}
    --- {cause: two}
    --- {cause: three}
    --- {cause: four}
    --- {cause: five}
fails:
    {cause: one, how_common: very common}
    --- {cause: two}
    --- {cause: three}
    --- {cause: four}
    --- {cause: five}
"""

from collections.abc import Iterator
from typing import Final, get_args

from kb.ids import CauseId
from kb.knowledge import Knowledge
from kb.likelihood import HOW_COMMON
from kb.linting.rule import Rule
from kb.problems import Problem
from kb.schema import Equipment
from kb.shelf import Shelf

MOST_COMMON: Final = 0.15
ENOUGH_CAUSES: Final = 7
"""The fewest that could each have less."""


def search(shelf: Shelf, knowledge: Knowledge) -> Iterator[Problem]:
    """Causes with too large a share of one equipment, at the first such."""
    told: set[CauseId] = set()
    for equipment in get_args(Equipment):
        weights = {
            id_: HOW_COMMON[cause.how_common]
            for id_, cause in knowledge.causes.items()
            if cause.kind == "fault" and equipment in cause.equipment
        }
        for id_, weight in weights.items():
            share = weight / sum(weights.values())
            if len(weights) >= ENOUGH_CAUSES and share > MOST_COMMON and id_ not in told:
                told.add(id_)
                yield _too_common(shelf, id_, equipment, share)


def _too_common(shelf: Shelf, id_: CauseId, equipment: str, share: float) -> Problem:
    return shelf.problem(
        "cause",
        id_,
        "how_common",
        what=f"`{id_}` has {share:.0%} of all faults of {equipment}",
        why="it would be believed before anything is said",
        mend="write a rarer word, or count",
        rule=RULE.name,
        severity="warning",
    )


RULE = Rule("too-common", search)
