"""Spans of time as people type them."""

import re
from datetime import timedelta
from typing import Any, Final

import click

_FORM: Final = re.compile(r"(\d+(?:\.\d+)?)\s*(min|m|h|d)")
_OF: Final = {
    "min": timedelta(minutes=1),
    "m": timedelta(minutes=1),
    "h": timedelta(hours=1),
    "d": timedelta(days=1),
}
LONGEST: Final = timedelta(days=60)


def span_of(text: str) -> timedelta | None:
    """The span that `text` names; None where it names none, or none between 0 and 60 days.

    >>> span_of("4h"), span_of("90 min"), span_of("soon")
    (datetime.timedelta(seconds=14400), datetime.timedelta(seconds=5400), None)
    """
    found = _FORM.fullmatch(text.strip().lower())
    if found is None:
        return None
    span = float(found[1]) * _OF[found[2]]
    return span if timedelta(0) < span <= LONGEST else None


class Span(click.ParamType[timedelta]):
    """`90min`, `4h`, `2d`."""

    name = "span"

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> timedelta:  # click's
        """Fails with a usage error on anything else."""
        span = value if isinstance(value, timedelta) else span_of(str(value))
        if span is None:
            self.fail(f"{value!r} is no span of time up to 60 days: write 90min, 4h or 2d", param, ctx)
        return span
