"""Consent to texts: a list of yes and no, of which the last holds."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from assistant.conversation.ids import ConsentScope

Scope = Literal["texts", "follow_up", "cleaning"]
"""texts: all of them · the others are `ConsentScope`s, which only add to it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ConsentGiven:
    """A yes or no to texts, and where it came from."""

    kind: Literal["opt_in", "opt_out"]
    at: datetime
    source: str
    """`text`, `desk`, `carrier`, `code`, or what an import calls itself."""
    scope: Scope = "texts"
    message_id: str | None = None
    """The message that said it."""


def is_opted_out(given: Sequence[ConsentGiven]) -> bool:
    """The last word on all texts is no. Who wrote first and never said no may be answered.

    >>> is_opted_out(())
    False
    """
    said = [one.kind for one in given if one.scope == "texts"]
    return bool(said) and said[-1] == "opt_out"


def agreed_to(given: Sequence[ConsentGiven]) -> tuple[ConsentScope, ...]:
    """Texts that may come unasked: the last word on each is yes, and no stop to all came after it."""
    yes: dict[ConsentScope, bool] = {}
    for one in given:
        if one.scope != "texts":
            yes[one.scope] = one.kind == "opt_in"
        elif one.kind == "opt_out":
            yes.clear()
    return tuple(sorted(scope for scope, agreed in yes.items() if agreed))
