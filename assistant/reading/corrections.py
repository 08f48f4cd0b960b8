"""Where a text takes something back: "no wait, 48 not 58", "perdón, 48", "*48"."""

from collections.abc import Sequence
from typing import Final

from assistant.reading.normalise import Token

_MARKERS: Final = tuple(
    tuple(phrase.split())
    for phrase in [
        "no wait",
        "wait no",
        "i mean",
        "i meant",
        "sorry i meant",
        "my bad",
        "my mistake",
        "correction",
        "scratch that",
        "strike that",
        "make that",
        "rather",
        "or rather",
        "actually",
        "oops",
        "i was wrong",
        "let me correct",
        "typo",
        "perdon",
        "mas bien",
        "quise decir",
        "digo",
        "mejor dicho",
        "me equivoque",
        "no espere",
        "corrijo",
        "correccion",
        "o sea no",
        "no perdon",
        "no mas bien",
        "disculpe",
    ]
)
_WAITS: Final = frozenset({"wait", "hold", "espere", "espera", "ay", "uy", "oh", "oops"})
_SORRY: Final = frozenset({"sorry", "oops", "ups"})


def corrected_from(tokens: Sequence[Token]) -> int | None:
    """The place of the first token after the last word of correction; None where nothing is taken back.

    >>> from assistant.reading.normalise import tokens_of
    >>> corrected_from(tokens_of("it is 58, no wait, 48"))
    6
    """
    words = [token.word for token in tokens]
    found: int | None = None
    for place in range(len(words)):
        for marker in _MARKERS:
            if tuple(words[place : place + len(marker)]) == marker:
                found = place + len(marker)
        if words[place] in _SORRY and place + 1 < len(words) and place > 0:
            found = place + 1
    for place in range(1, len(tokens) - 1):
        numbers = tokens[place - 1].kind == tokens[place + 1].kind == "number"
        if words[place] == "no" and numbers and words[0] in _WAITS:
            found = place + 1
    if words[:1] == ["*"] and len(words) > 1:
        found = 1
    return found if found is not None and found < len(words) else None
