"""What a question is worth, in bits.

    I(H; A) = H(A) − Σ_h P(h) H(A | h)                    on hypotheses
    I(R; A) = H(R) + H(A) − H(R, A)                       on remedy classes, from the joint P(r, a)
    cut     = W − Σ_a P(a) · ½ (P(a)² − Σ_r P(r, a)²)     edges between different classes (W before any answer)

Edges cut: Golovin, Krause & Ray, "Near-optimal Bayesian active learning with noisy observations" (NeurIPS 2010).
"""

from dataclasses import dataclass
from typing import Final, Protocol

import numpy as np
from numpy.typing import NDArray

from kb.compiling import Floats

LEAST: Final = 1e-300
"""Below the least probability that can be told from nought."""


class Matrix(Protocol):
    """A dense or a sparse array: all that is asked of it is its product with a belief."""

    def __matmul__(self, other: Floats, /) -> Floats: ...


def entropy_bits(p: Floats, axis: int = -1) -> Floats:
    """H(p) = − Σ p log2 p along an axis; 0 · log 0 = 0.

    >>> float(entropy_bits(np.array([0.5, 0.25, 0.25, 0.0])))
    1.5
    """
    return np.asarray(-np.sum(plog2p(p), axis=axis), dtype=np.float64)


def plog2p(p: Floats) -> Floats:
    """Elementwise p log2 p, nought at nought."""
    return np.asarray(p * np.log2(np.maximum(p, LEAST)), dtype=np.float64)


def gain_bits(belief: Floats, strength: Matrix, noise_bits: Matrix, starts: NDArray[np.intp]) -> Floats:
    """(checks,) I(H; A) of many checks at once: two matrix-vector products and the logarithms of the marginals.

    `strength` is (answers of all checks, hypotheses), `noise_bits` (checks, hypotheses) holds H(A | h), `starts` says
    where each check's answers begin.
    """
    answer = strength @ belief  # (answers,)   P(a) = Σ_h P(a | h) P(h)
    return np.asarray(-np.add.reduceat(plog2p(answer), starts) - noise_bits @ belief, dtype=np.float64)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Usual:
    """What checks give where nothing listed is at work: the part that need not be stored for each hypothesis."""

    answer: Floats
    """(answers,) P(a | nothing listed)."""
    noise_bits: Floats
    """(checks,) H(A | nothing listed)."""


def gain_bits_beyond(
    belief: Floats, usual: Usual, strength: Matrix, noise_bits: Matrix, starts: NDArray[np.intp]
) -> Floats:
    """(checks,) the same from deviations from the usual only: the cost follows what authors wrote."""
    total = belief.sum()
    answer = usual.answer * total + strength @ belief  # P(a) = P(a | nothing) + Σ_h D(a, h) P(h)
    noise = usual.noise_bits * total + noise_bits @ belief
    return np.asarray(-np.add.reduceat(plog2p(answer), starts) - noise, dtype=np.float64)


def gain_on_classes_bits(joint: Floats) -> Floats:
    """(checks,) I(R; A) from `joint`, (checks, answers, classes) with each check summing to 1; unused answers are 0.

    >>> float(gain_on_classes_bits(np.array([[[0.5, 0.0], [0.0, 0.5]]]))[0])
    1.0
    """
    of_answers, of_classes = joint.sum(axis=2), joint.sum(axis=1)
    both = joint.reshape(len(joint), -1)
    return entropy_bits(of_classes) + entropy_bits(of_answers) - entropy_bits(both)


def edges_cut(joint: Floats) -> Floats:
    """(checks,) expected weight of the edges between different classes that the answer cuts; `joint` as above.

    >>> uneven = np.array([[[0.25, 0.25], [0.25, 0.25]]])     # one of two bits of which only both together decide
    >>> float(edges_cut(uneven)[0])
    0.1875
    """
    of_answers, of_classes = joint.sum(axis=2), joint.sum(axis=1)  # (checks, answers), (checks, classes)
    before = 0.5 * (of_classes.sum(axis=1) ** 2 - (of_classes**2).sum(axis=1))
    after = 0.5 * (of_answers**2 - (joint**2).sum(axis=2))  # (checks, answers)
    return np.asarray(before - (of_answers * after).sum(axis=1), dtype=np.float64)
