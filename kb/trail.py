"""The trail: where an id went that is no longer used, so that cases which hold it can go on.

A node that was renamed says `was:`; so does a state. One that was retired leaves a tombstone in `retired.yaml`, with
the id that takes its place where there is one. Ids never vanish without either (`vanished-id`).
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Final, TypeAlias

from pydantic import BaseModel

from kb.files import Kind
from kb.schema import Finding, Node, Retired, Tombstone

Left: TypeAlias = tuple[Kind, str]
"""An id that was left behind, with its kind."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Trail:
    """Old ids, and what they are called now."""

    renamed: Mapping[Left, str] = field(default_factory=dict)
    retired: Mapping[Left, str | None] = field(default_factory=dict)
    """None: nothing takes its place."""
    states: Mapping[tuple[str, str], str] = field(default_factory=dict)
    """(finding as it is called now, old state) → state."""

    def now(self, kind: Kind, id_: str) -> str | None:
        """What `id_` is called now; itself where it was never left behind, None where nothing takes its place."""
        for _ in range(len(self.renamed) + len(self.retired) + 1):  # a ring of ids leads nowhere, and ends
            left = (kind, id_)
            if left in self.renamed:
                id_ = self.renamed[left]
            elif left in self.retired:
                instead = self.retired[left]
                if instead is None:
                    return None
                id_ = instead
            else:
                return id_
        return None

    @property
    def kinds(self) -> frozenset[Kind]:
        """The kinds of which anything was left behind."""
        return frozenset(kind for kind, _ in (*self.renamed, *self.retired))

    def knows(self, kind: Kind, id_: str) -> bool:
        """The id was left behind, and its trail is here."""
        return (kind, id_) in self.renamed or (kind, id_) in self.retired

    def state_now(self, finding: str, state: str) -> str:
        """What a state of `finding` (as the finding is called now) is called now."""
        return self.states.get((finding, state), state)


NO_TRAIL: Final = Trail()


def trail_of(nodes: Mapping[Kind, Mapping[str, BaseModel]]) -> Trail:
    """The trail that the nodes of a folder tell."""
    return Trail(
        renamed={
            (kind, old): id_
            for kind, of_kind in nodes.items()
            for id_, node in of_kind.items()
            if isinstance(node, Node)
            for old in node.was
        },
        retired={(kind, id_): stone.instead for kind, id_, stone in tombstones(nodes)},
        states={
            (id_, old): str(now)
            for id_, finding in nodes["finding"].items()
            if isinstance(finding, Finding)
            for now, state in finding.states.items()
            for old in state.was
        },
    )


def tombstones(nodes: Mapping[Kind, Mapping[str, BaseModel]]) -> Iterable[tuple[Kind, str, Tombstone]]:
    """Every tombstone whose kind there is, in the order of the kinds of nodes."""
    for kind in nodes:
        retired = nodes["retired"].get(kind)
        if isinstance(retired, Retired):
            yield from ((kind, id_, stone) for id_, stone in retired.root.items())
