"""Settings: from the environment (`HELPLINE_*`) or a `.env` file; every one has a default."""

import os
import re
import secrets
from functools import cached_property
from pathlib import Path
from typing import Self
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from platformdirs import user_state_dir
from pydantic import Field, SecretStr, ValidationError, field_validator, model_validator
from pydantic_settings import BaseSettings, SettingsConfigDict
from pydantic_settings import SettingsError as UnreadableError
from sqlalchemy import make_url
from sqlalchemy.exc import ArgumentError

from assistant.thread import Where
from kb.errors import SettingsError

KEY_BYTES = 32
WALL_TIME = r"([01]\d|2[0-3]):[0-5]\d"


class Settings(BaseSettings):
    """What an operator may set."""

    model_config = SettingsConfigDict(
        env_prefix="HELPLINE_",
        env_file=".env",
        env_file_encoding="utf-8",
        extra="ignore",
        frozen=True,
        use_attribute_docstrings=True,
    )

    home: Path = Field(default_factory=lambda: Path(user_state_dir("helpline")))
    """The folder of the database and the server's key."""
    database_url: str | None = None
    """An SQLAlchemy address; default: SQLite in `home`."""
    knowledge: Path | None = None
    """A folder of knowledge to work with; default: the one that ships with the program. A running server takes up what is
    saved there, once it passes `helpline kb check`."""
    desk_name: str = "Cold room helpline"
    """Who answers, in texts about our texts."""
    desk_contact: str = "write PERSON / escriba PERSONA"
    """How somebody reaches a person: a telephone number, a page."""
    desk_opens: str = Field(default="07:00", pattern=f"^{WALL_TIME}$")
    desk_closes: str = Field(default="19:00", pattern=f"^{WALL_TIME}$")
    """Wall time where the room is."""
    desk_policy: Path | None = None
    """A file that says what the desk covers, and for how long; default: the made-up one that comes with the program."""
    emergency_region: Where = "unknown"
    """Which number saves lives where a customer does not say where they are: 911, 112, unknown or other."""
    zone: str = "America/New_York"
    """The time zone of a room where nobody says."""
    country: str = Field(default="US", pattern="^[A-Z]{2}$")
    """Reads telephone numbers that come without their prefix (ISO 3166)."""
    longest_message: int = Field(default=10_000, ge=160)
    """In characters; a longer one is turned down, never cut."""
    public_url: str | None = Field(default=None, pattern=r"^https://[^/?#\s]+(/[^?#\s]*[^/?#\s])?$")
    """How the world reaches this server, as https://help.example.org; texts by telephone need it."""
    sms_account: str | None = Field(default=None, pattern="^AC[0-9a-f]{32}$")
    """The account with the SMS provider; with it go HELPLINE_SMS_TOKEN, HELPLINE_SMS_SENDER and HELPLINE_PUBLIC_URL."""
    sms_token: SecretStr | None = None
    """The account's token: it signs webhooks and opens the provider's interface."""
    sms_next_token: SecretStr | None = None
    """The token that will follow, while it is being changed."""
    sms_sender: str | None = Field(default=None, pattern=r"^(\+[1-9]\d{6,14}|MG[0-9a-f]{32})$")
    """Our number, as +15125550199, or the id of a messaging service."""
    sms_carrier_answers: bool = True
    """The provider itself answers STOP, START and HELP; false where that was turned off for the account."""
    sms_places: tuple[str, ...] = ("US", "PR", "CA", "MX")
    """Where numbers may be that we text, as a JSON list: countries (ISO 3166), or beginnings of numbers such as +1512."""
    sms_parts_a_day: int = Field(default=2000, ge=1)
    """SMS parts that may be sent a day; a danger is sent beyond it."""
    sms_parts_a_day_each: int = Field(default=150, ge=1)
    """The same to one number."""
    texts_a_quarter: int = Field(default=40, ge=1)
    """Texts that one number may send in a quarter of an hour; a danger is read beyond it."""
    page_messages_a_quarter: int = Field(default=120, ge=1)
    """Messages from one network address in a quarter of an hour."""
    page_cases_an_hour: int = Field(default=30, ge=1)
    """Cases opened from one network address in an hour."""
    proxies: int = Field(default=0, ge=0, le=5)
    """How many proxies of yours stand before the server: with none, requests from this machine are not limited by address."""
    staff_token: SecretStr | None = None
    """Opens a case's reasoning to staff; without it nobody sees it."""
    metrics_token: SecretStr | None = None
    """Opens /metrics to other machines; this machine needs none."""
    web_origins: tuple[str, ...] = ()
    """Sites that may show the element on their own pages, as a JSON list: ["https://example.org"]."""

    @field_validator("zone")
    @classmethod
    def _is_a_zone(cls, zone: str) -> str:
        try:
            return ZoneInfo(zone).key
        except (ZoneInfoNotFoundError, ValueError, OSError):
            msg = "no such time zone: write an IANA name such as America/Chicago"
            raise ValueError(msg) from None

    @field_validator("sms_places")
    @classmethod
    def _are_places(cls, places: tuple[str, ...]) -> tuple[str, ...]:
        wrong = [place for place in places if re.fullmatch(r"[A-Z]{2}|\+[1-9]\d{0,13}", place) is None]
        if wrong or not places:
            msg = f"no country and no beginning of a number: {', '.join(wrong) or 'nothing'}; write such as US or +1512"
            raise ValueError(msg)
        return places

    @field_validator("database_url")
    @classmethod
    def _is_an_address(cls, url: str | None) -> str | None:
        try:
            return url if url is None else make_url(url).render_as_string(hide_password=False)
        except ArgumentError:
            msg = "no database address: write one such as postgresql+psycopg://user@host/name"
            raise ValueError(msg) from None

    @model_validator(mode="after")
    def _has_a_whole_line(self) -> Self:
        parts = {
            "HELPLINE_SMS_ACCOUNT": self.sms_account,
            "HELPLINE_SMS_TOKEN": self.sms_token,
            "HELPLINE_SMS_SENDER": self.sms_sender,
            "HELPLINE_PUBLIC_URL": self.public_url,
        }
        missing = [name for name, value in parts.items() if value is None]
        if missing and (self.sms_account or self.sms_token or self.sms_sender):
            msg = f"texts by telephone also need {', '.join(missing)}"
            raise ValueError(msg)
        return self

    @cached_property
    def database(self) -> str:
        """The database's address; its folder is made where it is ours."""
        if self.database_url is not None:
            return self.database_url
        return f"sqlite:///{self._home() / 'helpline.sqlite3'}"

    @cached_property
    def key(self) -> bytes:
        """The server's key, made once and readable by its owner alone; losing it makes tokens useless."""
        path = self._home() / "server.key"
        try:
            made = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        except FileExistsError:
            return _kept_key(path)
        with os.fdopen(made, "wb") as file:
            file.write(secrets.token_bytes(KEY_BYTES))
        return _kept_key(path)

    def _home(self) -> Path:
        try:
            self.home.mkdir(parents=True, exist_ok=True, mode=0o700)
        except OSError as error:
            raise SettingsError(
                f"the folder {self.home} cannot be made ({error.strerror})",
                mend="set HELPLINE_HOME to a folder that you may write to",
            ) from error
        return self.home


def load_settings() -> Settings:
    """The settings of this process. Fails with `SettingsError`, which names every fault at once."""
    try:
        return Settings()
    except ValidationError as error:
        faults = [": ".join((*_variable(fault["loc"]), fault["msg"])) for fault in error.errors()]
        raise SettingsError(
            "; ".join(faults), mend="mend these settings in the environment or in .env"
        ) from error
    except UnreadableError as error:
        raise SettingsError(str(error), mend='write a list as JSON: ["https://example.org"]') from error


def _variable(place: tuple[int | str, ...]) -> tuple[str, ...]:
    """The environment's name of a setting; none for a fault that several of them share."""
    return (f"HELPLINE_{'_'.join(str(part) for part in place).upper()}",) if place else ()


def _kept_key(path: Path) -> bytes:
    key = path.read_bytes()
    if len(key) != KEY_BYTES:
        raise SettingsError(
            f"the server's key in {path} has {len(key)} bytes in place of {KEY_BYTES}",
            mend="restore it from a backup; deleting it makes a new one, and customers' open pages lose their case",
        )
    return key
