"""Counting what comes from a network address, before anything is kept of it."""

from datetime import datetime
from typing import Literal

from assistant.helpline.house import House
from assistant.helpline.limits import admit
from assistant.helpline.taking_in import once_more
from kb.errors import RequestError


def count_in(house: House, what: Literal["message", "case"], who: str, at: datetime) -> None:
    """One more from there. Fails with `RequestError` when it is too much; it is counted all the same."""

    def counted() -> RequestError | None:
        with house.casebook.writing() as session:
            return admit(session, house.limits, house.key, what, who, at)

    refusal = once_more(counted)
    if refusal is not None:
        raise refusal
