"""What the use cases work with: the casebook, the conversation, and a few plain values."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import timedelta
from typing import Final

from assistant.casebook import Casebook, editions
from assistant.helpline.album import Album
from assistant.helpline.couriers import Courier
from assistant.helpline.editions import Editions
from assistant.helpline.fetching import Fetcher
from assistant.helpline.limits import Limits
from assistant.helpline.plug import Conversing
from assistant.helpline.warranty import NO_POLICY, Policy
from assistant.thread import Place

HOME: Final = Place(zone="America/New_York", region="unknown")


@dataclass(frozen=True, slots=True, kw_only=True)
class Desk:
    """The people behind the assistant."""

    name: str = "Cold room helpline"
    contact: str = "write PERSON / escriba PERSONA"
    """How somebody reaches a person: a telephone number, a street, a page."""
    opens: str = "07:00"
    closes: str = "19:00"
    """Wall time where the room is."""


@dataclass(frozen=True, slots=True, kw_only=True)
class House:
    """Everything a use case may need."""

    casebook: Casebook
    editions: Editions
    key: bytes
    desk: Desk = Desk()
    home: Place = HOME
    """Where somebody is who does not say."""
    country: str = "US"
    """Reads telephone numbers that come without their prefix."""
    longest_text: int = 10_000
    line: str | None = None
    """Our telephone number in E.164, where there is one."""
    page: str | None = None
    """Where our page is, as somebody types it."""
    courier: Courier | None = None
    courier_waits: timedelta = timedelta()
    """How long a text is left to the webhook that is on the line, before the courier takes it."""
    carrier_answers: frozenset[str] = frozenset()
    """Words about our texts that the carrier itself answers: we act on them and say nothing."""
    limits: Limits = field(default_factory=Limits)
    album: Album | None = None
    """Where photos are kept; None: they are turned away in words."""
    fetcher: Fetcher | None = None
    """Gets at photos that wait with a provider."""
    policy: Policy = NO_POLICY
    """What the desk covers, and for how long."""
    program: str = "unknown"
    """The program's version, kept with every event."""

    @property
    def conversing(self) -> Conversing:
        """Today's conversation."""
        return self.editions.today

    def files_of(self, edition: str) -> Mapping[str, str] | None:
        """The files of an edition that spoke here."""
        with self.casebook.reading() as session:
            return editions.edition_files(session, edition)

    def conversing_of(self, edition: str | None) -> Conversing:
        """The conversation of an edition; today's where it cannot be had."""
        return self.editions.of(edition, self.files_of)
