"""Which files make a folder of knowledge, and what kind of node each holds."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import Final, Literal

from kb.problems import Place, Problem, listed

Kind = Literal[
    "symptom",
    "finding",
    "check",
    "cause",
    "fix",
    "hazard",
    "thing",
    "quality",
    "quantity",
    "product",
    "word_group",
    "retired",
]

PACKAGED: Final = Path(__file__).parent / "knowledge"
"""The knowledge that ships with the program, from a checkout as from an installed wheel."""

KIND_OF_FOLDER: Final = MappingProxyType[str, Kind](
    {
        "symptoms": "symptom",
        "findings": "finding",
        "checks": "check",
        "causes": "cause",
        "fixes": "fix",
        "hazards": "hazard",
    }
)
"""One node a file, named after its id: `<family>/findings/filter.yaml`."""

KIND_OF_WORDS: Final = MappingProxyType[str, Kind](
    {
        "things.yaml": "thing",
        "qualities.yaml": "quality",
        "quantities.yaml": "quantity",
        "products.yaml": "product",
        "word_groups.yaml": "word_group",
    }
)
"""Many entries a file, each under its id, in the folder `words`."""

RETIRED: Final = "retired.yaml"
"""Beside the families: ids that are no longer used, an entry a kind."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SourceFile:
    """One file of knowledge, as found."""

    shown: str
    """The path as the author types it: from the working directory where the file lies below it."""
    relative: str
    """The path inside the folder, with `/`: the same on every machine."""
    kind: Kind
    data: bytes

    @property
    def holds_many(self) -> bool:
        """True for a file of words: many entries, each under its id; and for the one of retired ids."""
        return self.kind == "retired" or self.kind in KIND_OF_WORDS.values()

    @property
    def stem(self) -> str:
        """The file's name without its ending."""
        return self.relative.rsplit("/", 1)[-1].removesuffix(".yaml")


def find_files(folder: Path) -> tuple[tuple[SourceFile, ...], tuple[Problem, ...]]:
    """Every file of knowledge under `folder`, in order of path, and what is wrong with where they lie."""
    if not folder.is_dir():
        return (), (_no_folder(folder),)
    files: list[SourceFile] = []
    problems: list[Problem] = []
    for path in _yaml_files(folder):
        found = _as_source(path, folder)
        if isinstance(found, Problem):
            problems.append(found)
        else:
            files.append(found)
    if not files and not problems:
        problems.append(_nothing_there(folder))
    return tuple(sorted(files, key=lambda file: file.relative)), tuple(problems)


def files_of_texts(texts: Mapping[str, str]) -> tuple[tuple[SourceFile, ...], tuple[Problem, ...]]:
    """The same of texts by their path inside a folder that need not exist."""
    files: list[SourceFile] = []
    problems: list[Problem] = []
    for relative, text in sorted(texts.items()):
        if not relative.endswith(".yaml"):
            continue
        kind = _kind(tuple(relative.split("/")))
        if kind is None:
            problems.append(_misplaced(relative))
        else:
            files.append(SourceFile(shown=relative, relative=relative, kind=kind, data=text.encode()))
    return tuple(files), tuple(problems)


def shown_path(path: Path) -> str:
    """The path from the working directory where it lies below it, else as it is; `/` on every machine."""
    here = Path.cwd()
    return (path.relative_to(here) if path.is_relative_to(here) else path).as_posix()


def _yaml_files(folder: Path) -> Iterator[Path]:
    for path in sorted(folder.rglob("*")):
        hidden = any(part.startswith(".") for part in path.relative_to(folder).parts)
        if path.suffix.lower() in {".yaml", ".yml"} and not hidden and not path.is_dir():
            yield path


def _as_source(path: Path, folder: Path) -> SourceFile | Problem:
    kind = _kind(path.relative_to(folder).parts)
    if kind is None or path.suffix != ".yaml":
        return _misplaced(shown_path(path))
    try:
        data = path.read_bytes()
    except OSError as error:
        return _unreadable(path, error)
    relative = path.relative_to(folder).as_posix()
    return SourceFile(shown=shown_path(path), relative=relative, kind=kind, data=data)


def _kind(parts: tuple[str, ...]) -> Kind | None:
    if parts == (RETIRED,):
        return "retired"
    if len(parts) == 2 and parts[0] == "words":  # noqa: PLR2004 — folder and file
        return KIND_OF_WORDS.get(parts[1])
    return KIND_OF_FOLDER.get(parts[-2]) if len(parts) > 2 else None  # noqa: PLR2004 — family, kind and file


def _no_folder(folder: Path) -> Problem:
    return Problem(
        place=Place(path=shown_path(folder)),
        what="there is no such folder",
        why="knowledge is a folder of files, and this path leads to none",
        mend="give the folder that holds `words/` and the families, such as `kb/knowledge`",
        rule="missing-folder",
    )


def _nothing_there(folder: Path) -> Problem:
    return Problem(
        place=Place(path=shown_path(folder)),
        what="the folder holds no knowledge",
        why="without a finding and a cause nothing can be asked or mended",
        mend="give the folder that holds `words/` and the families, such as `kb/knowledge`",
        rule="empty-folder",
    )


def _misplaced(shown: str) -> Problem:
    folders = listed(f"{folder}/" for folder in KIND_OF_FOLDER)
    return Problem(
        place=Place(path=shown),
        what="this file lies where no kind of knowledge lies",
        why="the folder says what a file is, and nobody would read this one",
        mend=f"move it to `<family>/` and one of {folders}, with the ending `.yaml`; "
        f"words live in {listed(f'words/{name}' for name in KIND_OF_WORDS)}",
        rule="misplaced-file",
    )


def _unreadable(path: Path, error: OSError) -> Problem:
    return Problem(
        place=Place(path=shown_path(path)),
        what=f"the file cannot be read: {error.strerror or 'the system refused'}",
        why="what cannot be read cannot be checked",
        mend="give yourself leave to read it, or take it out of the folder",
        rule="unreadable-file",
    )
