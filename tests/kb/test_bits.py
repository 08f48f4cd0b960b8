"""How far an answer tells two causes apart, against a general-purpose library."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial.distance import jensenshannon

from kb.linting.not_told_apart import LEAST_BITS, bits_between

Shares = st.lists(st.floats(0.01, 1.0), min_size=4, max_size=4).map(lambda xs: np.array(xs) / sum(xs))


@given(one=Shares, other=Shares)
def test_bits_at_equal_odds_are_the_divergence_of_jensen_and_shannon(
    one: np.ndarray[tuple[int], np.dtype[np.float64]], other: np.ndarray[tuple[int], np.dtype[np.float64]]
) -> None:
    # mutual information of a fair choice and its answer (Lin, IEEE Trans. Inf. Theory 37, 1991, eq. 4.1); scipy gives its root
    assert bits_between(one, other) == pytest.approx(jensenshannon(one, other, base=2) ** 2, abs=1e-12)


def test_neighbouring_words_do_not_tell_two_causes_apart_and_opposite_ones_do() -> None:
    usually, often, rarely = (np.array([share, 1 - share]) for share in (0.77, 0.67, 0.10))

    assert bits_between(usually, often) < LEAST_BITS < bits_between(usually, rarely)
