"""Clock times and "ago" in a text: what a number was read off at, so that no clock time is taken for a temperature."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from assistant.reading.normalise import Token
from assistant.reading.numeral import Numeral
from assistant.reading.units import measured
from assistant.reading.wordsets import word_set

_NOON: Final = {"noon": "12:00", "mediodia": "12:00", "midnight": "00:00", "medianoche": "00:00"}
_HALF_DAY: Final = 12
_HOURS: Final = 24
_TWO_DIGITS: Final = 10
_AT: Final = word_set("at around by since about")
_DEEDS: Final = word_set(
    "in pickup delivery wedding market service party me you us back call text here there come open close opened closed start started starts left quit"
)
"""Words before "at 5" that make it an hour with no other number said."""
_COUNTED: Final = word_set(
    "one two three four five six seven eight nine ten eleven twelve feet foot ft dos tres cuatro cinco seis"
)
_AFTERNOON: Final = word_set("afternoon evening night tonight tarde noche")
_MORNING: Final = word_set("morning manana madrugada")
_LOOK: Final = 4
_AGO_UNITS: Final = {"min": "PT{}M", "h": "PT{}H", "d": "P{}D", "wk": "P{}W"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Moment:
    """A time said, `[first, last)` in tokens: "14:00" (24 h), "2:00" or "11:00?" where its half of the day is open, or "-PT2H"."""

    at: str
    first: int
    last: int


def moments_in(tokens: Sequence[Token], numerals: Sequence[Numeral]) -> tuple[Moment, ...]:
    """Every clock time and every "ago", in order.

    >>> from assistant.reading.normalise import tokens_of
    >>> from assistant.reading.numerals import numerals_in
    >>> def times(text):
    ...     tokens = tokens_of(text)
    ...     return [moment.at for moment in moments_in(tokens, numerals_in(tokens))]
    >>> times("at 2 it was 58, at 4:30 pm 52"), times("a las 3 de la tarde"), times("2 hours ago")
    (['2:00', '16:30'], ['15:00'], ['-PT2H'])
    """
    found = sorted(_moments(tokens, numerals), key=lambda moment: moment.first)
    return tuple(sorted([*found, *_openings(tokens, numerals, found)], key=lambda moment: moment.first))


def _openings(
    tokens: Sequence[Token], numerals: Sequence[Numeral], found: Sequence[Moment]
) -> Iterator[Moment]:
    """As in "from 2 to 6 am": the first is an hour as well."""
    begins = {moment.first for moment in found}
    for numeral in numerals:
        parted = numeral.last < len(tokens) and tokens[numeral.last].word in _TILL
        if (
            parted
            and numeral.last + 1 in begins
            and numeral.first not in begins
            and numeral.value <= _HALF_DAY
        ):
            yield Moment(at=_spelled(int(numeral.value), "00", None), first=numeral.first, last=numeral.last)


_TILL: Final = word_set("to till until - hasta a")


def _moments(tokens: Sequence[Token], numerals: Sequence[Numeral]) -> Iterator[Moment]:
    for place, token in enumerate(tokens):
        if token.word in _NOON:
            yield Moment(at=_NOON[token.word], first=place, last=place + 1)
        elif token.kind == "number" and ":" in token.word:
            moment = _written(tokens, place)
            if moment is not None:
                yield moment
    for numeral in numerals:
        moment = _ago(tokens, numeral) or _hour(tokens, numeral, others=len(numerals) > 1)
        if moment is not None:
            yield moment


def _written(tokens: Sequence[Token], place: int) -> Moment | None:
    hour, _, minute = tokens[place].word.partition(":")
    minute = minute[:2]
    if not minute.isdecimal() or int(hour) > _HOURS:
        return None
    half, last = _half_of_day(tokens, place + 1)
    return Moment(at=_spelled(int(hour), minute, half), first=place, last=last)


def _hour(tokens: Sequence[Token], numeral: Numeral, *, others: bool) -> Moment | None:
    if (
        numeral.value != int(numeral.value)
        or not 0 < numeral.value <= _HOURS
        or tokens[numeral.first].word.count(":")
    ):
        return None
    half, last = _half_of_day(tokens, numeral.last)
    before = [token.word for token in tokens[max(0, numeral.first - 2) : numeral.first]]
    spanish = (
        before[-1:] in (["las"], ["la"])
        and before[:1] in (["a"], ["desde"], ["como"], ["de"], ["tipo"])
        and len(before) > 1
    )
    small = numeral.value <= _HALF_DAY
    named_unit = measured(tokens, numeral).dimension is not None
    english = small and not named_unit and before[-1:] != [] and before[-1] in _AT
    english = english and _opens_an_hour(tokens, numeral.first - 2, others=others, by=before[-1:] == ["by"])
    clock = last < len(tokens) and tokens[last].word in {"o'clock", "oclock"}
    if half is None and not (small and spanish) and not english and not clock:
        return None
    if half is not None and not small:
        return None
    return Moment(at=_spelled(int(numeral.value), "00", half), first=numeral.first, last=last + clock)


def _opens_an_hour(tokens: Sequence[Token], place: int, *, others: bool, by: bool) -> bool:
    """What stands before "at 2": nothing, a mark, another number ("58 at 2") or a deed ("call me at 5").

    Never a thing that may be at 2 degrees, and before "by" no number, which makes a size.
    """
    if place > 0 and tokens[place].word in {"is", "are", "starts"} and tokens[place - 1].word in _DEEDS:
        return True  # "pickup is at 3"
    if place < 0:
        return others
    token = tokens[place]
    if token.kind == "number" or token.word in _COUNTED:
        return others and not by
    return token.word in _DEEDS or (others and (token.kind == "mark" or token.word in _STARTS))


_STARTS: Final = word_set("and then but so f c degrees degree it's yesterday today y pero around about")


def _half_of_day(tokens: Sequence[Token], place: int) -> tuple[str | None, int]:
    words = [token.word for token in tokens[place : place + _LOOK]]
    if words[:1] in (["am"], ["pm"]):
        return words[0], place + 1
    if len(words) >= 2 and words[0] in {"a", "p"} and words[1] == "m":  # noqa: PLR2004 - "p m"
        return words[0] + "m", place + 2
    if len(words) >= 3 and words[0] in {"a", "p"} and words[1:3] == [".", "m"]:  # noqa: PLR2004 - "p.m."
        return words[0] + "m", place + 3 + (words[3:4] == ["."])
    if words[:2] in (
        ["in", "the"],
        ["de", "la"],
        ["en", "la"],
        ["this", "morning"],
        ["this", "afternoon"],
        ["at", "night"],
        ["last", "night"],
    ):
        for step, word in enumerate(words):
            if word in _AFTERNOON:
                return "pm", place + step + 1
            if word in _MORNING:
                return "am", place + step + 1
    return None, place


def _spelled(hour: int, minute: str, half: str | None) -> str:
    if half == "pm" and hour < _HALF_DAY:
        hour += _HALF_DAY
    if half == "am" and hour == _HALF_DAY:
        hour = 0
    sure = half is not None or hour > _HALF_DAY
    if sure:
        return f"{hour:02d}:{minute}"
    return f"{hour}:{minute}?" if hour >= _TWO_DIGITS else f"{hour}:{minute}"


def _ago(tokens: Sequence[Token], numeral: Numeral) -> Moment | None:
    known = measured(tokens, numeral)
    form = _AGO_UNITS.get(known.unit or "")
    if form is None:
        return None
    after = [token.word for token in tokens[known.last : known.last + 2]]
    before = [token.word for token in tokens[max(0, known.first - 2) : known.first]]
    if "ago" in after or after[:1] == ["atras"] or "hace" in before:
        return Moment(at="-" + form.format(f"{numeral.value:g}"), first=known.first, last=known.last)
    return None
