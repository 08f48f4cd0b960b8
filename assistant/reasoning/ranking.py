"""All questions that may be asked, best first: bits about what to do next for a minute of the grower's time."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass

import numpy as np

from assistant.reasoning.belief import Belief
from assistant.reasoning.costs import CALM, Situation, ask_minutes
from assistant.reasoning.gains import edges_cut, gain_on_classes_bits
from assistant.reasoning.open import missing_quantities
from assistant.reasoning.remedies import Remedies, remedies_of
from assistant.reasoning.stacked import View, gain_on_hypotheses_bits, joint_with_classes, stacked
from kb.compiling import Compiled
from kb.ids import CheckId, FindingId, FixId, QuantityId


@dataclass(frozen=True, slots=True, kw_only=True)
class Ranked:
    """One question and what it is worth."""

    check: CheckId
    finding: FindingId
    """What it tells: the check's own finding, or a sum that its number feeds."""
    gain_bits: float
    """About the class of remedy."""
    gain_causes_bits: float
    """About the hypotheses."""
    edges_cut: float
    minutes: float
    score: float
    """Bits about the remedy a minute."""
    place: int
    """Its view among those of the edition."""


def rank(
    compiled: Compiled,
    belief: Belief,
    askable: Sequence[CheckId],
    *,
    fixable: Collection[FixId] | None = None,
    situation: Situation = CALM,
    known_quantities: Collection[QuantityId] = (),
) -> tuple[Ranked, ...]:
    """The askable checks, best first; scores within 1e-9 go by edges cut a minute, then by id.

    A check whose number feeds several sums stands once, for the best of them; what a sum still lacks adds its minutes.
    """
    fixes = compiled.knowledge.fixes if fixable is None else fixable
    return ranked(
        compiled,
        belief,
        remedies_of(compiled, belief, fixes, situation),
        askable,
        situation,
        known_quantities,
    )


def ranked(
    compiled: Compiled,
    belief: Belief,
    remedies: Remedies,
    askable: Sequence[CheckId],
    situation: Situation,
    known_quantities: Collection[QuantityId],
) -> tuple[Ranked, ...]:
    """As `rank`, with the classes of remedy already made."""
    stack = stacked(belief.hypotheses)
    minutes = {place: cost for place, view in enumerate(stack.views) if view.check in askable
               and (cost := _view_minutes(compiled, view, askable, situation, known_quantities)) is not None}  # fmt: skip
    if not minutes:
        return ()
    both = joint_with_classes(stack, belief.weights, belief.heavy, remedies.of_row, len(remedies.classes) + 1)
    of_hypotheses = gain_on_hypotheses_bits(stack, belief.weights)
    of_classes, cut = np.maximum(gain_on_classes_bits(both), 0.0), edges_cut(both)
    all_views = [
        Ranked(
            check=stack.views[place].check,
            finding=stack.views[place].finding,
            gain_bits=float(of_classes[place]),
            gain_causes_bits=float(of_hypotheses[place]),
            edges_cut=float(cut[place]),
            minutes=cost,
            score=float(of_classes[place]) / cost,
            place=place,
        )
        for place, cost in minutes.items()
    ]
    best: dict[CheckId, Ranked] = {}
    for one in sorted(all_views, key=_best_first):
        best.setdefault(one.check, one)
    return tuple(best.values())


def _best_first(one: Ranked) -> tuple[float, float, CheckId, FindingId]:
    return (
        -_same_within_1e9(one.score),
        -_same_within_1e9(one.edges_cut / one.minutes),
        one.check,
        one.finding,
    )


def _same_within_1e9(value: float) -> float:
    return float(f"{value:.9g}")


def _view_minutes(
    compiled: Compiled,
    view: View,
    askable: Sequence[CheckId],
    situation: Situation,
    known: Collection[QuantityId],
) -> float | None:
    """The check's minutes and those of the other numbers that its sum lacks; None where one of them cannot be had."""
    checks = compiled.knowledge.checks
    total = ask_minutes(checks[view.check], situation)
    for quantity in missing_quantities(compiled, view.finding, known):
        if quantity == checks[view.check].measures:
            continue
        ways = [
            ask_minutes(checks[check], situation) for check in askable if checks[check].measures == quantity
        ]
        if not ways:
            return None
        total += min(ways)
    return total
