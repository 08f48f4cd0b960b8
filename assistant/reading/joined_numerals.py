"""Several numbers that are one: ranges, feet with inches, "forty eight point five"."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from assistant.reading.normalise import Token
from assistant.reading.numeral import HALVED, HALVED_TOO, TEN, Numeral
from assistant.reading.wordsets import word_set

_FEET: Final = word_set("' ft foot feet pie pies")
_INCHES: Final = word_set('" in inch inches pulgada pulgadas')
_FOOT_IN: Final = 12
_NEAR: Final = 5
"""Two numbers side by side that differ by no more are a range: "60 62 ish"."""


def with_inches(tokens: Sequence[Token], found: Sequence[Numeral]) -> list[Numeral]:
    """As in "7'6", "7 ft 6 in", "7 pies 6 pulgadas": feet with a part of a foot."""
    kept: list[Numeral] = []
    for numeral in found:
        low = kept[-1] if kept else None
        if low is None or not _parts_a_foot(tokens, low, numeral):
            kept.append(numeral)
            continue
        last = numeral.last + (numeral.last < len(tokens) and tokens[numeral.last].word in _INCHES)
        kept[-1] = replace(low, value=low.value + numeral.value / _FOOT_IN, last=last, unit="ft")
    return kept


def _parts_a_foot(tokens: Sequence[Token], feet: Numeral, inches: Numeral) -> bool:
    between = [token.word for token in tokens[feet.last : inches.first]]
    if not between or between[0] not in _FEET or between[1:] not in ([], ["-"], ["and"], ["y"]):
        return False
    follow = tokens[inches.last] if inches.last < len(tokens) else None
    named = follow is not None and follow.word in _INCHES and (follow.word != "in" or between != ["'"])
    touches = between == ["'"] and tokens[feet.last].end == tokens[inches.first].start
    ends = follow is None or follow.word not in _FEET
    return feet.unit is None and 0 < inches.value < _FOOT_IN and (named or (touches and ends))


def pointed(tokens: Sequence[Token], found: Sequence[Numeral]) -> list[Numeral]:
    """As in "Forty eight point five", "nueve punto cinco": one number."""
    kept: list[Numeral] = []
    for numeral in found:
        low = kept[-1] if kept else None
        point = low is not None and [t.word for t in tokens[low.last : numeral.first]] in (
            ["point"],
            ["punto"],
        )
        if low is not None and point and 0 <= numeral.value < TEN:
            kept[-1] = Numeral(
                value=low.value + numeral.value / TEN, first=low.first, last=numeral.last, digits=low.digits
            )
        else:
            kept.append(numeral)
    return kept


def with_ranges(tokens: Sequence[Token], found: Sequence[Numeral]) -> tuple[Numeral, ...]:
    """As in "38-40", "between 50 and 55", "entre 50 y 55": one number, the middle."""
    kept: list[Numeral] = []
    for numeral in found:
        if kept and _is_range(tokens, kept[-1], numeral):
            low = kept.pop()
            middle = (low.value + numeral.value) / 2
            before = tokens[low.first - 1].word if low.first else ""
            first = low.first - (before in {"between", "entre"})
            kept.append(replace(numeral, value=middle, first=first, digits=low.digits, exact=False))
        else:
            kept.append(numeral)
    return tuple(kept)


def _is_range(tokens: Sequence[Token], low: Numeral, high: Numeral) -> bool:
    between = [token.word for token in tokens[low.last : high.first]]
    before = tokens[low.first - 1].word if low.first else ""
    if not 0 < high.value - low.value <= max(10.0, abs(low.value)):
        return False
    if between == ["-"] or (not between and low.digits and high.value - low.value <= _NEAR):
        return True
    if before in {"between", "entre"} and between in (["and"], ["y"]):
        return True
    follow = tokens[high.last].word if high.last < len(tokens) else ""
    tens = low.value > TEN or follow in HALVED | HALVED_TOO - {"degrees"}
    near = high.value - low.value <= _NEAR and tens and before not in {"from", "de"}
    return near and between in (["or"], ["o"], ["to"], ["maybe"])
