"""A storm night: many cases at once, grouped by what is suspected, where they are and when they began.

The group is a help to the eye and to a reply to many: each case stays its own.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import groupby
from typing import Final

from assistant.conversation.ids import CaseId
from assistant.helpline.queue import QueueLine

SURE_ENOUGH: Final = 0.25
"""A cause less likely than this says less of a case than what its people complain of (ours)."""
APART: Final = timedelta(hours=2)
"""Cases that begin within so long of the one before them belong to the same storm (ours)."""
FEWEST: Final = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Cluster:
    """Cases that look alike."""

    what: str | None
    """The cause suspected, or the complaint, in words; None: neither is known."""
    is_cause: bool
    place: str | None
    first: datetime
    last: datetime
    lines: tuple[QueueLine, ...]
    """In the queue's order."""


def clusters_of(lines: Sequence[QueueLine]) -> tuple[tuple[Cluster, ...], tuple[QueueLine, ...]]:
    """Groups of two or more, the largest first, and the cases that stand alone, in the queue's order."""
    places = {line.row.case: place for place, line in enumerate(lines)}
    found: list[Cluster] = []
    for key, alike in groupby(sorted(lines, key=_order), key=_key):
        found += [_cluster(key, burst, places) for burst in _bursts(alike) if len(burst) >= FEWEST]
    grouped = {line.row.case for cluster in found for line in cluster.lines}
    largest = sorted(found, key=lambda one: (-len(one.lines), one.first, one.what or ""))
    return tuple(largest), tuple(line for line in lines if line.row.case not in grouped)


def _key(line: QueueLine) -> tuple[str, bool, str]:
    if line.cause is not None and (line.share is None or line.share >= SURE_ENOUGH):
        return line.cause, True, line.row.place or ""
    return line.complaint or "", False, line.row.place or ""


def _order(line: QueueLine) -> tuple[tuple[str, bool, str], datetime, str]:
    return _key(line), line.row.opened_at, line.row.case


def _bursts(alike: Iterable[QueueLine]) -> list[list[QueueLine]]:
    bursts: list[list[QueueLine]] = []
    for line in alike:
        if bursts and line.row.opened_at - bursts[-1][-1].row.opened_at <= APART:
            bursts[-1].append(line)
        else:
            bursts.append([line])
    return bursts


def _cluster(key: tuple[str, bool, str], burst: list[QueueLine], places: Mapping[CaseId, int]) -> Cluster:
    what, is_cause, place = key
    return Cluster(
        what=what or None,
        is_cause=is_cause,
        place=place or None,
        first=burst[0].row.opened_at,
        last=burst[-1].row.opened_at,
        lines=tuple(sorted(burst, key=lambda line: places[line.row.case])),
    )
