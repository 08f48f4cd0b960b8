"""Do the answers fit together? If not, one of them was probably misheard or mistaken.

    conf(e)        = log2 Π P(e_i) / P(e)                  > 0: less likely together than if they had nothing in common
    conf(e, h)     = conf(e) + log2 P(h) / P(h | e)        ≤ 0 for some h: rare, but h explains it
    against i      = log2 P(told_i) / P(told_i | e without e_i)     > 0: the others make what was told less likely
    P(mistaken i)  = Σ_h P(h | e) · Σ_{s ≠ told} P(s | h) λ_i(s) / Σ_s P(s | h) λ_i(s)

Jensen, Chamberlain, Nordahl & Jensen on the analysis of data conflict (UAI 1990). Something else explains nothing.
"Against" is their conf between what one answer tells and all the others; P(mistaken) is the posterior of its channel.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from assistant.reasoning.evidence import Evidence
from assistant.reasoning.gains import LEAST
from assistant.reasoning.hypotheses import MENDED, Hypotheses, hypotheses_of
from assistant.reasoning.items import Item, items_of
from kb.compiling import Compiled, Floats
from kb.ids import CheckId

AGAINST_BITS: Final = 0.6
"""From here on the other answers speak against one: what it tells is a third less likely than before any answer."""
MISTAKEN_FROM: Final = 0.5
"""And it is then likelier wrong than right (ours).

Over 800 customers drawn from the knowledge both together doubt an answer of one in eleven; two in three are wrong.
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Doubt:
    """An answer that the others speak against."""

    check: CheckId
    against_bits: float
    mistaken: float
    """P(what is so is not what was told)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Conflict:
    """How badly the answers fit together."""

    bits: float
    """conf(e)."""
    unexplained_bits: float
    """conf(e, h) with the likeliest listed hypothesis: what is left when the best explanation is granted."""
    doubts: tuple[Doubt, ...]
    """The answers worth a second look, the likeliest mistake first; ties by id."""

    @property
    def ask_again(self) -> CheckId | None:
        """The likeliest mistake."""
        return self.doubts[0].check if self.doubts else None


def conflict(compiled: Compiled, evidence: Sequence[Evidence], epoch: int | None = None) -> Conflict:
    """The conflict among what was learnt in one epoch (the last one, if not said) and what holds always."""
    return conflict_on(hypotheses_of(compiled), evidence, epoch)


def conflict_on(hypotheses: Hypotheses, evidence: Sequence[Evidence], epoch: int | None = None) -> Conflict:
    """As `conflict`, over hypotheses that are already made."""
    items = items_of(hypotheses, evidence)
    now = max((item.epoch for item in items), default=0) if epoch is None else epoch
    items = tuple(item for item in items if item.epoch == now or hypotheses.shown[item.about].shows.past)
    if len(items) < 2:  # noqa: PLR2004 - one answer cannot contradict itself
        return Conflict(bits=0.0, unexplained_bits=0.0, doubts=())
    with np.errstate(divide="ignore"):  # a sum may rule a hypothesis out: log2 0 = -inf is meant
        together = np.sum([np.log2(item.likelihood) for item in items], axis=0)  # (hypotheses,) log2 P(e | h)
    apart = float(sum(np.log2(hypotheses.prior @ item.likelihood) for item in items))
    top = together.max()
    weights = hypotheses.prior * np.exp2(together - top)
    total = float(weights.sum())
    bits = apart - float(top + np.log2(total))
    weights /= total
    return Conflict(
        bits=bits,
        unexplained_bits=bits + _best_explanation_bits(hypotheses, weights),
        doubts=_doubts(hypotheses, items, weights),
    )


def conflict_bits(compiled: Compiled, evidence: Sequence[Evidence]) -> float:
    """conf(e) alone; above nought the answers surprise each other."""
    return conflict(compiled, evidence).bits


def _best_explanation_bits(hypotheses: Hypotheses, weights: Floats) -> float:
    """log2 P(h) / P(h | e) of the likeliest listed hypothesis; nought where none is left."""
    listed = weights.copy()
    listed[[MENDED, hypotheses.something_else]] = 0.0
    best = int(np.argmax(listed))
    return float(np.log2(hypotheses.prior[best] / weights[best])) if listed[best] > 0.0 else 0.0


def _doubts(hypotheses: Hypotheses, items: Sequence[Item], weights: Floats) -> tuple[Doubt, ...]:
    found = [
        Doubt(check=check, against_bits=against, mistaken=mistaken)
        for item in items
        if (against := _against_bits(hypotheses, item, weights)) >= AGAINST_BITS
        and (mistaken := _mistaken(hypotheses, item, weights)) >= MISTAKEN_FROM
        for check in dict.fromkeys(item.checks)
        if check is not None
    ]
    return tuple(sorted(found, key=lambda doubt: (-round(doubt.mistaken, 9), doubt.check)))


def _against_bits(hypotheses: Hypotheses, item: Item, weights: Floats) -> float:
    """Taking the answer out again leaves P(h | others) ∝ P(h | e) / P(e_i | h)."""
    live = weights > 0.0
    others = weights[live] / item.likelihood[live]
    told = np.eye(len(item.by_state))[int(np.argmax(item.by_state))]
    shows = hypotheses.shown[item.about].likelihood(len(hypotheses), told)  # (hypotheses,) P(told | h)
    given_others = float(others @ shows[live] / others.sum())
    return float(np.log2(hypotheses.prior @ shows) - np.log2(max(given_others, LEAST)))


def _mistaken(hypotheses: Hypotheses, item: Item, weights: Floats) -> float:
    shown, told = hypotheses.shown[item.about], item.by_state
    strength = np.vstack([shown.strength, shown.shows.background])  # (told + 1, states), the usual row last
    share = np.append(weights[shown.rows], 1.0 - weights[shown.rows].sum())
    joint = strength * told  # (told + 1, states) P(s, e_i | h)
    given = joint.sum(axis=1, keepdims=True)
    state = share @ (joint / np.where(given > 0.0, given, 1.0))  # (states,) P(s | all)
    return float(1.0 - state[int(np.argmax(told))])
