"""Pictures as files: each under its id in one folder, written whole or not at all, and readable by their owner alone."""

import os
import re
from dataclasses import dataclass
from pathlib import Path
from typing import Final

ID: Final = re.compile("[a-z2-7]{16}")
"""As `keys.id_from` makes them: nothing else ever becomes a file's name."""


@dataclass(frozen=True, slots=True)
class Album:
    """A folder of pictures."""

    folder: Path

    def put(self, photo: str, picture: bytes) -> None:
        """Keep a picture; the same again changes nothing. On disk when this returns."""
        self.folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        path = self._path(photo)
        part = path.with_suffix(f".{os.getpid()}.part")
        with os.fdopen(os.open(part, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "wb") as file:
            file.write(picture)
            file.flush()
            os.fsync(file.fileno())
        part.replace(path)

    def get(self, photo: str) -> bytes | None:
        """The picture, or None where it is not here."""
        try:
            return self._path(photo).read_bytes()
        except FileNotFoundError:
            return None

    def drop(self, photo: str) -> None:
        """Take it out; it need not be there."""
        self._path(photo).unlink(missing_ok=True)

    def _path(self, photo: str) -> Path:
        if ID.fullmatch(photo) is None:
            msg = f"{photo[:40]!r} is no photo's id"
            raise ValueError(msg)
        return self.folder / f"{photo}.jpg"
