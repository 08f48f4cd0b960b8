"""From settings to a helpline that can serve: the casebook opened, the knowledge loaded, the clock chosen."""

import hashlib
import hmac
import logging
from dataclasses import dataclass
from datetime import datetime, timedelta
from importlib.metadata import version
from pathlib import Path
from typing import Final

from argon2 import PasswordHasher
from sqlalchemy.exc import OperationalError

from assistant.casebook import Casebook, is_current, open_engine, upgrade
from assistant.helpline import (
    Accepted,
    Album,
    CaseClock,
    Courier,
    Desk,
    Door,
    Editions,
    Helpline,
    House,
    Limits,
    MachineClock,
    MovableClock,
    Policy,
    conversing_over,
    conversing_with,
    read_policy,
)
from assistant.thread import Place
from channels.knowledge import our_folder, our_knowledge
from channels.settings import Settings, load_settings
from channels.sms import CARRIER_ANSWERS, Line, TwilioCourier, TwilioMedia
from kb.errors import SettingsError

LEFT_TO_THE_WEBHOOK: Final = timedelta(seconds=5)
"""A webhook answers well within it; two roads for one answer could swap its texts."""
OUR_POLICY: Final = Path(__file__).parent / "desk" / "policy.yaml"
UPGRADE: Final = "run `helpline database upgrade`"
log = logging.getLogger("helpline.courier")


@dataclass(frozen=True, slots=True)
class Running:
    """A helpline with what it stands on."""

    helpline: Helpline
    clock: CaseClock
    casebook: Casebook
    settings: Settings

    def check_ready(self) -> None:
        """Fails with `SettingsError` where the database is away, or older than the program."""
        check_database(self.casebook)


@dataclass(frozen=True, slots=True)
class LogCourier:
    """Carries texts to the log: for a machine that has no telephone."""

    def send(self, address: str, text: str, once: str, again_since: datetime | None) -> Accepted:
        """Log that there was a text; its words and number are personal, so only the last two digits are shown."""
        log.info("text %s to …%s, %d characters", once, address[-2:], len(text))
        return Accepted()

    def look_back(self, address: str, text: str, since: datetime) -> Accepted:
        """A log loses nothing."""
        del address, text, since
        return Accepted()


def settings_of(*, demo: bool) -> Settings:
    """The settings; the demo has a folder and a database of its own, so that its clock moves no real case."""
    settings = load_settings()
    if not demo:
        return settings
    apart: dict[str, object] = {
        "home": settings.home / "demo",
        "database_url": None,
        "emergency_region": "911",
        "sms_account": None,
        "sms_token": None,
        "sms_sender": None,
    }
    return settings.model_copy(update=apart)


def open_casebook(settings: Settings) -> Casebook:
    """The casebook of these settings; what stands in it is not looked at."""
    return Casebook(open_engine(settings.database))


def check_database(casebook: Casebook) -> None:
    """Fails with `SettingsError` where the database is away, or older than the program."""
    try:
        current = is_current(casebook.engine)
    except OperationalError as error:
        raise SettingsError(
            f"the database cannot be opened: {error.orig}", "see HELPLINE_DATABASE_URL"
        ) from error
    if not current:
        raise SettingsError("the database is not at this program's version", UPGRADE)


def open_house(*, demo: bool = False) -> Running:
    """Everything, ready to serve. Fails with `SettingsError` or `KnowledgeError`."""
    settings = settings_of(demo=demo)
    if demo and not (Path(settings.home) / "helpline.sqlite3").exists():
        raise SettingsError("there is no demo yet", "start one with `helpline demo`")
    casebook = open_casebook(settings)
    check_database(casebook)
    return house_over(casebook, settings, demo=demo)


def open_demo(courier: Courier) -> Running:
    """The demo's helpline, its database made or upgraded; texts by telephone go to `courier`."""
    settings = settings_of(demo=True)
    casebook = open_casebook(settings)
    upgrade(casebook.engine)
    return house_over(casebook, settings, demo=True, courier=courier)


def house_over(
    casebook: Casebook, settings: Settings, *, demo: bool, courier: Courier | None = None
) -> Running:
    """A helpline over an upgraded casebook."""
    line = line_of(settings)
    number = demo_line(settings).sender if demo else settings.sms_sender
    house = House(
        casebook=casebook,
        editions=Editions(conversing_with(our_knowledge(), our_folder()), conversing_over),
        key=settings.key,
        desk=Desk(
            name=settings.desk_name,
            contact=settings.desk_contact,
            opens=settings.desk_opens,
            closes=settings.desk_closes,
        ),
        home=Place(zone=settings.zone, region=settings.emergency_region),
        country=settings.country,
        policy=policy_of(settings),
        longest_text=settings.longest_message,
        line=number
        if number and number.startswith("+")
        else None,  # a messaging service has no number to text
        page=settings.public_url,
        courier=courier or (LogCourier() if line is None else TwilioCourier.over(line)),
        courier_waits=LEFT_TO_THE_WEBHOOK,
        carrier_answers=CARRIER_ANSWERS if line is not None and settings.sms_carrier_answers else frozenset(),
        limits=limits_of(settings),
        album=Album(settings.home / "photos"),
        fetcher=None if line is None else TwilioMedia(line),
        program=version("coldroom-helpline"),
    )
    clock: CaseClock = MovableClock(casebook) if demo else MachineClock()
    return Running(Helpline(house), clock, casebook, settings)


def policy_of(settings: Settings) -> Policy:
    """What the desk covers. Fails with `SettingsError` where the file cannot be read, or says what cannot be."""
    path = settings.desk_policy or OUR_POLICY
    try:
        text = path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise SettingsError(f"{path} cannot be read: {error}", mend="see HELPLINE_DESK_POLICY") from error
    return read_policy(text, str(path))


def door_of(casebook: Casebook) -> Door:
    """The desk's door."""
    return Door(casebook, PasswordHasher())


def limits_of(settings: Settings) -> Limits:
    """How much there may be of what."""
    return Limits(
        texts_a_quarter=settings.texts_a_quarter,
        page_messages_a_quarter=settings.page_messages_a_quarter,
        page_cases_an_hour=settings.page_cases_an_hour,
        parts_a_day=settings.sms_parts_a_day,
        parts_a_day_each=settings.sms_parts_a_day_each,
        places=settings.sms_places,
    )


def line_of(settings: Settings) -> Line | None:
    """Our end of the telephone line; None where the settings name none."""
    if settings.sms_account is None or settings.sms_token is None:
        return None
    tokens = [token.get_secret_value() for token in (settings.sms_token, settings.sms_next_token) if token]
    return Line(
        account=settings.sms_account,
        tokens=tuple(tokens),
        sender=str(settings.sms_sender),
        public_url=str(settings.public_url),
    )


def demo_line(settings: Settings) -> Line:
    """The demo's end of a pretend line: numbers reserved for fiction, a token from the server's key."""
    token = hmac.new(settings.key, b"the demo's line", hashlib.sha256).hexdigest()[:32]
    return Line(
        account="AC" + "0" * 32, tokens=(token,), sender="+15125550199", public_url="https://demo.example.org"
    )


def staff_token_of_demo(settings: Settings) -> str:
    """The demo's staff token: the same at every start, from the server's key."""
    return hmac.new(settings.key, b"the demo's staff", hashlib.sha256).hexdigest()[:32]
