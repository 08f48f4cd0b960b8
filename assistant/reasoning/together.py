"""Two causes in one finding: what is seen when both are at work.

    usual     P(s | no listed cause)       a, b     P(s | only this cause, background included): Henrion's reading

Henrion, "Some practical issues in constructing belief networks" (UAI 1987); Díez, "Parameter adjustment in Bayes
networks: the generalized noisy OR-gate" (UAI 1993). The two-sided rule and the sharing of the rest are ours.
"""

import numpy as np

from kb.compiling import Floats, Shows

TWO_STATES = 2


def together(shows: Shows) -> Floats:
    """(rows, rows, states) P(s | cause, other): row 0 stands for a cause that does not mention the finding.

    Which rule holds follows from the states: nothing normal, worse and worse, too low and too high, or unordered.
    """
    rows = np.concatenate([shows.background[None, :], shows.strength])
    a, b, usual = rows[:, None, :], rows[None, :, :], shows.background
    if shows.normal is None:
        both = _both_allow(a, b, usual)
    elif _worse_and_worse(shows):
        both = _noisy_max(a, b, usual, from_the_end=shows.normal != 0)
    elif shows.ordered and len(shows.states) > TWO_STATES:
        both = _two_sided(a, b, usual, shows.normal)
    else:
        both = _noisy_or(a, b, usual, shows.normal)
    both[0, :], both[:, 0] = rows, rows  # a cause that does not mention it changes nothing of the other's
    return both


def _worse_and_worse(shows: Shows) -> bool:
    return shows.ordered and len(shows.states) > TWO_STATES and shows.normal in (0, len(shows.states) - 1)


def _noisy_or(a: Floats, b: Floats, usual: Floats, normal: int) -> Floats:
    n_a = np.minimum(1.0, a[..., normal] / usual[normal])  # a cause below the background does not prevent
    n_b = np.minimum(1.0, b[..., normal] / usual[normal])
    return _with_rest(usual[normal] * n_a * n_b, a, b, usual, normal)  # P(n) = P(n|·) · Π P(n|c) / P(n|·)


def _two_sided(a: Floats, b: Floats, usual: Floats, normal: int) -> Floats:
    both = a[..., normal] * b[..., normal] / usual[normal]  # P(n|a,b) = min(1, P(n|a) P(n|b) / P(n|·))
    most = np.maximum(np.maximum(a[..., normal], b[..., normal]), usual[normal])
    return _with_rest(np.minimum(most, both), a, b, usual, normal)


def _noisy_max(a: Floats, b: Floats, usual: Floats, *, from_the_end: bool) -> Floats:
    if from_the_end:
        return _noisy_max(a[..., ::-1], b[..., ::-1], usual[::-1], from_the_end=False)[..., ::-1]
    up_to = np.cumsum(usual)  # P(X <= s | ·)
    r_a = np.minimum(1.0, np.cumsum(a, axis=-1) / up_to)
    r_b = np.minimum(1.0, np.cumsum(b, axis=-1) / up_to)
    both = np.maximum.accumulate(
        up_to * r_a * r_b, axis=-1
    )  # P(X <= s | a,b) = P(<=|·) · Π P(<=|c) / P(<=|·)
    return _above_nought(np.diff(both, axis=-1, prepend=0.0), a, b)


def _both_allow(a: Floats, b: Floats, usual: Floats) -> Floats:
    return _above_nought(a * b / usual, a, b)  # no state is normal: both must allow it


def _with_rest(p_normal: Floats, a: Floats, b: Floats, usual: Floats, normal: int) -> Floats:
    """The normal state's share given, the rest split by the excesses over the background."""
    rest = np.maximum(a + b - usual, np.minimum(a, b))  # usual + (a − usual) + (b − usual)
    rest[..., normal] = 0.0
    rest *= ((1.0 - p_normal) / rest.sum(axis=-1))[..., None]
    rest[..., normal] = p_normal
    return _above_nought(rest, a, b)


def _above_nought(both: Floats, a: Floats, b: Floats) -> Floats:
    """No state becomes impossible because two causes meet: at least a hundredth of the lesser."""
    both = np.maximum(both, 0.01 * np.minimum(a, b))
    return np.asarray(both / both.sum(axis=-1, keepdims=True), dtype=np.float64)
