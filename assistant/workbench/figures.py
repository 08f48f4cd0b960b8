"""The figures of labelled sets as an author reads them: shares with their 95 % intervals, by language and by kind.

A share of counts has Wilson's score interval (E. B. Wilson, J. Amer. Statist. Assoc. 22 (1927) 209-212). F1 is no share
of counts; its interval is the middle 95 % of F1 over the same number of texts drawn again with replacement, 1,000 times
(B. Efron, Ann. Statist. 7 (1979) 1-26), seeded, so the same set gives the same figures.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt
from typing import Final

import numpy as np

from assistant.reading.score import Outcome, Part, TextScore

Z: Final = 1.959964
"""Of the normal distribution, two-sided 95 %."""
DRAWS: Final = 1000
LOW, HIGH = 2.5, 97.5
OUTCOMES: Final[tuple[Outcome, ...]] = ("right", "asked_again", "said_back_wrong", "silently_wrong")

COST: Final = {
    "hazards": (100, 8),
    "findings": (1, 4),
    "quantities": (1, 4),
    "complaints": (1, 2),
    "moves": (1, 2),
}
"""For sorting mistakes: how much worse than one question a thing missed, and one made up, is (ours)."""
REPLY_COST: Final[dict[Outcome, int]] = {
    "right": 0,
    "asked_again": 1,
    "said_back_wrong": 5,
    "silently_wrong": 50,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A value between 0 and 1 with its 95 % interval."""

    value: float
    low: float
    high: float

    def __str__(self) -> str:
        return f"{self.value:.3f} [{self.low:.2f} {self.high:.2f}]"


def share(hits: int, of: int) -> Figure | None:
    """A share of counts with Wilson's interval; None of nothing.

    >>> str(share(15, 15)), str(share(5, 10)), share(0, 0)
    ('1.000 [0.80 1.00]', '0.500 [0.24 0.76]', None)
    """
    if not of:
        return None
    p = hits / of
    middle = (p + Z * Z / (2 * of)) / (1 + Z * Z / of)
    half = Z / (1 + Z * Z / of) * sqrt(p * (1 - p) / of + Z * Z / (4 * of * of))
    return Figure(value=p, low=max(0.0, middle - half), high=min(1.0, middle + half))


def precision(texts: Sequence[TextScore], part: Part) -> Figure | None:
    """Of what was read, how much was meant."""
    return share(*_sums(texts, part, of_found=True))


def recall(texts: Sequence[TextScore], part: Part) -> Figure | None:
    """Of what was meant, how much was read."""
    return share(*_sums(texts, part, of_found=False))


def _sums(texts: Sequence[TextScore], part: Part, *, of_found: bool) -> tuple[int, int]:
    sides = [text.parts[part] for text in texts]
    hits = sum(len(meant & found) for meant, found in sides)
    return hits, sum(len(found if of_found else meant) for meant, found in sides)


def f1(texts: Sequence[TextScore], part: Part) -> Figure | None:
    """F1 with its interval over texts drawn again; None where nothing was meant and nothing read."""
    sides = [text.parts[part] for text in texts]
    counts = np.array([(len(m & f), len(m) + len(f)) for m, f in sides], dtype=np.float64)  # (texts, 2)
    if not len(counts) or not counts[:, 1].any():
        return None
    chance = np.random.default_rng(1)  # noqa: TID251 - seeded: the same interval each time
    drawn = chance.multinomial(len(counts), np.full(len(counts), 1 / len(counts)), DRAWS)
    sums = drawn @ counts  # (draws, 2)     F1 = 2 hits / (meant + found)
    again = 2 * sums[:, 0] / np.maximum(sums[:, 1], 1.0)
    low, high = np.percentile(again, (LOW, HIGH))
    value = 2 * counts[:, 0].sum() / counts[:, 1].sum()
    return Figure(value=float(value), low=float(low), high=float(high))


def replies(texts: Sequence[TextScore], outcome: Outcome) -> Figure | None:
    """The share of replies with this outcome."""
    answered = [text.reply for text in texts if text.reply is not None]
    return share(answered.count(outcome), len(answered))


def cost(text: TextScore) -> int:
    """How bad the differences of one text are, in questions."""
    total = 0 if text.reply is None else REPLY_COST[text.reply]
    for part, (meant, found) in text.parts.items():
        missed, made_up = COST[part]
        total += missed * len(meant - found) + made_up * len(found - meant)
    return total


def worst(texts: Sequence[TextScore], most: int = 20) -> tuple[TextScore, ...]:
    """The costliest texts, worst first; ties in the order of the set."""
    return tuple(text for text in sorted(texts, key=lambda text: -cost(text))[:most] if cost(text))
