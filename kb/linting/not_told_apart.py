"""`not-told-apart`: two causes of different remedy between which no customer's answer can decide.

A check tells two causes apart by the bits that its finding carries about which of the two it is, at equal odds: 0 where both show
the same, 1 where the answer settles it. The rule wants 0.10 bit from one check that the customer can do on the equipment.

passes:
    cause: filter_clogged
    fixes: [clean_filter]
    shows: {filter: {clogged: nearly always}}
    ---
    cause: indoor_coil_dirty
    fixes: [brush_indoor_coil]
    shows: {filter: {clogged: rarely}}
fails:
    cause: filter_clogged
    fixes: [clean_filter]
    shows: {filter: {clogged: usually}}
    ---
    cause: indoor_coil_dirty
    fixes: [brush_indoor_coil]
    shows: {filter: {clogged: often}}
"""

from collections.abc import Iterator, Mapping
from typing import Final

import numpy as np

from kb.compiling import EQUIPMENT, Floats, background, row
from kb.ids import CauseId, FindingId
from kb.knowledge import Knowledge
from kb.linting.rule import Rule
from kb.problems import Problem
from kb.schema import Cause, Check, Equipment
from kb.shelf import Shelf

LEAST_BITS: Final = 0.10


def search(shelf: Shelf, knowledge: Knowledge) -> Iterator[Problem]:
    """Pairs of causes that share equipment and no telling check on it; each pair is told once, at the first kind of it."""
    causes = tuple(knowledge.causes)
    bits = {
        finding: _bits_of_pairs(knowledge, finding) for finding in knowledge.findings if finding != EQUIPMENT
    }
    for first, one in enumerate(causes):
        for second in range(first + 1, len(causes)):
            other = causes[second]
            if remedy(knowledge, one) != remedy(knowledge, other):
                yield from _untold(
                    shelf, knowledge, (one, other), {f: float(b[first, second]) for f, b in bits.items()}
                )


def remedy(knowledge: Knowledge, id_: CauseId) -> str:
    """What would be done about a cause: its first fix; everything inside the sealed circuit is one visit of one trade."""
    cause = knowledge.causes[id_]
    return "sealed circuit" if cause.sealed_circuit else next(iter(cause.fixes), "")


def bits_between(one: Floats, other: Floats) -> Floats:
    """Bits that an answer carries about which of two equally likely causes it is; the last axis is the states.

    >>> bits_between(np.array([1.0, 0.0]), np.array([0.0, 1.0])).round(3).item()
    1.0
    """
    return np.asarray(_entropy_bits((one + other) / 2) - (_entropy_bits(one) + _entropy_bits(other)) / 2)


def _entropy_bits(shares: Floats) -> Floats:
    logs = np.log2(shares, where=shares > 0, out=np.zeros_like(shares))
    return np.asarray(-(shares * logs).sum(axis=-1))


def _bits_of_pairs(knowledge: Knowledge, id_: FindingId) -> Floats:
    finding = knowledge.findings[id_]
    states, usual = tuple(finding.states), background(finding)
    rows = [
        row(states, cause.shows[id_], usual) if cause.shows.get(id_) else usual
        for cause in knowledge.causes.values()
    ]
    shows = np.array(rows)  # (causes, states)
    return bits_between(shows[:, None, :], shows[None, :, :])  # (causes, causes)


def _untold(
    shelf: Shelf, knowledge: Knowledge, pair: tuple[CauseId, CauseId], bits: Mapping[FindingId, float]
) -> Iterator[Problem]:
    one, other = (knowledge.causes[id_] for id_ in pair)
    for equipment in (kind for kind in one.equipment if kind in other.equipment):
        checks = [
            check
            for check in knowledge.checks.values()
            if check.finds in bits and _can_be_done(check, equipment)
        ]
        best = max(checks, key=lambda check: bits[check.finds], default=None)
        if best is None or bits[best.finds] < LEAST_BITS:
            yield _told(shelf, one, other, equipment, best, 0.0 if best is None else bits[best.finds])
            return


def _can_be_done(check: Check, equipment: Equipment) -> bool:
    """By a customer, who has no meter, on this equipment."""
    only, never = check.only_if.get(EQUIPMENT), check.unless.get(EQUIPMENT, ())
    return (
        "meter" not in check.effort.tools and (only is None or equipment in only) and equipment not in never
    )


def _told(
    shelf: Shelf, one: Cause, other: Cause, equipment: Equipment, best: Check | None, bits: float
) -> Problem:
    nearest = "there is no check" if best is None else f"the best, `{best.check}`, tells {bits:.2f} bit"
    return shelf.problem(
        "cause",
        one.cause,
        "shows",
        key=True,
        what=f"no check tells `{one.cause}` from `{other.cause}` on {equipment}",
        why=f"their remedies differ, and {nearest} where {LEAST_BITS:.2f} is wanted",
        mend="say in both what each of them shows, or write a check for what a practitioner would look at",
        rule=RULE.name,
    )


RULE = Rule("not-told-apart", search)
