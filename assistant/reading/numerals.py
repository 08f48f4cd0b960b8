"""Numbers as people write them: digits, decimals with point or comma, thousands, fractions, words of both languages."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from assistant.reading.joined_numerals import pointed, with_inches, with_ranges
from assistant.reading.normalise import Token
from assistant.reading.numeral import HALVED, HALVED_TOO, TEN, Numeral
from assistant.reading.wordsets import word_set

_UNITS: Final = {
    "zero": 0, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9,
    "ten": 10, "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16,
    "seventeen": 17, "eighteen": 18, "nineteen": 19, "cero": 0, "uno": 1, "dos": 2, "tres": 3, "cuatro": 4,
    "cinco": 5, "seis": 6, "siete": 7, "ocho": 8, "nueve": 9, "diez": 10, "once": 11, "doce": 12, "trece": 13,
    "catorce": 14, "quince": 15, "dieciseis": 16, "diecisiete": 17, "dieciocho": 18, "diecinueve": 19,
    "veintiuno": 21, "veintidos": 22, "veintitres": 23, "veinticuatro": 24, "veinticinco": 25, "veintiseis": 26,
    "veintisiete": 27, "veintiocho": 28, "veintinueve": 29,
}  # fmt: skip
_TENS: Final = {
    "twenty": 20, "thirty": 30, "forty": 40, "fourty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80,
    "ninety": 90, "veinte": 20, "treinta": 30, "cuarenta": 40, "cincuenta": 50, "sesenta": 60, "setenta": 70,
    "ochenta": 80, "noventa": 90,
}  # fmt: skip
_LARGE: Final = {"hundred": 100, "thousand": 1000, "cien": 100, "ciento": 100, "mil": 1000}
_SPOKEN_DECADES: Final = {"twenties": 25, "thirties": 35, "forties": 45, "fifties": 55, "sixties": 65}
WORDS: Final = frozenset(
    {*_UNITS, *_TENS, *_LARGE, *_SPOKEN_DECADES, "half", "medio", "media", "minus", "below", "menos"}
)
_RATED: Final = word_set("degrees degree grados times veces once twice")
"""Before "a day" they make it a rate."""
_GAUGES: Final = frozenset({8, 10, 12, 14, 16, 18})
_STRANDS: Final = frozenset({2, 3, 4})
"""As in "12/3": the gauge of a cord and how many wires it has."""
_ORDINALS: Final = word_set("st nd rd th ro er do vo mo")
_AND_MORE: Final = (
    ("y", "tantos"),
    ("y", "pico"),
    ("y", "algo"),
    ("something",),
    ("odd",),
    ("-", "something"),
)
_ALLOWED_BEFORE: Final = word_set("sp at to set temp a x")
_COUNTING: Final = frozenset({*_UNITS, *_TENS})
_TWO_DIGITS: Final = 100
_GROUP: Final = 3
_DECADE: Final = {"low": 2, "lower": 2, "mid": 5, "middle": 5, "high": 8, "upper": 8}


def numerals_in(tokens: Sequence[Token]) -> tuple[Numeral, ...]:
    """Every number, in order.

    >>> from assistant.reading.normalise import tokens_of
    >>> [n.value for n in numerals_in(tokens_of("forty eight, 12,000 and 5,5; cincuenta y dos; 4 1/2; -3"))]
    [48.0, 12000.0, 5.5, 52.0, 4.5, -3.0]
    """
    return with_ranges(tokens, numerals_apart(tokens))


def numerals_apart(tokens: Sequence[Token]) -> list[Numeral]:
    """Every number, both ends of a range for themselves ("1 to 3 minutes")."""
    found: list[Numeral] = []
    place = 0
    while place < len(tokens):
        numeral = _at(tokens, place)
        if numeral is None:
            place += 1
            continue
        signed = _signed(tokens, numeral)
        found.append(signed)
        place = max(signed.last, place + 1)
    return with_inches(tokens, pointed(tokens, _with_halves(tokens, found)))


def _at(tokens: Sequence[Token], place: int) -> Numeral | None:
    token = tokens[place]
    if token.kind == "number":
        return None if _is_part_of_a_name(tokens, place) else _digits(tokens, place)
    if token.kind == "word":
        return _vague(tokens, place) or _spoken(tokens, place)
    return None


def _is_part_of_a_name(tokens: Sequence[Token], place: int) -> bool:
    """As in "14th", "R410": no number of anything."""
    before = tokens[place - 1] if place else None
    after = tokens[place + 1] if place + 1 < len(tokens) else None
    touching = before is not None and before.kind == "word" and before.end == tokens[place].start
    named = touching and before is not None and before.word not in _ALLOWED_BEFORE
    ordinal = after is not None and after.word in _ORDINALS and after.start == tokens[place].end
    return named or ordinal


def _digits(tokens: Sequence[Token], place: int) -> Numeral | None:
    text = tokens[place].word
    if "/" in text or ":" in text:
        return _over(text, place)
    value, last = _decimal(text), place + 1
    follow = tokens[last] if last < len(tokens) else None
    if follow is not None and follow.kind == "number" and "/" in follow.word:
        part = _fraction(follow.word)
        if part is not None and part < 1:
            return Numeral(value=value + part, first=place, last=last + 1, digits=True)
    if follow is not None and follow.word in {"k", "mil", "thousand"} and value < 1000:  # noqa: PLR2004 - "12k", "12 mil"
        return Numeral(value=value * 1000, first=place, last=last + 1, digits=True)
    half = _half_after(tokens, last)
    if half:
        return Numeral(value=value + 0.5, first=place, last=last + half, digits=True)
    more = _more_after(tokens, last)
    if more and value % TEN == 0:
        return Numeral(value=value + 5, first=place, last=last + more, digits=True, exact=False)
    if follow is not None and follow.word == "s" and follow.start == tokens[place].end and value % 10 == 0:
        return _decade(tokens, place, value)
    return Numeral(value=value, first=place, last=last, digits=True)


def _over(text: str, place: int) -> Numeral | None:
    """As in "3/4", or "12/3" of a cord; dates, "24/7" and clock times are no numbers."""
    over, _, under = text.partition("/")
    if over.isdecimal() and under.isdecimal() and int(over) in _GAUGES and int(under) in _STRANDS:
        return Numeral(value=float(over), first=place, last=place + 1, digits=True, unit="awg")
    value = _fraction(text)
    small = value is not None and 0 < value < 1
    return (
        Numeral(value=value, first=place, last=place + 1, digits=True)
        if small and value is not None
        else None
    )


def _half_after(tokens: Sequence[Token], place: int) -> int:
    """Tokens of a half that follows: "y medio", "and a half"; else 0."""
    words = [token.word for token in tokens[place : place + 3]]
    if words[:2] in (["y", "medio"], ["y", "media"]):
        return 2
    return 3 if words == ["and", "a", "half"] else 0


def _more_after(tokens: Sequence[Token], place: int) -> int:
    """Tokens of "and something" that follow a ten ("cuarenta y tantos"); else 0."""
    words = tuple(token.word for token in tokens[place : place + 2])
    return max((len(more) for more in _AND_MORE if words[: len(more)] == more), default=0)


def _with_halves(tokens: Sequence[Token], found: Sequence[Numeral]) -> list[Numeral]:
    """As in "9 grados y medio": the half stands after the unit."""
    return [
        replace(n, value=n.value + 0.5)
        if _half_after(tokens, n.last + 1)
        and n.value == int(n.value)
        and n.last < len(tokens)
        and tokens[n.last].word in HALVED | HALVED_TOO
        else n
        for n in found
    ]


def _vague(tokens: Sequence[Token], place: int) -> Numeral | None:
    """As in "An hour", "half an hour", "media hora", "hora y media", "a couple minutes"."""
    words = [token.word for token in tokens[place : place + 4]]
    if words[:1] == ["half"] and words[1:3] in (["an", "hour"], ["a", "minute"]):
        return Numeral(value=0.5, first=place, last=place + 2, digits=False)
    if words[:1] == ["media"] and words[1:2] == ["hora"]:
        return Numeral(value=0.5, first=place, last=place + 1, digits=False)
    if words[:1] and words[0] in {"a", "an", "un", "una"} and words[1:2]:
        half = words[1] in HALVED_TOO and _half_after(tokens, place + 2)
        rate = place > 0 and tokens[place - 1].word in _RATED
        if (words[1] in HALVED - {"grados"} and not rate) or half:
            return Numeral(value=1.0, first=place, last=place + 1, digits=False)
    if words[:2] in (["a", "couple"], ["un", "par"]) or words[:1] == ["couple"]:
        last = place + (2 if words[0] in {"a", "un"} else 1)
        last += last < len(tokens) and tokens[last].word in {"of", "de"}
        return Numeral(value=2.0, first=place, last=last, digits=False, exact=False)
    counted = _COUNTING | {"a", "an", "un", "una"}
    alone = place == 0 or (tokens[place - 1].kind != "number" and tokens[place - 1].word not in counted)
    if alone and words[:1] and words[0] in HALVED | {"tonelada"} and _half_after(tokens, place + 1):
        return Numeral(value=1.0, first=place, last=place, digits=False)
    return None


def _decade(tokens: Sequence[Token], place: int, value: float) -> Numeral:
    before = tokens[place - 1].word if place else ""
    first = place - (before in _DECADE)
    return Numeral(
        value=value + _DECADE.get(before, 5), first=first, last=place + 2, digits=True, exact=False
    )


def _decimal(text: str) -> float:
    """Comma or point: thousands before exactly three digits, decimals else."""
    whole, mark, part = text.rpartition("," if "," in text else ".")
    if not mark:
        return float(text)
    digits = whole.replace(",", "").replace(".", "")
    thousands = len(part) == _GROUP and len(digits) <= _GROUP and digits != "0" and mark == ","
    if thousands or text.count(mark) > 1:
        return float(digits + part)
    return float(f"{digits or 0}.{part}")


def _fraction(text: str) -> float | None:
    over, mark, under = text.partition("/")
    if not mark or not over.isdecimal() or not under.isdecimal() or int(under) == 0:
        return None
    return int(over) / int(under)


def _spoken(tokens: Sequence[Token], place: int) -> Numeral | None:
    word = tokens[place].word
    if word in _TENS:
        return _tens(tokens, place)
    if word in _LARGE:
        return _hundreds(tokens, place)
    if word in _SPOKEN_DECADES:
        before = tokens[place - 1].word if place else ""
        value = _SPOKEN_DECADES[word] - 5 + _DECADE.get(before, 5)
        first = place - (before in _DECADE)
        return Numeral(value=float(value), first=first, last=place + 1, digits=False, exact=False)
    if word not in _UNITS:
        return None
    follow = tokens[place + 1].word if place + 1 < len(tokens) else ""
    if follow in {"hundred", "mil", "thousand"}:
        return Numeral(value=float(_UNITS[word] * _LARGE[follow]), first=place, last=place + 2, digits=False)
    half = _half_after(tokens, place + 1)
    if half:
        return Numeral(value=_UNITS[word] + 0.5, first=place, last=place + 1 + half, digits=False)
    return Numeral(value=float(_UNITS[word]), first=place, last=place + 1, digits=False)


def _tens(tokens: Sequence[Token], place: int) -> Numeral:
    value, last = _TENS[tokens[place].word], place + 1
    more = _more_after(tokens, last)
    if more:
        return Numeral(value=float(value + 5), first=place, last=last + more, digits=False, exact=False)
    if last < len(tokens) and tokens[last].word in {"y", "-"}:
        last += 1
    if last < len(tokens) and 0 < _UNITS.get(tokens[last].word, 0) < 10:  # noqa: PLR2004 - a unit after a ten
        return Numeral(
            value=float(value + _UNITS[tokens[last].word]), first=place, last=last + 1, digits=False
        )
    return Numeral(value=float(value), first=place, last=place + 1, digits=False)


def _hundreds(tokens: Sequence[Token], place: int) -> Numeral:
    value = _LARGE[tokens[place].word]
    rest = _spoken(tokens, place + 1) if place + 1 < len(tokens) else None
    if rest is not None and rest.value < _TWO_DIGITS and value == _TWO_DIGITS:
        return Numeral(value=value + rest.value, first=place, last=rest.last, digits=False)
    return Numeral(value=float(value), first=place, last=place + 1, digits=False)


def _signed(tokens: Sequence[Token], numeral: Numeral) -> Numeral:
    before = tokens[numeral.first - 1] if numeral.first else None
    after = [token.word for token in tokens[numeral.last : numeral.last + 2]]
    minus = before is not None and (
        before.word in {"minus", "menos", "negative"}
        or (before.word == "-" and _is_sign(tokens, numeral.first - 1))
    )
    if minus:
        return replace(numeral, value=-numeral.value, first=numeral.first - 1)
    if after[:2] in (["bajo", "cero"], ["below", "zero"]):
        return replace(numeral, value=-numeral.value, last=numeral.last + 2)
    return numeral


def _is_sign(tokens: Sequence[Token], place: int) -> bool:
    """A hyphen is a minus where it touches the number and nothing touches it from before."""
    touches_number = tokens[place].end == tokens[place + 1].start
    return touches_number and (place == 0 or tokens[place - 1].end < tokens[place].start)
