"""Classes of causes by what would be done next: the first fix still open, and who does it.

All sealed-circuit causes share one class: whatever is wrong inside, the licensed trade comes. A pair belongs to the
class of its likelier member, for that is what would be done first.
"""

from collections.abc import Collection
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from assistant.reasoning.belief import Belief
from assistant.reasoning.costs import CALM, HAND_OVER_MINUTES, TRADE_MINUTES, Situation, fix_minutes
from assistant.reasoning.hypotheses import MENDED
from kb.compiling import Compiled, Floats, Ints
from kb.ids import CauseId, FixId
from kb.likelihood import HOW_STRONGLY
from kb.schema import Cause, WhoFixes

Key = tuple[str, FixId | None, WhoFixes]
SOMETHING_ELSE: Final[Key] = ("~ something else", None, "desk")
SEALED_CIRCUIT: Final[Key] = ("~ sealed circuit", None, "refrigeration trade")

PERSON_SOLVES: Final = 1.0
"""Whoever takes a case over keeps it until it is solved."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Remedy:
    """One class: what would be done next."""

    name: str
    fix: FixId | None
    """None: nothing of ours is left; a person takes over."""
    who: WhoFixes
    causes: tuple[CauseId, ...]
    minutes: float
    works: float
    """P(the fix works | the cause is of this class), the mean over its causes."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Remedies:
    """All classes in order of name, and the class of each hypothesis."""

    classes: tuple[Remedy, ...]
    of_row: Ints
    """(hypotheses,) place of the class; the mended row has a class of its own, the last."""
    share: Floats
    """(classes + 1,) belief in each class, the mended one last."""

    @property
    def mended(self) -> int:
        """The place of the class of nothing left to do."""
        return len(self.classes)


def remedies_of(
    compiled: Compiled, belief: Belief, fixable: Collection[FixId], situation: Situation = CALM
) -> Remedies:
    """The classes as they stand with these fixes still open."""
    classes, of_cause = _classes(compiled, frozenset(fixable), situation)
    names = [remedy.name for remedy in classes]
    of_row = _of_rows(
        belief,
        np.array(of_cause, dtype=np.int64),
        something_else=names.index(SOMETHING_ELSE[0]),
        mended=len(classes),
    )
    share = np.bincount(of_row, weights=belief.weights, minlength=len(classes) + 1).astype(np.float64)
    return Remedies(classes=classes, of_row=of_row, share=share)


@lru_cache(
    maxsize=64
)  # measured: a tenth of a whole step on 150 causes, and the same from one question to the next
def _classes(
    compiled: Compiled, fixable: frozenset[FixId], situation: Situation
) -> tuple[tuple[Remedy, ...], tuple[int, ...]]:
    """The classes in order of name, and the place of each cause's."""
    named = [_named(compiled, cause, fixable) for cause in compiled.knowledge.causes.values()]
    keys = sorted({*named, SOMETHING_ELSE}, key=lambda key: key[0])
    members: dict[Key, list[Cause]] = {key: [] for key in keys}
    for key, cause in zip(named, compiled.knowledge.causes.values(), strict=True):
        members[key].append(cause)
    place = {key: i for i, key in enumerate(keys)}
    return tuple(_remedy(compiled, key, members[key], situation) for key in keys), tuple(
        place[key] for key in named
    )


def next_fix(compiled: Compiled, cause: Cause, fixable: Collection[FixId]) -> FixId | None:
    """The first of a cause's fixes that is still open."""
    return next((fix for fix in cause.fixes if fix in fixable and fix in compiled.knowledge.fixes), None)


def _named(compiled: Compiled, cause: Cause, fixable: Collection[FixId]) -> Key:
    fix = next_fix(compiled, cause, fixable)
    if cause.sealed_circuit:
        return SEALED_CIRCUIT
    if fix is None:
        return SOMETHING_ELSE  # nothing of ours is left for it: a person, as for something else
    return (fix, fix, compiled.knowledge.fixes[fix].who)


def _remedy(compiled: Compiled, key: Key, causes: list[Cause], situation: Situation) -> Remedy:
    name, fix, who = key
    return Remedy(
        name=name,
        fix=fix,
        who=who,
        causes=tuple(cause.cause for cause in causes),
        minutes=_minutes(compiled, fix, who, situation),
        works=_works(compiled, fix, who, causes),
    )


def _minutes(compiled: Compiled, fix: FixId | None, who: WhoFixes, situation: Situation) -> float:
    if who == "refrigeration trade":
        return TRADE_MINUTES
    return HAND_OVER_MINUTES if fix is None else fix_minutes(compiled.knowledge.fixes[fix], situation)


def _works(compiled: Compiled, fix: FixId | None, who: WhoFixes, causes: list[Cause]) -> float:
    if fix is None or who != "customer":
        return PERSON_SOLVES
    node = compiled.knowledge.fixes[fix]
    chances = [HOW_STRONGLY[node.works_for.get(cause.cause, node.works)] for cause in causes]
    return sum(chances) / len(chances)


def _of_rows(belief: Belief, of_cause: Ints, *, something_else: int, mended: int) -> Ints:
    hypotheses = belief.hypotheses
    of_place = np.append(of_cause, mended)
    a, b = of_place[hypotheses.first], of_place[hypotheses.second]
    share = np.bincount(of_cause, weights=belief.probability, minlength=mended + 1)
    share[mended] = -1.0  # nobody never leads a pair
    of_row = np.where(
        share[b] > share[a] + 1e-12, b, np.where(share[a] > share[b] + 1e-12, a, np.minimum(a, b))
    )
    of_row[hypotheses.something_else] = something_else
    of_row[MENDED] = mended
    return of_row.astype(np.int64)
