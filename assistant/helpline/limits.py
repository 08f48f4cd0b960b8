"""How much one sender, one network address and all texts together may be; what is too much is answered once, clearly.

A danger is let through every limit: it costs a text, and not hearing it may cost more.
"""

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final, Literal

import phonenumbers
from sqlalchemy.orm import Session

from assistant.casebook import meters
from assistant.helpline.keys import digest
from kb.errors import RequestError

QUARTER: Final = timedelta(minutes=15)
HOUR: Final = timedelta(hours=1)
DAY: Final = timedelta(days=1)
NOT_KEPT_FROM: Final = 5
"""Times the limit: beyond it a text is not even kept."""
ELSEWHERE_A_DAY: Final = 20
"""How many numbers elsewhere are told a day that we cannot text them: each of those texts is what a pump wants."""
LAST_NOTICES: Final = 100
"""SMS parts, beyond the daily cap, in which people are told of it."""

TurnedAway = Literal["too_many", "too_long", "elsewhere"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """What an operator may set."""

    texts_a_quarter: int = 40
    """From one number in a quarter of an hour; a person in a hurry stays below half of it (our judgement)."""
    page_messages_a_quarter: int = 120
    """From one network address: a farm's phones share one."""
    page_cases_an_hour: int = 30
    parts_a_day: int = 2000
    """SMS parts to everybody."""
    parts_a_day_each: int = 150
    """SMS parts to one number."""
    places: tuple[str, ...] = ("US", "PR", "CA", "MX")
    """Where numbers may be that we text: countries (ISO 3166), or beginnings of numbers such as +1512."""


def may_be_texted(number: str, places: tuple[str, ...]) -> bool:
    """The E.164 number is where we may text to; premium numbers were never let in.

    >>> may_be_texted("+15125550100", ("US",)), may_be_texted("+18765550100", ("US",)), may_be_texted("+4479", ("+447",))
    (True, False, True)
    """
    if any(number.startswith(place) for place in places if place.startswith("+")):
        return True
    try:
        country = phonenumbers.region_code_for_number(phonenumbers.parse(number))
    except phonenumbers.NumberParseException:
        return False
    return country in places


def is_full(session: Session, limits: Limits, address: str, at: datetime) -> bool:
    """The number has sent as much as it may in this quarter of an hour."""
    since = meters.stretch_of(at, QUARTER)
    return meters.counted(session, f"texts:{address}", since) >= limits.texts_a_quarter


def count_text(session: Session, limits: Limits, address: str, at: datetime) -> int:
    """One more text from a number; how many times the limit that is, in whole numbers: 0 is within it."""
    used = meters.count(session, f"texts:{address}", meters.stretch_of(at, QUARTER))
    return (used - 1) // limits.texts_a_quarter


def tell_once(session: Session, why: TurnedAway, address: str, at: datetime) -> bool:
    """Whether the sender is to be told why now: once a quarter of an hour, or once a day."""
    name, span = (f"texts:{address}", QUARTER) if why == "too_many" else (f"{why}:{address}", DAY)
    since = meters.stretch_of(at, span)
    if why != "too_many":
        meters.count(session, name, since)
    if not meters.tell(session, name, since):
        return False
    if why != "elsewhere":
        return True
    return meters.count(session, "elsewhere", meters.stretch_of(at, DAY)) <= ELSEWHERE_A_DAY


def admit(
    session: Session, limits: Limits, key: bytes, what: Literal["message", "case"], who: str, at: datetime
) -> RequestError | None:
    """Count what comes from a network address; the refusal, when it is too much."""
    span, most = (
        (QUARTER, limits.page_messages_a_quarter) if what == "message" else (HOUR, limits.page_cases_an_hour)
    )
    since = meters.stretch_of(at, span)
    if meters.count(session, f"page:{what}:{digest(key, 'network', who)}", since) <= most:
        return None
    again_in_s = max(1, round((since + span - at).total_seconds()))
    return RequestError(
        f"more than {most} from one network address in {span // timedelta(minutes=1)} minutes",
        mend=f"wait {again_in_s // 60 + 1} minutes and send it again; in danger call your emergency number now",
        kind="too_many",
        again_in_s=again_in_s,
    )


def may_cost(
    session: Session, limits: Limits, address: str, parts: int, at: datetime, *, notice: bool
) -> bool:
    """Whether a text of so many SMS parts may still go out today. A notice of the limit itself may go a little beyond."""
    since = meters.stretch_of(at, DAY)
    everybody = limits.parts_a_day + (LAST_NOTICES if notice else 0)
    if meters.counted(session, "parts", since) + parts > everybody:
        return False
    each = meters.counted(session, f"parts:{address}", since) + parts
    return notice or each <= limits.parts_a_day_each


def count_cost(session: Session, address: str, parts: int, at: datetime) -> None:
    """SMS parts that went out."""
    since = meters.stretch_of(at, DAY)
    if meters.count(session, "parts", since, parts) == parts:  # a new day
        meters.forget_before(session, at - meters.KEPT_FOR)
    meters.count(session, f"parts:{address}", since, parts)


def tell_of_cost(session: Session, address: str, at: datetime) -> bool:
    """Whether they are to be told that no more texts go out today: once a day."""
    since = meters.stretch_of(at, DAY)
    meters.count(session, f"cost told:{address}", since)
    return meters.tell(session, f"cost told:{address}", since)
