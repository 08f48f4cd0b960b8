"""Editions: the name of a state of the knowledge, and the store that spares a second parse of the same bytes."""

import json
from collections.abc import Iterable, Mapping
from contextlib import suppress
from hashlib import sha256
from pathlib import Path
from typing import Final

from kb.files import SourceFile
from kb.knowledge import Knowledge
from kb.written import Plain

EDITION_DIGITS: Final = 12
STORE_FORM: Final = 1
"""Raised when what `kb.written` makes of the same bytes changes; an older store is then not believed."""


def edition_of(files: Iterable[SourceFile]) -> str:
    """Twelve hex digits of the SHA-256 over paths and contents, line ends apart: the same words, the same edition."""
    digest = sha256()
    for file in sorted(files, key=lambda file: file.relative):
        for part in (file.relative.encode(), file.data.replace(b"\r\n", b"\n")):
            digest.update(len(part).to_bytes(8, "big"))
            digest.update(part)
    return digest.hexdigest()[:EDITION_DIGITS]


def safety_of(knowledge: Knowledge) -> str:
    """A mark of every hazard and every caution: two editions with the same mark warn of the same in the same words."""
    digest = sha256()
    for hazard in knowledge.hazards.values():
        digest.update(hazard.model_dump_json().encode())
    for group in knowledge.word_groups.values():
        digest.update(group.model_dump_json().encode())
    steps = [step.caution for fix in knowledge.fixes.values() for step in fix.steps]
    for caution in (*(check.caution for check in knowledge.checks.values()), *steps):
        digest.update(b"-" if caution is None else caution.model_dump_json().encode())
    return digest.hexdigest()[:EDITION_DIGITS]


class ParsedStore:
    """Plain values by the content of the file they came from, in one JSON file.

    Parsing takes most of the time of a load (seconds for a few hundred files), and few files change between two loads. The store
    is a convenience: one that cannot be read or written, or is of an older form, costs time and nothing else.
    """

    def __init__(self, path: Path | None) -> None:
        self._path = path
        self._known = {} if path is None else _read(path)

    def get(self, file: SourceFile) -> Plain:
        """The values of a file with these bytes, or None."""
        return self._known.get(_key(file))

    def keep(self, values: Mapping[SourceFile, Plain]) -> None:
        """Keep the values of these files, and of no others."""
        kept = {_key(file): value for file, value in values.items()}
        if self._path is None or kept.keys() == self._known.keys():
            return
        with suppress(OSError):  # a folder that cannot be written to: the next load parses again
            self._path.parent.mkdir(parents=True, exist_ok=True)
            draft = self._path.with_suffix(f".{sha256(repr(sorted(kept)).encode()).hexdigest()[:8]}.draft")
            draft.write_text(
                json.dumps({"form": STORE_FORM, "files": kept}, ensure_ascii=False), encoding="utf-8"
            )
            draft.replace(self._path)  # whole or not at all, whoever else loads just now


def _key(file: SourceFile) -> str:
    return sha256(file.data).hexdigest()


def _read(path: Path) -> dict[str, Plain]:
    try:
        stored = json.loads(path.read_text(encoding="utf-8"))
        return stored["files"] if stored["form"] == STORE_FORM else {}
    except (OSError, ValueError, KeyError, TypeError):
        return {}
