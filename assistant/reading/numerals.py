"""Numbers as people write them: digits, decimals with point or comma, thousands, fractions, words of both languages."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from assistant.reading.normalise import Token
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
_HALVED: Final = word_set("grados hora hour hours horas minuto minute minutes minutos dia day week semana")
_COUNTING: Final = frozenset({*_UNITS, *_TENS})
_TWO_DIGITS: Final = 100
_GROUP: Final = 3
_TEN: Final = 10
_NEAR: Final = 5
"""Two numbers side by side that differ by no more are a range: "60 62 ish"."""
_DECADE: Final = {"low": 2, "lower": 2, "mid": 5, "middle": 5, "high": 8, "upper": 8}


@dataclass(frozen=True, slots=True, kw_only=True)
class Numeral:
    """A number with its place, `[first, last)` in tokens."""

    value: float
    first: int
    last: int
    digits: bool
    """Written in digits."""
    exact: bool = True
    """False for ranges and decades ("mid 50s"), of which the middle was taken."""


def numerals_in(tokens: Sequence[Token]) -> tuple[Numeral, ...]:
    """Every number, in order.

    >>> from assistant.reading.normalise import tokens_of
    >>> [n.value for n in numerals_in(tokens_of("forty eight, 12,000 and 5,5; cincuenta y dos; 4 1/2; -3"))]
    [48.0, 12000.0, 5.5, 52.0, 4.5, -3.0]
    """
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
    return _ranges(tokens, _pointed(tokens, _with_halves(tokens, found)))


def _pointed(tokens: Sequence[Token], found: Sequence[Numeral]) -> list[Numeral]:
    """As in "Forty eight point five", "nueve punto cinco": one number."""
    kept: list[Numeral] = []
    for numeral in found:
        low = kept[-1] if kept else None
        point = low is not None and [t.word for t in tokens[low.last : numeral.first]] in (
            ["point"],
            ["punto"],
        )
        if low is not None and point and 0 <= numeral.value < _TEN:
            kept[-1] = Numeral(
                value=low.value + numeral.value / _TEN, first=low.first, last=numeral.last, digits=low.digits
            )
        else:
            kept.append(numeral)
    return kept


def _at(tokens: Sequence[Token], place: int) -> Numeral | None:
    token = tokens[place]
    if token.kind == "number":
        return _digits(tokens, place)
    if token.kind == "word":
        return _vague(tokens, place) or _spoken(tokens, place)
    return None


def _digits(tokens: Sequence[Token], place: int) -> Numeral | None:
    text = tokens[place].word
    if "/" in text or ":" in text:
        value = _fraction(text)
        return None if value is None else Numeral(value=value, first=place, last=place + 1, digits=True)
    value, last = _decimal(text), place + 1
    follow = tokens[last] if last < len(tokens) else None
    if follow is not None and follow.kind == "number" and "/" in follow.word:
        part = _fraction(follow.word)
        if part is not None and part < 1:
            return Numeral(value=value + part, first=place, last=last + 1, digits=True)
    if follow is not None and follow.word in {"k", "mil"} and value < 1000:  # noqa: PLR2004 - "12k", "12 mil"
        return Numeral(value=value * 1000, first=place, last=last + 1, digits=True)
    half = _half_after(tokens, last)
    if half:
        return Numeral(value=value + 0.5, first=place, last=last + 2, digits=True)
    if follow is not None and follow.word == "s" and follow.start == tokens[place].end and value % 10 == 0:
        return _decade(tokens, place, value)
    return Numeral(value=value, first=place, last=last, digits=True)


def _half_after(tokens: Sequence[Token], place: int) -> bool:
    words = [token.word for token in tokens[place : place + 2]]
    return words in (["y", "medio"], ["y", "media"])


def _with_halves(tokens: Sequence[Token], found: Sequence[Numeral]) -> list[Numeral]:
    """As in "9 grados y medio": the half stands after the unit."""
    return [
        Numeral(value=n.value + 0.5, first=n.first, last=n.last, digits=n.digits)
        if _half_after(tokens, n.last + 1)
        and n.value == int(n.value)
        and n.last < len(tokens)
        and tokens[n.last].word in _HALVED
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
    if words[:1] and words[0] in {"a", "an", "un", "una"} and words[1:2] and words[1] in _HALVED - {"grados"}:
        return Numeral(value=1.0, first=place, last=place + 1, digits=False)
    if words[:2] in (["a", "couple"], ["un", "par"]) or words[:1] == ["couple"]:
        last = place + (2 if words[0] in {"a", "un"} else 1)
        last += last < len(tokens) and tokens[last].word in {"of", "de"}
        return Numeral(value=2.0, first=place, last=last, digits=False, exact=False)
    alone = place == 0 or (tokens[place - 1].kind != "number" and tokens[place - 1].word not in _COUNTING)
    if alone and words[:1] and words[0] in _HALVED and words[1:3] in (["y", "media"], ["y", "medio"]):
        return Numeral(value=1.0, first=place, last=place, digits=False)
    return None


def _decade(tokens: Sequence[Token], place: int, value: float) -> Numeral:
    before = tokens[place - 1].word if place else ""
    return Numeral(
        value=value + _DECADE.get(before, 5), first=place, last=place + 2, digits=True, exact=False
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
        return Numeral(value=float(value), first=place, last=place + 1, digits=False, exact=False)
    if word not in _UNITS:
        return None
    follow = tokens[place + 1].word if place + 1 < len(tokens) else ""
    if follow in {"hundred", "mil", "thousand"}:
        return Numeral(value=float(_UNITS[word] * _LARGE[follow]), first=place, last=place + 2, digits=False)
    if _half_after(tokens, place + 1):
        return Numeral(value=_UNITS[word] + 0.5, first=place, last=place + 3, digits=False)
    return Numeral(value=float(_UNITS[word]), first=place, last=place + 1, digits=False)


def _tens(tokens: Sequence[Token], place: int) -> Numeral:
    value, last = _TENS[tokens[place].word], place + 1
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
        return Numeral(
            value=-numeral.value, first=numeral.first - 1, last=numeral.last, digits=numeral.digits
        )
    if after[:2] in (["bajo", "cero"], ["below", "zero"]):
        return Numeral(
            value=-numeral.value, first=numeral.first, last=numeral.last + 2, digits=numeral.digits
        )
    return numeral


def _is_sign(tokens: Sequence[Token], place: int) -> bool:
    """A hyphen is a minus where it touches the number and nothing touches it from before."""
    touches_number = tokens[place].end == tokens[place + 1].start
    return touches_number and (place == 0 or tokens[place - 1].end < tokens[place].start)


def _ranges(tokens: Sequence[Token], found: Sequence[Numeral]) -> tuple[Numeral, ...]:
    """As in "38-40", "between 50 and 55", "entre 50 y 55": one number, the middle."""
    kept: list[Numeral] = []
    for numeral in found:
        if kept and _is_range(tokens, kept[-1], numeral):
            low = kept.pop()
            middle = (low.value + numeral.value) / 2
            kept.append(
                Numeral(value=middle, first=low.first, last=numeral.last, digits=low.digits, exact=False)
            )
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
    return (before == "between" and between == ["and"]) or (before == "entre" and between == ["y"])
