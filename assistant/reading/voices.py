"""Two voices on one claim: what was composed from its words, and what the ear finds it like; one probability of both.

Composition knows grammar and misses what no list foresaw; the ear knows many wordings and no grammar. Where both speak,
a claim is nearly always right; where one speaks alone, how often it is right was counted on labelled texts (`helpline kb
listen` fits the coefficients, one logistic curve a kind of claim).
"""

from collections.abc import Mapping, Sequence
from typing import Final

import numpy as np

from assistant.reading.ear import Like
from kb.ear import Floats

UNHEARD: Final = Like("", "", "", -1.3, -1.5, 3, 0, 0, 0)
"""What stands for a label that no stretch of the text speaks for."""
_SHIFT: Final = 1.2
SIGNS: Final = 19
_GRAMMAR: Final = frozenset({"pair", "carried", "echo", "state"})
_MANY: Final = 4


def signs_of(
    composed: float,
    like: Like | None,
    *,
    rival: float = 0.0,
    rival_like: float = UNHEARD.score,
    unreal: bool = False,
    harmless: bool = False,
    replying: bool = False,
    source: str = "",
    denied: bool = False,
    unknown: int = 0,
) -> Floats:
    """(SIGNS,): everything by which a claim is judged, the constant 1 last.

    `composed` is the confidence of composition, 0 where it made nothing; `rival` that of another claim that excludes
    this one, `rival_like` the ear's score of such a one; `unreal` where the stretch is asked, supposed or past;
    `harmless` where a figure of speech stands there; `source` and `denied` tell how it was composed, and `unknown` how
    many words of its statement composition made nothing of: a weak claim among strange words is seldom right.
    """
    heard = like or UNHEARD
    return np.array(
        [
            composed,
            float(composed > 0),
            heard.score,
            heard.ahead,
            float(heard.place),
            float(like is not None),
            composed * (heard.score + _SHIFT),
            rival,
            rival_like,
            float(unreal),
            float(harmless),
            float(heard.segments == 1),
            float(replying),
            float(source == "saying"),
            float(source in _GRAMMAR),
            float(denied),
            min(unknown, _MANY) / _MANY,
            composed * (unknown == 0),
            1.0,
        ]
    )


def belief(coefficients: Floats, signs: Floats) -> float:
    """The probability that a claim with these signs is right.

    >>> belief(np.array([0.0, 2.0]), np.array([5.0, 0.0]))
    0.5
    """
    return float(1.0 / (1.0 + np.exp(-float(coefficients @ signs))))


def by_label(likes: Sequence[Like], kind: str) -> Mapping[tuple[str, str], Like]:
    """The likes of one kind, by id and state."""
    return {(like.id, like.state): like for like in likes if like.kind == kind}
