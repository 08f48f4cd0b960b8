"""`broken-trail`: an id that was left behind and leads nowhere, or that means something again.

passes:
    cause: filter_clogged
    was: [filter_full_of_dust]
fails:
    cause: filter_clogged
    was: [indoor_coil_dirty]
"""

from collections.abc import Iterator

from kb.checking import MODELS
from kb.files import Kind
from kb.knowledge import Knowledge
from kb.linting.rule import Rule
from kb.problems import Problem, listed, nearest
from kb.schema import Node, Tombstone
from kb.shelf import Shelf
from kb.trail import tombstones
from kb.written import Location

NODE_KINDS: tuple[Kind, ...] = tuple(kind for kind in MODELS if kind != "retired")


def search(shelf: Shelf, _knowledge: Knowledge) -> Iterator[Problem]:
    """Old ids in use, of two nodes at once, or with nothing in their place that is there."""
    yield from _kinds(shelf)
    first: dict[tuple[Kind, str], str] = {}
    for kind in NODE_KINDS:
        for id_, node in shelf.nodes[kind].items():
            assert isinstance(node, Node)  # noqa: S101 - MODELS has Node for every kind but the retired
            for index, old in enumerate(node.was):
                other = first.setdefault((kind, old), id_)
                yield from _left(
                    shelf, kind, old, (kind, id_, ("was", index)), other if other != id_ else None
                )
    for kind, old, stone in tombstones(shelf.nodes):
        yield from _left(shelf, kind, old, ("retired", kind, (old,)), first.get((kind, old)))
        yield from _instead(shelf, kind, old, stone)


def _kinds(shelf: Shelf) -> Iterator[Problem]:
    for kind in shelf.nodes["retired"]:
        if kind not in NODE_KINDS:
            near = nearest(kind, NODE_KINDS)
            yield shelf.problem(
                "retired",
                kind,
                what=f"there is no kind `{kind}`",
                why="the ids under it would be looked for nowhere",
                mend=f"write `{near}`" if near else f"the kinds are {listed(NODE_KINDS)}",
                rule=RULE.name,
            )


def _left(
    shelf: Shelf, kind: Kind, old: str, at: tuple[Kind, str, Location], also: str | None
) -> Iterator[Problem]:
    of, id_, location = at
    if old in shelf.nodes[kind]:
        yield shelf.problem(
            of,
            id_,
            *location,
            what=f"the {kind} `{old}` is said to be gone, and is there",
            why="cases that hold the id could not know which of the two they mean",
            mend=f"take it out here, or give the other another id: `helpline kb rename {kind}:{old} NEW`",
            rule=RULE.name,
        )
    if also is not None:
        yield shelf.problem(
            of,
            id_,
            *location,
            what=f"`{old}` leads to `{also}` as well",
            why="an open case could go on with one of them only",
            mend="keep it where what it stood for is said now",
            rule=RULE.name,
        )


def _instead(shelf: Shelf, kind: Kind, old: str, stone: Tombstone) -> Iterator[Problem]:
    if stone.instead is None and kind == "hazard":
        yield shelf.problem(
            "retired",
            kind,
            old,
            what=f"nothing takes the place of the hazard `{old}`",
            why="an open case in which it was raised would forget that somebody may be in danger",
            mend="write `instead:` with the hazard that covers it now",
            rule=RULE.name,
        )
    known = {*shelf.nodes[kind], *(gone for of, gone, _ in tombstones(shelf.nodes) if of == kind)}
    if stone.instead is not None and (stone.instead not in known or stone.instead == old):
        near = nearest(stone.instead, shelf.nodes[kind])
        yield shelf.problem(
            "retired",
            kind,
            old,
            "instead",
            what=f"there is no {kind} `{stone.instead}`",
            why="a case that holds the retired id would go on with nothing",
            mend=f"write `{near}`" if near else "name one that there is, or take `instead` away",
            rule=RULE.name,
        )


RULE = Rule("broken-trail", search)
