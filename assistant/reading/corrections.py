"""Where a text takes something back: "no wait, 48 not 58", "perdón, 48", "*48"."""

from collections.abc import Sequence
from typing import Final

from assistant.reading import numerals
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
    found = _after_marker(tokens)
    for place in range(len(words)):
        if words[place] in _SORRY and place + 1 < len(words) and place > 0:
            found = place + 1
    for place in range(1, len(tokens) - 1):
        numbers = tokens[place - 1].kind == tokens[place + 1].kind == "number"
        if words[place] == "no" and numbers and words[0] in _WAITS:
            found = place + 1
    found = _after_plain_no(tokens) or found
    if words[:1] == ["*"] and len(words) > 1:
        found = 1
    return found if found is not None and found < len(words) else None


def _after_marker(tokens: Sequence[Token]) -> int | None:
    """The place after the last phrase of correction, marks inside it or not ("wait, no, 2")."""
    spoken = [place for place, token in enumerate(tokens) if token.kind != "mark"]
    words = [tokens[place].word for place in spoken]
    found: int | None = None
    for at in range(len(words)):
        for marker in _MARKERS:
            if tuple(words[at : at + len(marker)]) == marker:
                found = max(found or 0, spoken[at + len(marker) - 1] + 1)
    return found


def _after_plain_no(tokens: Sequence[Token]) -> int | None:
    """As in "tres, no, dos": a "no" between marks and two numbers."""
    for place in range(2, len(tokens) - 2):
        around = (tokens[place - 1], tokens[place + 1])
        numbers = (tokens[place - 2], tokens[place + 2])
        if (
            tokens[place].word == "no"
            and all(mark.kind == "mark" for mark in around)
            and all(one.kind == "number" or one.word in numerals.WORDS for one in numbers)
        ):
            return place + 1
    return None
