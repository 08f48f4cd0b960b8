"""All checks side by side, so that the gains of all of them are a few products.

    P(a | h) = Σ_s P(s | h) P(a | s)        P(a, r) = Σ_{h in r} P(h) P(a | h)

Stored are deviations from the usual only, D = P(a | h) − P(a | nothing listed): the cost follows what authors wrote.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array

from assistant.reasoning.evidence import channel
from assistant.reasoning.gains import Usual, entropy_bits, gain_bits_beyond
from assistant.reasoning.hypotheses import Hypotheses
from kb.compiling import Floats, Ints, finding_node
from kb.ids import CheckId, FindingId


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """One way in which a check tells: the finding that it finds, or a sum that its number feeds."""

    check: CheckId
    finding: FindingId


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stacked:
    """The columns are the answers of all views, one view after another."""

    views: tuple[View, ...]
    starts: NDArray[np.intp]
    """(views,) the first column of each."""
    places: Ints
    """(views, widest) the columns of each view; one past the end where it has fewer answers."""
    usual: Usual
    strength: csr_array
    """(columns, hypotheses) D."""
    by_hypothesis: csr_array
    """(hypotheses, columns) D again, the other way round."""
    noise_bits: csr_array
    """(views, hypotheses) H(A | h) − H(A | nothing listed)."""


@dataclass(frozen=True, slots=True, eq=False)
class _Part:
    """One view's share of the stack."""

    usual: Floats
    rows: Ints
    beyond: Floats
    """(told, answers)."""
    noise_beyond: Floats
    """(told,)."""


@lru_cache(maxsize=8)
def stacked(hypotheses: Hypotheses) -> Stacked:
    """The stacked arrays of one edition, made once."""
    views = _views(hypotheses)
    parts = [_part(hypotheses, view) for view in views]
    widths = np.array([len(part.usual) for part in parts], dtype=np.int64)
    starts, columns = np.cumsum(widths) - widths, int(widths.sum())
    within = np.arange(int(widths.max(initial=1)))
    usual = np.concatenate([np.zeros(0), *(part.usual for part in parts)])
    beyond = _sparse(
        [part.rows.repeat(len(part.usual)) for part in parts],
        [
            np.tile(start + np.arange(len(part.usual)), len(part.rows))
            for start, part in zip(starts, parts, strict=True)
        ],
        [part.beyond.ravel() for part in parts],
        (len(hypotheses), columns),
    )
    noise = _sparse(
        [np.full(len(part.rows), place) for place, part in enumerate(parts)],
        [part.rows for part in parts],
        [part.noise_beyond for part in parts],
        (len(views), len(hypotheses)),
    )
    return Stacked(
        views=views,
        starts=starts.astype(np.intp),
        places=np.where(within < widths[:, None], starts[:, None] + within, columns),
        usual=Usual(answer=usual, noise_bits=np.array([float(entropy_bits(part.usual)) for part in parts])),
        strength=beyond.T.tocsr(),
        by_hypothesis=beyond,
        noise_bits=noise,
    )


def _views(hypotheses: Hypotheses) -> tuple[View, ...]:
    knowledge = hypotheses.compiled.knowledge
    views: list[View] = []
    for check, node in knowledge.checks.items():
        fed = [
            f for f, finding in knowledge.findings.items() if finding.sum and node.measures in finding.sum.of
        ]
        views += [View(check=check, finding=f) for f in sorted({node.finds, *fed} & set(knowledge.findings))]
    return tuple(views)


def _part(hypotheses: Hypotheses, view: View) -> _Part:
    shown = hypotheses.shown[finding_node(view.finding)]
    through = channel(
        len(shown.shows.states), hypotheses.compiled.knowledge.checks[view.check].people_are_right
    )
    usual, told = shown.shows.background @ through, shown.strength @ through
    return _Part(usual, shown.rows, told - usual, entropy_bits(told) - float(entropy_bits(usual)))


def _sparse(rows: list[Ints], columns: list[Ints], values: list[Floats], shape: tuple[int, int]) -> csr_array:
    if not values:
        return csr_array(shape)
    return csr_array((np.concatenate(values), (np.concatenate(rows), np.concatenate(columns))), shape=shape)


def gain_on_hypotheses_bits(stack: Stacked, weights: Floats) -> Floats:
    """(views,) I(H; A) over all hypotheses."""
    gains = gain_bits_beyond(weights, stack.usual, stack.strength, stack.noise_bits, stack.starts)
    return np.asarray(np.maximum(gains, 0.0), dtype=np.float64)


def joint_with_classes(stack: Stacked, weights: Floats, rows: Ints, of_row: Ints, classes: int) -> Floats:
    """(views, answers, classes) P(answer, class) from the hypotheses in `rows`, summing to 1 for each view."""
    weights = weights[rows] / weights[rows].sum()
    in_class = csr_array((weights, (of_row[rows], rows)), shape=(classes, len(of_row)))
    share = np.bincount(of_row[rows], weights=weights, minlength=classes)
    answer = share[:, None] * stack.usual.answer + (in_class @ stack.by_hypothesis).toarray()
    return np.ascontiguousarray(_by_view(stack, answer, np.arange(len(stack.views))).transpose(1, 2, 0))


def answers_of(stack: Stacked, views: Ints, rows: Ints) -> Floats:
    """(views, hypotheses in rows, answers) P(a | h): the few that a rollout looks at, written out."""
    answer = stack.usual.answer + stack.by_hypothesis[rows].toarray()
    return np.ascontiguousarray(_by_view(stack, answer, views).transpose(1, 0, 2))


def _by_view(stack: Stacked, of_columns: Floats, views: Ints) -> Floats:
    """(rows, views, answers) from (rows, columns); answers that a view lacks are nought."""
    padded = np.concatenate([of_columns, np.zeros((len(of_columns), 1))], axis=1)
    return np.asarray(padded[:, stack.places[views]], dtype=np.float64)
