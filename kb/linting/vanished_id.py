"""`vanished-id`: an id that was there when the Spanish was last vouched for, and went without a trail.

The record of Spanish holds the name of every text, and with it the id that the text belongs to: what stands there and
on no page, in no `was:` and under no tombstone, was deleted or renamed by hand.
"""

from collections.abc import Iterable, Iterator

from kb.checking import MODELS
from kb.files import Kind
from kb.knowledge import Knowledge
from kb.problems import Place, Problem
from kb.shelf import Shelf

NAME = "vanished-id"


def vanished(recorded: Iterable[str], shelf: Shelf, knowledge: Knowledge) -> Iterator[tuple[Kind, str]]:
    """Kinds and ids in the record of Spanish that lead nowhere any more."""
    kinds: dict[str, Kind] = {kind: kind for kind in MODELS}
    seen = dict.fromkeys(tuple(name.split(":", 2)[:2]) for name in recorded)
    for kind, id_ in sorted(pair for pair in seen if len(pair) == 2):  # noqa: PLR2004 - kind and id
        of = kinds.get(kind)
        if of is not None and (of, id_) not in shelf.origins and not knowledge.trail.knows(of, id_):
            yield of, id_


def vanished_id(recorded: Iterable[str], shelf: Shelf, knowledge: Knowledge, shown: str) -> Iterator[Problem]:
    """One error an id."""
    for kind, id_ in vanished(recorded, shelf, knowledge):
        yield Problem(
            place=Place(path=shown),
            what=f"the {kind} `{id_}` is gone without a trail",
            why="open cases hold ids, and could not go on with this one",
            mend=f"bring it back, then `helpline kb rename {kind}:{id_} NEW` or `helpline kb retire {kind}:{id_}`",
            rule=NAME,
        )
