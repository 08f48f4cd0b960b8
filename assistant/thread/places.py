"""Where a telephone number is at home: its zone, and which number saves lives there. ITU-T E.164 by `phonenumbers`."""

from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Final, Literal
from zoneinfo import available_timezones

import phonenumbers
from phonenumbers import PhoneNumberType

Where = Literal["911", "112", "unknown", "other"]

CALLS_911: Final = frozenset({"US", "PR", "MX"})
"""United States, Puerto Rico, Mexico. A country is only named here once somebody has checked it."""

CALLS_112: Final = frozenset(
    {
        "AT", "BE", "BG", "CY", "CZ", "DE", "DK", "EE", "ES", "FI", "FR", "GR", "HR", "HU", "IE", "IT", "LT", "LU", "LV",
        "MT", "NL", "PL", "PT", "RO", "SE", "SI", "SK",
    }
)  # fmt: skip
"""The European Union: Directive (EU) 2018/1972, art. 109, makes 112 the single European emergency number."""

NOBODY_TEXTS_FROM: Final = frozenset(
    {PhoneNumberType.PREMIUM_RATE, PhoneNumberType.SHARED_COST, PhoneNumberType.UAN, PhoneNumberType.PAGER}
)
MOST_ZONES: Final = 6
"""A number that may be anywhere in a continent says nothing of where somebody sleeps."""
OLD_MEXICAN_MOBILE: Final = "+521"
MEXICAN_LENGTH: Final = len("+521") + 10


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where somebody is, as well as it can be told."""

    zone: str
    """IANA name."""
    region: Where


def phone_number(text: str, country: str | None = None) -> str | None:
    """The number in E.164, or None: not a number that a person texts from.

    `country` reads numbers written without their prefix.

    >>> phone_number("(512) 555-0100", "US"), phone_number("+521 722 123 4567"), phone_number("32665")
    ('+15125550100', '+527221234567', None)
    """
    if ":" in text:  # an address of another service would pass for its number
        return None
    digits = text.replace(" ", "")
    if digits.startswith(OLD_MEXICAN_MOBILE) and len(digits) == MEXICAN_LENGTH:
        text = "+52" + digits.removeprefix(OLD_MEXICAN_MOBILE)
    try:
        number = phonenumbers.parse(text, country)
    except phonenumbers.NumberParseException:
        return None
    if number.extension or not phonenumbers.is_valid_number(number):
        return None
    if phonenumbers.number_type(number) in NOBODY_TEXTS_FROM:
        return None
    return phonenumbers.format_number(number, phonenumbers.PhoneNumberFormat.E164)


def place_of(number: str, *, otherwise: Place) -> Place:
    """The place of an E.164 number; `otherwise` where the number does not tell.

    >>> home = Place(zone="America/New_York", region="unknown")
    >>> place_of("+15125550100", otherwise=home)
    Place(zone='America/Chicago', region='911')
    >>> place_of("+34612345678", otherwise=home)
    Place(zone='Europe/Madrid', region='112')
    """
    from phonenumbers import timezone  # a third of a second to load, needed once an address

    parsed = phonenumbers.parse(number)
    zones = timezone.time_zones_for_number(parsed)
    country = phonenumbers.region_code_for_number(parsed)
    if country is None or phonenumbers.number_type(parsed) == PhoneNumberType.TOLL_FREE:
        return otherwise
    return Place(zone=_likeliest_zone(zones, otherwise.zone), region=region_of_country(country))


def zones_of(number: str, likeliest: str) -> tuple[str, ...]:
    """Every zone that an E.164 number may be in, `likeliest` first; that alone where the number does not tell.

    >>> zones_of("+12085550100", "America/Boise")     # Idaho has two
    ('America/Boise', 'America/Los_Angeles')
    """
    from phonenumbers import timezone

    parsed = phonenumbers.parse(number)
    if phonenumbers.number_type(parsed) == PhoneNumberType.TOLL_FREE:
        return (likeliest,)
    found = [zone for zone in timezone.time_zones_for_number(parsed) if zone != "Etc/Unknown"]
    known = [zone for zone in found if zone in available_timezones() and zone != likeliest]
    return (likeliest, *sorted(known)) if len(found) <= MOST_ZONES else (likeliest,)


def region_of_country(country: str) -> Where:
    """Which emergency number we may name in a country (ISO 3166 code).

    >>> region_of_country("MX"), region_of_country("FR"), region_of_country("AR")
    ('911', '112', 'other')
    """
    if country in CALLS_911:
        return "911"
    return "112" if country in CALLS_112 else "other"


def _likeliest_zone(zones: tuple[str, ...], otherwise: str) -> str:
    """Of several zones ours if it is among them, else the first in zone.tab, which begins with the most populous."""
    known = [zone for zone in zones if zone in _populous_first()]
    if not known or otherwise in zones:
        return otherwise if otherwise in zones or not zones or "Etc/Unknown" in zones else zones[0]
    return min(known, key=_populous_first().__getitem__)


@cache
def _populous_first() -> dict[str, int]:
    table = resources.files("tzdata").joinpath("zoneinfo", "zone.tab").read_text(encoding="utf-8")
    zones = [line.split("\t")[2].strip() for line in table.splitlines() if line and not line.startswith("#")]
    return {zone: place for place, zone in enumerate(zones)}
