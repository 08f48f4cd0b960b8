"""The provider's error numbers, by what they mean for us. Its own words change, so the number alone counts.

Numbers: the provider's public error dictionary; those marked with a dash there were entered from memory.
"""

from typing import Final

from assistant.helpline import Later, Outcome, RefusalKind, Refused

CARRIER_ANSWERS: Final = frozenset(
    {
        "stop", "stopall", "unsubscribe", "cancel", "end", "quit", "revoke", "optout",
        "start", "yes", "unstop", "help", "info",
    }
)  # fmt: skip
"""Single words that the provider answers itself, and passes on to us as well."""

_KINDS: Final[dict[RefusalKind, frozenset[int]]] = {
    "opted_out": frozenset({21610}),
    "unusable": frozenset({21211, 21265, 21408, 21614, 21635, 30005, 30006}),
    "carrier": frozenset({30003, 30004, 30007, 30008, 30450, 30453}),
    "ours": frozenset({21601, 21606, 21608, 21617}),
}
_WAITS: Final = frozenset({20003, 20429, 21611, 30001, 30032, 30034})
"""Busy, or an account out of order: the queue is kept until somebody has mended it."""
TOO_MANY: Final = 429
AWAY: Final = frozenset({502, 503})


def refusal_of(code: int | None) -> Refused:
    """What a failed text means, by its number; one that we do not know reaches the desk as it is."""
    kinds: list[RefusalKind] = [kind for kind, codes in _KINDS.items() if code in codes]
    return Refused(why=f"{code or 'no number'}", kind=kinds[0] if kinds else "ours")


def outcome_of(status: int, code: int | None) -> Outcome | None:
    """What an answer other than success means; None: nobody knows whether the text went out.

    >>> outcome_of(429, None)
    Later(why='429')
    >>> outcome_of(500, 20500) is None
    True
    """
    if status == TOO_MANY or code in _WAITS:
        return Later(why=f"{code or status}")
    if status >= 500:  # noqa: PLR2004 - the server's own failures begin there (RFC 9110)
        return None
    return refusal_of(code)
