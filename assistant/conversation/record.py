"""Events as they are kept: a kind, a version, a JSON body; and back.

Every kind starts at version 1. When one changes, its version rises in `VERSIONS`, an upcaster is added to `UPCASTERS`,
and a stored sample of the old form goes into the tests.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, get_args

from pydantic import TypeAdapter

from assistant.conversation.events import Event

Body = dict[str, Any]  # Any: JSON, whose shape is the event's own
KINDS: Mapping[str, type] = {kind.__name__: kind for kind in get_args(Event)}
VERSIONS: Mapping[str, int] = dict.fromkeys(KINDS, 1) | {"CaseClosed": 2}
UPCASTERS: Mapping[tuple[str, int], Callable[[Body], Body]] = {
    ("CaseClosed", 1): lambda body: body | {"is_new": False, "fix": None, "held": None, "colleague": None},
}
"""(kind, old version) → the body of the next version."""


@dataclass(frozen=True, slots=True)
class Record:
    """One event, ready to be stored."""

    kind: str
    version: int
    body: Body


@cache
def _adapter(kind: str) -> TypeAdapter[Event]:
    return TypeAdapter(KINDS[kind])


def to_record(event: Event) -> Record:
    """The event as it is stored."""
    kind = type(event).__name__
    body = _adapter(kind).dump_python(event, mode="json")
    return Record(kind, VERSIONS[kind], body)


def from_record(record: Record) -> Event:
    """The event that was stored, brought up to today's version.

    Fails with `ValueError` on a kind or version that this program does not know: a newer program wrote it.
    """
    if record.kind not in KINDS or record.version > VERSIONS[record.kind]:
        msg = f"event {record.kind!r} version {record.version} was written by a newer program: start that one"
        raise ValueError(msg)
    body = record.body
    for version in range(record.version, VERSIONS[record.kind]):
        body = UPCASTERS[record.kind, version](body)
    return _adapter(record.kind).validate_python(body)
