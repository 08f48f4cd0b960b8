"""Texts with what careful readers say they say: sets as in tests/people, JSON Lines."""

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from kb.ids import CheckId, Language


@dataclass(frozen=True, slots=True, kw_only=True)
class Labelled:
    """One text with what people say it says."""

    text: str
    language: Language
    about: CheckId | None = None
    findings: Mapping[str, str] = field(default_factory=dict)
    quantities: tuple[tuple[str, float], ...] = ()
    complaints: tuple[str, ...] = ()
    hazards: tuple[str, ...] = ()
    moves: tuple[str, ...] = ()
    answer: Mapping[str, Any] | None = None
    """`Any`: as it stands in the file."""
    kinds: tuple[str, ...] = ()


def labelled_in(lines: Iterable[str]) -> Iterator[Labelled]:
    """The labelled texts of a JSON Lines file; empty lines are passed over."""
    for line in lines:
        if not line.strip():
            continue
        row = json.loads(line)
        labels = row.get("labels", {})
        yield Labelled(
            text=row["text"],
            language=row["language"],
            about=CheckId(row["about"]) if row.get("about") else None,
            findings=labels.get("findings", {}),
            quantities=tuple(
                (entry["quantity"], float(entry["si"])) for entry in labels.get("quantities", ())
            ),
            complaints=tuple(labels.get("complaints", ())),
            hazards=tuple(labels.get("hazards", ())),
            moves=tuple(labels.get("moves", ())),
            answer=labels.get("answer"),
            kinds=tuple(row.get("kinds", ())),
        )


def set_files(paths: Iterable[Path]) -> tuple[Path, ...]:
    """The set files among `paths`: a folder stands for the `.jsonl` files in it, in the order of their names."""
    return tuple(
        file for path in paths for file in (sorted(path.glob("*.jsonl")) if path.is_dir() else (path,))
    )


def texts_of(files: Sequence[Path]) -> tuple[Labelled, ...]:
    """All texts of some files.

    Fails with `OSError` on a file that cannot be opened, with `ValueError` or `KeyError` on one that is no set.
    """
    return tuple(
        text for file in files for text in labelled_in(file.read_text(encoding="utf-8").splitlines())
    )
