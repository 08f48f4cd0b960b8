"""The casebook: events, inbox, outbox, timers, personal text; what must survive a power cut.

In: a session of `Casebook`, and plain values. Out: frozen values, never rows. Never: a decision about a case, or a
load that nobody wrote. Start at `tables`; each other module is the queries about one of its nouns.
"""

from assistant.casebook import (
    cases,
    closings,
    codes,
    counts,
    desk,
    editions,
    inbox,
    meters,
    outbox,
    parts,
    people,
    personal,
    photos,
    searching,
    staff,
    timers,
)
from assistant.casebook.cases import Standing, load_case
from assistant.casebook.clock import CaseClock, MachineClock, MovableClock
from assistant.casebook.engine import Casebook, open_engine
from assistant.casebook.kept import Address, DeskRow, DueTimer, KeptCase, LiveCase, Parcel, Taken
from assistant.casebook.migrating import is_current, upgrade

__all__ = [
    "Address",
    "CaseClock",
    "Casebook",
    "DeskRow",
    "DueTimer",
    "KeptCase",
    "LiveCase",
    "MachineClock",
    "MovableClock",
    "Parcel",
    "Standing",
    "Taken",
    "cases",
    "closings",
    "codes",
    "counts",
    "desk",
    "editions",
    "inbox",
    "is_current",
    "load_case",
    "meters",
    "open_engine",
    "outbox",
    "parts",
    "people",
    "personal",
    "photos",
    "searching",
    "staff",
    "timers",
    "upgrade",
]
