"""Editions at work: today's, which new cases begin with, and older ones that open cases still go by.

A case stays with its edition while a question of it is open, so that the answer is read as it was asked, and moves at
a quiet moment. Where a hazard or a caution changed, it moves at once. An edition that is nowhere to be had moves too.
"""

import logging
import threading
from collections import OrderedDict
from collections.abc import Callable, Mapping
from typing import Final

from assistant.conversation import Case
from assistant.conversation.happenings import Happening, MessageHeard
from assistant.helpline.plug import Conversing
from kb.errors import KnowledgeError

MOST_OLDER: Final = 3
"""Older editions that are held ready; each takes some tens of megabytes."""
Files = Callable[[str], Mapping[str, str] | None]
"""The files of an edition, as they were kept with the first case that it spoke in."""
Load = Callable[[Mapping[str, str]], Conversing]

log = logging.getLogger("helpline.editions")


class Editions:
    """Which knowledge speaks in which case. Several threads may ask at once, and one may bring a new edition."""

    def __init__(self, today: Conversing, load: Load | None = None) -> None:
        """`load` makes a conversation of kept files; None: every case goes on with today's."""
        self._today = today
        self._load = load
        self._older: OrderedDict[str, Conversing | None] = OrderedDict()
        self._lock = threading.Lock()

    @property
    def today(self) -> Conversing:
        """What new cases begin with."""
        return self._today

    def take(self, conversing: Conversing) -> None:
        """From now on this is today's; what was is held ready for the cases that go by it."""
        with self._lock:
            if conversing.edition == self._today.edition:
                return
            self._hold(self._today.edition, self._today)
            self._older.pop(conversing.edition, None)
            self._today = conversing

    def of(self, edition: str | None, files: Files) -> Conversing:
        """The edition that was asked for; today's where it cannot be had."""
        today = self._today
        if edition is None or edition == today.edition or self._load is None:
            return today
        with self._lock:
            if edition in self._older:
                self._older.move_to_end(edition)
            else:
                self._hold(edition, _loaded(self._load, edition, files(edition)))
            return self._older[edition] or today

    def speaking_in(self, case: Case, happening: Happening, files: Files) -> Conversing:
        """Who answers what happens now."""
        today = self._today
        if case.edition is None or case.edition == today.edition or is_quiet(case, happening):
            return today
        own = self.of(case.edition, files)
        return today if own.safety != today.safety else own

    def _hold(self, edition: str, conversing: Conversing | None) -> None:
        self._older[edition] = conversing
        self._older.move_to_end(edition)
        while len(self._older) > MOST_OLDER:
            self._older.popitem(last=False)


def is_quiet(case: Case, happening: Happening) -> bool:
    """Nobody is answering a question: what is asked next may be asked by another edition."""
    return not isinstance(happening, MessageHeard) or case.waiting_for is None


def _loaded(load: Load, edition: str, files: Mapping[str, str] | None) -> Conversing | None:
    if files is None:
        return None
    try:
        return load(files)
    except KnowledgeError as error:
        log.warning("edition %s cannot be read by this program: %s", edition, error.what)
        return None
