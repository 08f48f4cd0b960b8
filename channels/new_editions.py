"""New editions while the server runs: what is saved in the folder of knowledge is taken up once it is sound.

A folder is looked at again when it has been left alone for a moment, so that half of a change is not taken for all of
it. What `helpline kb check` finds fault with is refused, told in the log, and the edition at work stays; only the
sayings are not all read again (`stolen-wording`), which would take the server's breath for seconds.
"""

import logging
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import timedelta
from pathlib import Path
from typing import Final

from assistant.helpline import Editions, conversing_over
from assistant.workbench.examples import outcome_of
from channels.knowledge import our_folder
from kb import linting
from kb.errors import KnowledgeError
from kb.files import find_files
from kb.loading import default_store

EVERY: Final = timedelta(seconds=2)
TOLD: Final = 5
"""Faults told of a broken edition; the check tells them all."""
log = logging.getLogger("helpline.editions")
Signs = tuple[tuple[str, int, int], ...]


class Watch:
    """Looks at one folder again and again, each time for a moment."""

    def __init__(self, editions: Editions, folder: Path) -> None:
        self._editions, self._folder = editions, folder
        self._looked_at = self._seen = signs_of(folder)

    def look(self) -> bool:
        """Whether a new edition was taken. It is looked into only when two looks in a row find the same files."""
        signs = signs_of(self._folder)
        resting, self._seen = signs == self._seen, signs
        if not resting or signs == self._looked_at:
            return False
        self._looked_at = signs
        return self._take()

    def _take(self) -> bool:
        files, _ = find_files(self._folder)
        faults = [
            problem
            for problem in linting.check(self._folder, outcome=outcome_of, store=default_store())
            if problem.severity == "error"
        ]
        if find_files(self._folder)[0] != files:
            self._looked_at = ()  # saved meanwhile: the next look begins anew
            return False
        if faults:
            log.error("the new edition is refused, %d faults; the old one stays", len(faults))
            for fault in faults[:TOLD]:
                log.error("%s: %s; %s", fault.place, fault.what, fault.mend)
            return False
        before = self._editions.today.edition
        self._editions.take(conversing_over({file.relative: file.data.decode() for file in files}))
        log.info("edition %s follows edition %s", self._editions.today.edition, before)
        return self._editions.today.edition != before


def signs_of(folder: Path) -> Signs:
    """Name, size and hour of every file: what changes when somebody saves."""
    found = []
    for path in sorted(folder.rglob("*")):
        try:
            stat = path.stat()
        except OSError:  # it went while we looked: the next look sees what is there then
            continue
        if path.is_file():
            found.append((path.relative_to(folder).as_posix(), stat.st_size, stat.st_mtime_ns))
    return tuple(found)


@contextmanager
def watching(editions: Editions, every: timedelta = EVERY) -> Iterator[None]:
    """A watch beside us, that ends with us."""
    stop = threading.Event()
    watch = Watch(editions, our_folder())
    keeper = threading.Thread(target=_keep_looking, args=(watch, stop, every), name="editions", daemon=True)
    keeper.start()
    try:
        yield
    finally:
        stop.set()
        keeper.join(timeout=1)  # a check under way may end with the process


def _keep_looking(watch: Watch, stop: threading.Event, every: timedelta) -> None:
    while not stop.wait(every.total_seconds()):
        try:
            watch.look()
        except KnowledgeError as error:
            log.error("the new edition is refused: %s", error.what)  # noqa: TRY400 - an author's slip has no traceback
        except Exception:  # the watch must outlive one bad look; the edition at work stays
            log.exception("looking at the knowledge failed")
