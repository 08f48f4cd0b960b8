"""Options that offer a span of time ("1 to 3 minutes"), and a number as the answer where a number is an option."""

from collections.abc import Sequence
from functools import lru_cache
from math import inf
from typing import Final

from assistant.reading.normalise import tokens_of
from assistant.reading.numerals import numerals_apart
from assistant.reading.said import Option
from assistant.reading.units import measured, si_of
from assistant.reading.wordsets import word_set

_UNDER: Final = word_set("under menos less")
_OVER: Final = word_set("more over mas")
_LEAST_S: Final = 1.0
_SHOWS_NUMBER: Final = word_set("temperature number numbers temperatura numero numeros grados degrees")


def option_for_duration(options: tuple[Option, ...], seconds: float) -> str | None:
    """The one option whose label's span of time holds `seconds`.

    >>> runs = (Option(value="short", label="1 to 3 minutes"), Option(value="usual", label="4 minutes to an hour"))
    >>> option_for_duration(runs, 90.0)
    'short'
    """
    holding = [value for value, (low, high) in _spans(options) if low <= seconds <= high]
    return holding[0] if len(holding) == 1 else None


@lru_cache(maxsize=256)
def _spans(options: tuple[Option, ...]) -> tuple[tuple[str, tuple[float, float]], ...]:
    found = []
    for option in options:
        seconds = seconds_in(option.label)
        words = {token.word for token in tokens_of(option.label)}
        if len(seconds) > 1:
            found.append((option.value, (min(seconds), max(seconds))))
        elif seconds and _UNDER & words:
            found.append((option.value, (0.0, seconds[0] - _LEAST_S)))
        elif seconds and _OVER & words:
            found.append((option.value, (seconds[0], inf)))
    return tuple(found)


def seconds_in(text: str) -> tuple[float, ...]:
    """Every duration of a text, in seconds; a number without a unit takes that of the next one ("1 to 3 minutes")."""
    tokens = tokens_of(text)
    found: list[float] = []
    waiting: list[float] = []
    for numeral in numerals_apart(tokens):
        known = measured(tokens, numeral)
        if known.dimension == "duration" and known.unit is not None:
            found.extend(si_of(value, known.unit) or 0.0 for value in (*waiting, numeral.value))
            waiting = []
        elif known.dimension is None:
            waiting.append(numeral.value)
    return tuple(found)


def option_for_number(options: Sequence[Option]) -> str | None:
    """The option that offers a number ("it shows a temperature"), where exactly one does."""
    fits = [option.value for option in options if _SHOWS_NUMBER & {t.word for t in tokens_of(option.label)}]
    return fits[0] if len(fits) == 1 else None
