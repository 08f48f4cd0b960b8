"""What a sum says when a number cannot be: which one, what it may be, how to mend it. Never a silent clamp."""

from collections.abc import Mapping
from typing import TypeVar

Key = TypeVar("Key")
Value = TypeVar("Value")


class OutOfRangeError(ValueError):
    """A number outside what the sum holds for; the text is written for whoever typed it."""


def in_range(what: str, value: float, low: float, high: float, unit: str = "", *, mend: str = "") -> float:
    """`value` itself, if it lies from `low` to `high`.

    Fails with `OutOfRangeError` outside, and for a number that is none (NaN).

    >>> in_range("room temperature", 4.0, -40.0, 60.0, "°C")
    4.0
    >>> in_range("room temperature", 400.0, -40.0, 60.0, "°C")
    Traceback (most recent call last):
    ...
    assistant.engineering.errors.OutOfRangeError: room temperature is 400 °C, outside -40 to 60 °C; check it and its unit
    """
    if low <= value <= high:
        return value
    space = f" {unit}" if unit else ""
    raise OutOfRangeError(
        f"{what} is {value:g}{space}, outside {low:g} to {high:g}{space}; {mend or 'check it and its unit'}"
    )


def row_of(what: str, key: Key, table: Mapping[Key, Value]) -> Value:
    """The row of `table` under `key`.

    Fails with `OutOfRangeError` that lists what there is.

    >>> row_of("gauge", 13, {12: 1.98, 14: 3.14})
    Traceback (most recent call last):
    ...
    assistant.engineering.errors.OutOfRangeError: gauge 13 is not in the table; there are 12, 14
    """
    if key not in table:
        raise OutOfRangeError(
            f"{what} {key} is not in the table; there are {', '.join(str(one) for one in table)}"
        )
    return table[key]
