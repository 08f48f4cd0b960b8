"""From a folder to a checked `Knowledge`: find, parse, fit to the models, follow every reference; all faults in one run."""

import os
import re
from collections.abc import Iterator, Mapping
from functools import lru_cache
from pathlib import Path
from types import MappingProxyType
from typing import Any, Final, cast

from platformdirs import user_state_path
from pydantic import BaseModel
from ruamel.yaml.error import YAMLError

from kb.checking import MODELS, check_model
from kb.ear import Ear, load_ear
from kb.edition import ParsedStore, edition_of
from kb.errors import KnowledgeError
from kb.files import PACKAGED, Kind, SourceFile, files_of_texts, find_files
from kb.graph import graph_of
from kb.heard import EAR_FILE, HEARD
from kb.knowledge import Knowledge
from kb.problems import Place, Problem, in_order, listed, nearest
from kb.references import Reference, references
from kb.schema import Finding
from kb.shelf import Origin, Shelf, home_of, ids_of_page
from kb.syntax import syntax_problem
from kb.trail import trail_of
from kb.written import Page, compose, faults, plain, text_of

SHAPE_OF_ID: Final = re.compile(r"[a-z][a-z0-9_]*")


def load(folder: Path | None = None, *, store: Path | None = None) -> Knowledge:
    """The knowledge in `folder`; without one, the knowledge that ships with the program.

    `store` is a file in which parsed pages are kept between loads; the packaged knowledge has one without asking, under
    `HELPLINE_HOME`. Fails with `KnowledgeError`, which carries every problem found.
    """
    _, knowledge, problems = look(folder, store=store)
    if knowledge is None:
        raise KnowledgeError(problems)
    return knowledge


def look(
    folder: Path | None = None, *, store: Path | None = None
) -> tuple[Shelf, Knowledge | None, tuple[Problem, ...]]:
    """What `load` does, without failing: the shelf, the knowledge where it is whole, and the problems where it is not."""
    where = PACKAGED if folder is None else folder
    files, misplaced = find_files(where)
    if store is None and where.resolve() == PACKAGED.resolve():
        store = default_store()
    shelf, found = fill_shelf(files, store)
    problems = in_order((*misplaced, *found))
    if problems:
        return shelf, None, problems
    return shelf, knowledge_of(shelf, edition_of(files), ear_in(where)), problems


def ear_in(folder: Path) -> Ear | None:
    """The ear trained for this folder of knowledge, if any."""
    path = folder / HEARD / EAR_FILE
    return _ear_of(path, path.stat().st_mtime_ns) if path.is_file() else None


@lru_cache(maxsize=2)
def _ear_of(path: Path, _changed_ns: int) -> Ear | None:
    return load_ear(path)


def load_files(files: Mapping[str, str]) -> Knowledge:
    """The knowledge in these files, by their path inside a folder, as an edition is kept beside its cases.

    Fails with `KnowledgeError`, which carries every problem found.
    """
    found, misplaced = files_of_texts(files)
    shelf, problems = fill_shelf(found, default_store(), keep=False)
    if problems or misplaced:
        raise KnowledgeError(in_order((*misplaced, *problems)))
    return knowledge_of(shelf, edition_of(found), ear_in(PACKAGED))


@lru_cache(maxsize=4)
def fill_shelf(
    files: tuple[SourceFile, ...], store: Path | None, *, keep: bool = True
) -> tuple[Shelf, tuple[Problem, ...]]:
    """The shelf of these files and what is wrong with them; the same files are read once in a process.

    `keep` false: what is parsed now is not put into the store, which holds the pages of one folder at a time.
    """
    problems: list[Problem] = []
    pages = _pages(files, ParsedStore(store), problems, keep=keep)
    shelf = _shelf(pages, problems)
    problems.extend(_reference_problems(shelf))
    return shelf, tuple(problems)


def knowledge_of(shelf: Shelf, edition: str, ear: Ear | None = None) -> Knowledge:
    """The knowledge on a shelf without faults."""
    nodes = cast(
        "dict[Kind, Any]", shelf.nodes
    )  # each mapping holds the model of its kind: `_shelf` put it there
    return Knowledge(
        edition=edition,
        symptoms=nodes["symptom"],
        findings=nodes["finding"],
        checks=nodes["check"],
        causes=nodes["cause"],
        fixes=nodes["fix"],
        hazards=nodes["hazard"],
        things=nodes["thing"],
        qualities=nodes["quality"],
        quantities=nodes["quantity"],
        products=nodes["product"],
        word_groups=nodes["word_group"],
        trail=trail_of(shelf.nodes),
        ear=ear,
        graph=graph_of(
            symptoms=nodes["symptom"],
            findings=nodes["finding"],
            checks=nodes["check"],
            causes=nodes["cause"],
            fixes=nodes["fix"],
        ),
    )


def default_store() -> Path:
    """Where parsed pages are kept: beside everything else that the program keeps."""
    home = os.environ.get("HELPLINE_HOME")
    return (Path(home) if home else user_state_path("coldroom-helpline")) / "parsed_knowledge.json"


def _pages(
    files: tuple[SourceFile, ...], store: ParsedStore, problems: list[Problem], *, keep: bool
) -> tuple[Page, ...]:
    pages: list[Page] = []
    for file in files:
        found = _page(file, store)
        if isinstance(found, Page):
            pages.append(found)
        else:
            problems.extend(found)
    if keep:
        store.keep({page.file: page.value for page in pages})
    return tuple(pages)


def _page(file: SourceFile, store: ParsedStore) -> Page | tuple[Problem, ...]:
    text = text_of(file)
    if isinstance(text, Problem):
        return (text,)
    known = store.get(file)
    if known is not None:
        return Page(file, text, known)
    try:
        node = compose(text)
    except YAMLError as error:
        return (syntax_problem(file, text, error),)
    if node is None:
        return (_empty(file),)
    found = tuple(faults(file.shown, text, node))
    return found or _mapping(Page(file, text, plain(node)))


def _mapping(page: Page) -> Page | tuple[Problem, ...]:
    if isinstance(page.value, dict):
        return page
    first = "an id and a colon" if page.file.holds_many else f"`{page.file.kind}: {page.file.stem}`"
    what = "the page is a list" if isinstance(page.value, list) else "the page is one text"
    why = "a page of knowledge is keys with values, the first of which names it"
    return (
        Problem(
            place=page.place(()), what=what, why=why, mend=f"begin it with {first}", rule="not-a-mapping"
        ),
    )


def _shelf(pages: tuple[Page, ...], problems: list[Problem]) -> Shelf:
    nodes: dict[Kind, dict[str, BaseModel]] = {kind: {} for kind in MODELS}
    written: dict[Kind, dict[str, Origin]] = {kind: {} for kind in MODELS}
    for page in pages:
        kind = page.file.kind
        for id_, top in ids_of_page(page):
            origin = Origin(page, top)
            problems.extend(_id_problems(kind, id_, origin, written[kind].get(id_)))
            written[kind].setdefault(id_, origin)
            found = check_model(page, kind, top, page.value[id_] if top else page.value)
            if isinstance(found, tuple):
                problems.extend(found)
            else:
                nodes[kind].setdefault(id_, found)
    return Shelf(
        nodes=MappingProxyType({kind: _sorted(of_kind) for kind, of_kind in nodes.items()}),
        origins=MappingProxyType({(kind, id_): o for kind, ids in written.items() for id_, o in ids.items()}),
    )


def _sorted(nodes: Mapping[str, BaseModel]) -> Mapping[str, BaseModel]:
    return MappingProxyType(dict(sorted(nodes.items())))


def _id_problems(kind: Kind, id_: str, origin: Origin, earlier: Origin | None) -> Iterator[Problem]:
    if not SHAPE_OF_ID.fullmatch(id_):
        yield _at_id(
            kind,
            origin,
            what=f"`{id_}` is no id",
            why="ids stand in file names, links and records, where other signs break",
            mend="write small letters, digits and _, a letter first",
            rule="bad-id",
        )
    elif not origin.top and id_ != origin.page.file.stem:
        yield _at_id(
            kind,
            origin,
            what=f"the page is about `{id_}` and the file is named `{origin.page.file.stem}`",
            why="an author who looks for one would not find the other",
            mend=f"name the file `{id_}.yaml`, or write `{kind}: {origin.page.file.stem}`",
            rule="file-name",
        )
    if earlier is not None:
        yield _at_id(
            kind,
            origin,
            what=f"there is a {kind} `{id_}` already",
            why="only one of the two would count, and nobody could say which",
            mend=f"put both into one page, or rename one; the other stands in {earlier.page.file.shown}",
            rule="doubled-id",
        )


def _at_id(kind: Kind, origin: Origin, *, what: str, why: str, mend: str, rule: str) -> Problem:
    place = origin.page.place(origin.top or (kind,), key=bool(origin.top))
    return Problem(place=place, what=what, why=why, mend=mend, rule=rule)


def _reference_problems(shelf: Shelf) -> Iterator[Problem]:
    known = {kind: {id_ for of, id_ in shelf.origins if of == kind} for kind in MODELS}
    for kind, nodes in shelf.nodes.items():
        for id_, node in nodes.items():
            for reference in references(kind, node, shelf.nodes):
                if reference.state is not None:
                    yield from _state_problems(shelf, kind, id_, reference)
                elif reference.id not in known[reference.kind]:
                    yield _unknown_id(shelf, kind, id_, reference, known[reference.kind])
            if isinstance(node, Finding):
                yield from _own_state_problems(shelf, node)


def _unknown_id(shelf: Shelf, kind: Kind, id_: str, reference: Reference, known: set[str]) -> Problem:
    near = nearest(reference.id, known)
    new = f"write {home_of(reference.kind, reference.id)}"
    return shelf.problem(
        kind,
        id_,
        *reference.at,
        key=reference.is_key,
        what=f"there is no {reference.kind} `{reference.id}`",
        why=reference.why,
        mend=f"write `{near}`, or {new}" if near else new,
        rule=f"unknown-{reference.kind}",
    )


def _state_problems(shelf: Shelf, kind: Kind, id_: str, reference: Reference) -> Iterator[Problem]:
    finding = shelf.nodes["finding"].get(reference.id)
    if not isinstance(finding, Finding) or reference.state in finding.states:
        return  # a finding that is unknown or has faults of its own is told of elsewhere
    yield _unknown_state(
        shelf,
        finding,
        shelf.place(kind, id_, *reference.state_at, key=reference.is_key),
        str(reference.state),
        reference.why,
    )


def _own_state_problems(shelf: Shelf, finding: Finding) -> Iterator[Problem]:
    named: list[tuple[str, tuple[str, ...], bool]] = [
        (state, ("background", state), True) for state in finding.background
    ]
    named += [(state, ("sayings", state), True) for state in finding.sayings]
    named += [(state, ("answers", state), True) for state in finding.answers]
    named += [] if finding.normal is None else [(finding.normal, ("normal",), False)]
    for state, at, key in named:
        if state not in finding.states:
            place = shelf.place("finding", finding.finding, *at, key=key)
            yield _unknown_state(shelf, finding, place, state, "a state that the finding lacks says nothing")


def _unknown_state(shelf: Shelf, finding: Finding, place: Place, state: str, why: str) -> Problem:
    home = shelf.place("finding", finding.finding, "states", key=True)
    near = nearest(state, finding.states)
    states = f"the states are {listed(finding.states)} ({home.path}:{home.line})"
    return Problem(
        place=place,
        what=f"`{finding.finding}` has no state `{state}`",
        why=why,
        mend=f"write `{near}`; {states}" if near else states,
        rule="unknown-state",
    )


def _empty(file: SourceFile) -> Problem:
    return Problem(
        place=Place(path=file.shown),
        what="the file is empty",
        why="an empty page names nothing, and what points at it would point nowhere",
        mend=f"begin it with `{file.kind}: {file.stem}`, or delete it",
        rule="empty-file",
    )
