"""Evidence sorted into items that may be multiplied: P(e | h) = Π_items P(item | h).

An item is all that was learnt of one finding at one time. Of a group (findings that tell the same story, a complaint
and its other name) only the most telling item counts.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from assistant.reasoning.evidence import Evidence, by_state
from assistant.reasoning.hypotheses import Hypotheses
from kb.compiling import Floats, Ints, Node, Shows
from kb.ids import CheckId


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Item:
    """What was learnt of one finding at one time, as the hypotheses see it."""

    about: Node
    epoch: int
    """When it holds: the past and what never changes hold from the beginning."""
    part: int
    """First, second … value within the epoch, for findings that last some minutes only."""
    group: str
    checks: tuple[CheckId | None, ...]
    by_state: Floats
    """(states,) λ over the true states."""
    likelihood: Floats
    """(hypotheses,) P(item | h), the largest 1."""

    @property
    def key(self) -> tuple[int, str, int]:
        """The order of items, whatever order they were learnt in."""
        return (self.epoch, self.about, self.part)


def items_of(hypotheses: Hypotheses, evidence: Sequence[Evidence]) -> tuple[Item, ...]:
    """The items that count, in one order whatever the order of `evidence`.

    Fails with `KeyError` on a node that the edition lacks.
    """
    parts: dict[tuple[int, Node, int], list[Evidence]] = {}
    for about in sorted({e.about for e in evidence}):
        of_it = [e for e in evidence if e.about == about]
        for e, epoch, part in _timed(hypotheses.shown[about].shows, of_it):
            parts.setdefault((epoch, about, part), []).append(e)
    items = [_item(hypotheses, key, parts[key]) for key in sorted(parts)]
    return _most_telling(hypotheses, items)


def _timed(shows: Shows, evidence: Sequence[Evidence]) -> list[tuple[Evidence, int, int]]:
    """Each with its epoch and part: what lasts always has one epoch, what lasts minutes may have several parts."""
    if shows.past:
        return [(e, 0, 0) for e in evidence]
    if shows.lasts_minutes is None:
        return [(e, e.epoch, 0) for e in evidence]
    timed: list[tuple[Evidence, int, int]] = []
    begun: dict[int, tuple[float, int]] = {}
    for e in sorted(evidence, key=lambda e: (e.epoch, e.at_minutes)):
        start, part = begun.get(e.epoch, (e.at_minutes, 0))
        if e.at_minutes - start > shows.lasts_minutes:
            start, part = e.at_minutes, part + 1
        begun[e.epoch] = (start, part)
        timed.append((e, e.epoch, part))
    return timed


def _item(hypotheses: Hypotheses, key: tuple[int, Node, int], evidence: Sequence[Evidence]) -> Item:
    epoch, about, part = key
    shown = hypotheses.shown[about]
    told = by_state(hypotheses.compiled, shown.shows, evidence)
    likelihood = shown.likelihood(len(hypotheses), told)
    return Item(
        about=about,
        epoch=epoch,
        part=part,
        group=shown.shows.group,
        checks=tuple(e.check for e in evidence),
        by_state=told,
        likelihood=likelihood / likelihood.max(),
    )


def _most_telling(hypotheses: Hypotheses, items: Sequence[Item]) -> tuple[Item, ...]:
    groups: dict[tuple[int, str, int], list[Item]] = {}
    for item in items:
        groups.setdefault((item.epoch, item.group, item.part), []).append(item)
    kept = [_first_of_most(hypotheses, members) for members in groups.values()]
    return tuple(sorted(kept, key=lambda item: item.key))


def _first_of_most(hypotheses: Hypotheses, members: Sequence[Item]) -> Item:
    if len(members) == 1:
        return members[0]
    bits = [round(telling_bits(hypotheses.prior, item.likelihood), 9) for item in members]
    return members[bits.index(max(bits))]


def telling_bits(prior: Floats, likelihood: Floats) -> float:
    """How far one item alone moves belief: D(P(h | e) ‖ P(h)) in bits.

    >>> telling_bits(np.array([0.5, 0.5]), np.array([1.0, 0.0]))
    1.0
    """
    moved = prior * likelihood
    moved = moved / moved.sum()
    live: Ints = np.flatnonzero(moved > 0.0)
    return float(moved[live] @ np.log2(moved[live] / prior[live]))
