"""Consent to texts: a list of yes and no, of which the last holds."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Literal


@dataclass(frozen=True, slots=True, kw_only=True)
class ConsentGiven:
    """A yes or no to texts, and where it came from."""

    kind: Literal["opt_in", "opt_out"]
    at: datetime
    source: str
    """`text`, `desk`, or what an import calls itself."""


def is_opted_out(given: Sequence[ConsentGiven]) -> bool:
    """The last word is no. Who wrote first and never said no may be answered.

    >>> is_opted_out(())
    False
    """
    return bool(given) and given[-1].kind == "opt_out"
