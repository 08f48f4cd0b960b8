"""The shelf: every page of a folder with the nodes on it, and all that is wrong with them. `kb.loading` fills it."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from pydantic import BaseModel

from kb.files import KIND_OF_FOLDER, KIND_OF_WORDS, RETIRED, Kind
from kb.problems import Place, Problem, Severity
from kb.written import Location, Page


@dataclass(frozen=True, slots=True)
class Origin:
    """Where a node is written: its page, and the key under which it stands there (none where it is the whole page)."""

    page: Page
    top: Location = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelf:
    """Nodes by kind and id with their origins; a node that does not fit its model is not on it."""

    nodes: Mapping[Kind, Mapping[str, BaseModel]]
    origins: Mapping[tuple[Kind, str], Origin]

    def place(self, kind: Kind, id_: str, *location: str | int, key: bool = False) -> Place:
        """The place of one part of a node: `shelf.place("cause", "filter_clogged", "shows", "filter")`."""
        origin = self.origins[kind, id_]
        return origin.page.place(origin.top + location, key=key)

    def problem(
        self,
        kind: Kind,
        id_: str,
        *location: str | int,
        what: str,
        why: str,
        mend: str,
        rule: str,
        severity: Severity = "error",
        key: bool = False,
    ) -> Problem:
        """One problem at one part of a node."""
        place = self.place(kind, id_, *location, key=key)
        return Problem(place=place, what=what, why=why, mend=mend, rule=rule, severity=severity)


def ids_of_page(page: Page) -> Iterator[tuple[str, Location]]:
    """The ids that a page claims, with where their values stand."""
    if not isinstance(page.value, dict):
        return
    if page.file.holds_many:
        yield from ((id_, (id_,)) for id_ in page.value)
    else:
        written = page.value.get(page.file.kind)
        yield (written if isinstance(written, str) else page.file.stem), ()


def home_of(kind: Kind, id_: str) -> str:
    """Where a new node of a kind would be written, for a `mend`."""
    for folder, of in KIND_OF_FOLDER.items():
        if of == kind:
            return f"<family>/{folder}/{id_}.yaml"
    if kind == "retired":
        return RETIRED
    return next(f"words/{file}" for file, of in KIND_OF_WORDS.items() if of == kind)
