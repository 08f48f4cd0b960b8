"""The folder of knowledge as it was saved last, read again whenever somebody saves."""

import threading
from dataclasses import dataclass
from pathlib import Path

from channels.new_editions import Signs, signs_of
from kb.edition import edition_of
from kb.files import find_files
from kb.knowledge import Knowledge
from kb.loading import default_store, look
from kb.problems import Problem


@dataclass(frozen=True, slots=True)
class Saved:
    """What stands in the folder now."""

    knowledge: Knowledge | None
    """The last that loaded; None: none has yet."""
    problems: tuple[Problem, ...]
    """Why what is saved now does not load; empty: it is the knowledge above."""
    edition: str
    """Of the files as they are, sound or not: when it changes, somebody saved."""


class WorkingCopy:
    """Looked at with every request; several may come at once."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._lock = threading.Lock()
        self._signs: Signs | None = None
        self._saved = Saved(None, (), "")

    def saved(self) -> Saved:
        """What stands there, read again only where a file changed."""
        with self._lock:
            signs = signs_of(self.folder)
            if signs != self._signs:
                self._signs = signs
                self._saved = self._read()
            return self._saved

    def _read(self) -> Saved:
        _, knowledge, problems = look(self.folder, store=default_store())
        edition = knowledge.edition if knowledge else edition_of(find_files(self.folder)[0])
        return Saved(knowledge or self._saved.knowledge, problems, edition)
