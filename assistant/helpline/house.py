"""What the use cases work with: the casebook, the conversation, and a few plain values."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Final

from assistant.casebook import Casebook
from assistant.conversation.case import Case
from assistant.conversation.events import Event
from assistant.conversation.happenings import Happening
from assistant.helpline.album import Album
from assistant.helpline.couriers import Courier
from assistant.helpline.fetching import Fetcher
from assistant.helpline.insight import Insight
from assistant.helpline.limits import Limits
from assistant.helpline.sheets import Log, Sheet
from assistant.thread import Place
from kb.ids import Language

HOME: Final = Place(zone="America/New_York", region="unknown")


@dataclass(frozen=True, slots=True, kw_only=True)
class Conversing:
    """The conversation as the use cases need it, the knowledge already in its place; a test plugs in a small one."""

    edition: str
    step: Callable[[Case, Happening], tuple[Event, ...]]
    answers: Callable[[Case, str], bool]
    """The text fits the question that is open."""
    waits_for_number: Callable[[Case], bool]
    lasting: Callable[[Case], tuple[tuple[str, str], ...]]
    """What the room's next case may know already."""
    insight: Callable[[Case, datetime], Insight]
    endangers: Callable[[str], bool] = lambda _text: False
    """The text tells of a danger to people, as far as can be told without its case."""
    sheet: Callable[[Log, datetime, Language], Sheet] | None = None
    """A case's log as the desk reads it; None in a conversation that has no desk."""
    states: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    """What can be found, and its states."""
    causes: Mapping[Language, Mapping[str, str]] = field(default_factory=dict)
    """What can be wrong, in words, by id: what a case is closed with."""
    complaints: Mapping[Language, Mapping[str, str]] = field(default_factory=dict)
    files: Mapping[str, str] = field(default_factory=dict)
    """The knowledge as its files are, kept with the cases that it spoke in."""


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
    conversing: Conversing
    key: bytes
    desk: Desk = Desk()
    home: Place = HOME
    """Where somebody is who does not say."""
    country: str = "US"
    """Reads telephone numbers that come without their prefix."""
    longest_text: int = 10_000
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
    program: str = "unknown"
    """The program's version, kept with every event."""
