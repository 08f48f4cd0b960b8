"""Do the answers fit together? If no cause explains them, one of them is probably wrong.

    conf(e)    = log2 Π P(e_i) / P(e)                       > 0: less likely together than if they had nothing in common
    conf(e, h) = conf(e) + log2 P(h) / P(h | e)             ≤ 0 for some h: rare, but h explains it

Jensen, Chamberlain, Nordahl & Jensen on the analysis of data conflict (UAI 1990). Something else explains nothing.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from assistant.reasoning.evidence import VOLUNTEERED, Evidence
from assistant.reasoning.hypotheses import MENDED, Hypotheses, hypotheses_of
from assistant.reasoning.items import Item, items_of, telling_bits
from kb.compiling import Compiled
from kb.ids import CheckId
from kb.likelihood import HOW_RIGHT

ASK_AGAIN_BITS: Final = 1.0
"""Unexplained conflict above this: ask again before trusting the arithmetic (ours; A8 of one known case gives 1.10)."""
EASES_BITS: Final = 0.5
"""An answer is suspect if without it the unexplained conflict falls by this much."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Conflict:
    """How badly the answers fit together."""

    bits: float
    """conf(e)."""
    unexplained_bits: float
    """conf(e, h) with the likeliest listed hypothesis: what is left when the best explanation is granted."""
    ask_again: CheckId | None
    """The least reliable telling answer, where the conflict is worth a second question."""


def conflict(compiled: Compiled, evidence: Sequence[Evidence], epoch: int | None = None) -> Conflict:
    """The conflict among what was learnt in one epoch (the last one, if not said) and what holds always."""
    return conflict_on(hypotheses_of(compiled), evidence, epoch)


def conflict_on(hypotheses: Hypotheses, evidence: Sequence[Evidence], epoch: int | None = None) -> Conflict:
    """As `conflict`, over hypotheses that are already made."""
    items = items_of(hypotheses, evidence)
    now = max((item.epoch for item in items), default=0) if epoch is None else epoch
    items = tuple(item for item in items if item.epoch == now or hypotheses.shown[item.about].shows.past)
    bits, unexplained = _bits(hypotheses, items)
    again = _suspect(hypotheses, items, unexplained) if unexplained > ASK_AGAIN_BITS else None
    return Conflict(bits=bits, unexplained_bits=unexplained, ask_again=again)


def conflict_bits(compiled: Compiled, evidence: Sequence[Evidence]) -> float:
    """conf(e) alone; above nought the answers surprise each other."""
    return conflict(compiled, evidence).bits


def _bits(hypotheses: Hypotheses, items: Sequence[Item]) -> tuple[float, float]:
    if len(items) < 2:  # noqa: PLR2004 - one answer cannot contradict itself
        return 0.0, 0.0
    apart = float(sum(np.log2(hypotheses.prior @ item.likelihood) for item in items))
    with np.errstate(divide="ignore"):  # a sum may rule a hypothesis out: log2 0 = -inf is meant
        together = np.sum([np.log2(item.likelihood) for item in items], axis=0)  # (hypotheses,) log2 P(e | h)
    top = together.max()
    evidence = top + float(np.log2(hypotheses.prior @ np.exp2(together - top)))
    posterior = hypotheses.prior * np.exp2(together - top)
    posterior[[MENDED, hypotheses.something_else]] = 0.0
    best = int(np.argmax(posterior))
    explained = float(together[best]) if posterior[best] > 0.0 else evidence
    return float(apart - evidence), float(apart - explained)


def _suspect(hypotheses: Hypotheses, items: Sequence[Item], unexplained: float) -> CheckId | None:
    """Of the answers without which the conflict eases, the least reliable; then the most telling; then by id."""
    suspects: list[tuple[float, float, CheckId]] = []
    for item in items:
        _, rest = _bits(hypotheses, [other for other in items if other is not item])
        if unexplained - rest >= EASES_BITS:
            told = round(telling_bits(hypotheses.prior, item.likelihood), 9)
            suspects += [
                (_reliability(hypotheses, check), -told, check) for check in item.checks if check is not None
            ]
    return min(suspects)[2] if suspects else None


def _reliability(hypotheses: Hypotheses, check: CheckId) -> float:
    node = hypotheses.compiled.knowledge.checks.get(check)
    return HOW_RIGHT[VOLUNTEERED if node is None else node.people_are_right]
