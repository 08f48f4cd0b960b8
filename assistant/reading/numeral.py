"""One number as a person writes it, with its place."""

from dataclasses import dataclass
from typing import Final

from assistant.reading.wordsets import word_set

HALVED: Final = word_set("grados hora hour hours horas minuto minute minutes minutos dia day week semana")
HALVED_TOO: Final = word_set(
    "ton tons tonelada toneladas foot feet ft pie pies metro metros inch inches pulgada pulgadas degrees"
)
"""Of these "a" alone is no number: "a ton of boxes"."""
TEN: Final = 10


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
    unit: str | None = None
    """A unit that stands inside ("7'6\"" is 7.5 ft)."""
