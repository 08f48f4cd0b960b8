"""A new name for an id, or its end, in every file at once: all of it or nothing.

In: a folder whose knowledge loads. Out: `Changes`, which `write` carries out; a result that would not load is refused
with what is wrong with it. The trail that open cases need is part of the change: `was:`, or a tombstone.
"""

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

from kb.editing import Edit, edited, first_key, without, word_at
from kb.errors import KnowledgeError, RequestError
from kb.files import RETIRED, Kind, SourceFile, find_files
from kb.linting.stale_spanish import RECORD, recorded
from kb.loading import SHAPE_OF_ID, default_store, fill_shelf
from kb.mentions import Mention, mentions
from kb.problems import nearest
from kb.schema import Check, Finding, Node
from kb.trail import trail_of
from kb.written import Location, text_of

HEARD_FOLDERS: Final[Mapping[Kind, str]] = {
    "finding": "findings",
    "hazard": "hazards",
    "symptom": "complaints",
}
"""Where the phrases of a node stand: `heard/<language>/<folder>/ID.txt`."""
TOMBS: Final = """# Ids that are no longer used, each under its kind. None of them ever comes back for something else: open cases may
# hold them. `helpline kb retire ID` writes here.
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Named:
    """What an author means by `filter`, `finding:filter` or `filter.clogged`."""

    kind: Kind
    id: str
    state: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Changes:
    """What becomes of each file, by its path inside the folder; None: it goes."""

    files: Mapping[str, str | None]
    moved: Mapping[str, str]
    """Old path → new path, before the text changes."""
    places: int
    """How many mentions were changed."""

    def write(self, folder: Path) -> None:
        """Carry it out."""
        for old, new in self.moved.items():
            (folder / new).parent.mkdir(parents=True, exist_ok=True)
            (folder / old).rename(folder / new)
        for path, text in self.files.items():
            if text is None:
                (folder / path).unlink()
            else:
                (folder / path).write_bytes(text.encode())


class Bench:
    """A folder of knowledge that loads, open for edits."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        found, misplaced = find_files(folder)
        self.files = {file.relative: file for file in found}
        self.shelf, problems = fill_shelf(found, default_store(), keep=False)
        if problems or misplaced:
            raise KnowledgeError((*misplaced, *problems))

    def named(self, name: str) -> Named:
        """The node or state that a name means. Fails with `RequestError` where it is none, or several."""
        kind, _, rest = name.rpartition(":")
        id_, _, state = rest.partition(".")
        there = [
            k
            for k, of_kind in self.shelf.nodes.items()
            if k != "retired" and id_ in of_kind and kind in ("", k)
        ]
        if state:
            there = [k for k in there if k == "finding"]
        if not there:
            near = nearest(id_, {id_ for of_kind in self.shelf.nodes.values() for id_ in of_kind})
            mend = f"write `{near}`" if near else "`helpline kb vocabulary` lists what there is"
            raise RequestError(f"nothing in the knowledge is called `{name}`", mend, "not_found")
        if len(there) > 1:
            raise RequestError(f"`{name}` is a {' and a '.join(there)}", f"write `{there[0]}:{name}`")
        self._check_state(id_, state)
        return Named(kind=there[0], id=id_, state=state or None)

    def rename(self, old: Named, new: str) -> Changes:
        """Call it `new` everywhere. Fails with `RequestError` or `KnowledgeError`."""
        self._check_new(old, new)
        edits: dict[str, list[Edit]] = {}
        places = 0
        for relative, location, mention in self._mentions_of(old):
            edits.setdefault(relative, []).append(
                word_at(self._text(relative), location, new, is_key=mention.is_key)
            )
            places += 1
        origin = self.shelf.origins[old.kind, old.id]
        home = origin.page.file.relative
        if old.state is None and origin.top:
            edits.setdefault(home, []).append(word_at(self._text(home), origin.top, new, is_key=True))
        edits.setdefault(home, []).append(self._was(old, new))
        moved = {} if old.state is not None else dict(self._moves(old, new))
        texts = {moved.get(path, path): edited(self._text(path), found) for path, found in edits.items()}
        texts |= self._heard_states(old, new) if old.state is not None else {}
        return self._checked(
            texts, moved, places, {_of_record(old): _of_record(replace(old, id=new))}, old, new
        )

    def retire(self, old: Named, *, why: str, since: str, instead: str | None) -> Changes:
        """Take it out everywhere and leave a tombstone. Fails with `RequestError` or `KnowledgeError`."""
        self._check_end(old, instead)
        origin = self.shelf.origins[old.kind, old.id]
        home = origin.page.file.relative
        edits, places = self._replaced(old, instead)
        if origin.top:
            edits.setdefault(home, []).extend(without(self._text(home), [origin.top]))
        texts: dict[str, str | None] = {
            path: edited(self._text(path), found) for path, found in edits.items()
        }
        if not origin.top:
            texts |= dict.fromkeys((home, *self._heard(old)))
        texts[RETIRED] = self._tombs(old, why=why, since=since, instead=instead)
        return self._checked(texts, {}, places, {_of_record(old): ""}, old, instead)

    def _replaced(self, old: Named, instead: str | None) -> tuple[dict[str, list[Edit]], int]:
        """What becomes of every mention by others: `instead` in its place, or nothing; and how many there are."""
        origin = self.shelf.origins[old.kind, old.id]
        gone: dict[str, list[Location]] = {}
        edits: dict[str, list[Edit]] = {}
        places = 0
        for relative, location, mention in self._mentions_of(old):
            if relative == origin.page.file.relative and location[: len(origin.top)] == origin.top:
                continue
            places += 1
            if instead is not None and not self._stands_beside(relative, location, instead):
                word = word_at(self._text(relative), location, instead, is_key=mention.is_key)
                edits.setdefault(relative, []).append(word)
            else:
                gone.setdefault(relative, []).append(location)
        for relative, locations in gone.items():
            edits.setdefault(relative, []).extend(without(self._text(relative), locations))
        return edits, places

    # -- what stands where ---------------------------------------------------------------------------------------------

    def _text(self, relative: str) -> str:
        text = text_of(self.files[relative])
        return text if isinstance(text, str) else ""

    def _mentions_of(self, old: Named) -> Iterator[tuple[str, Location, Mention]]:
        """Path, place in the file, mention."""
        finds = {
            id_: node.finds for id_, node in self.shelf.nodes["check"].items() if isinstance(node, Check)
        }
        for (kind, id_), origin in self.shelf.origins.items():
            for mention in mentions(self.shelf.nodes[kind][id_], finds):
                means = (
                    (mention.state_of, mention.id) == (old.id, old.state)
                    if old.state is not None
                    else (mention.kind, mention.id, mention.state_of) == (old.kind, old.id, None)
                )
                if means:
                    yield origin.page.file.relative, origin.top + mention.at, mention

    def _stands_beside(self, relative: str, location: Location, id_: str) -> bool:
        """The list or mapping that holds the mention holds `id_`, too."""
        shelf_page = next(o.page for o in self.shelf.origins.values() if o.page.file.relative == relative)
        value = shelf_page.value
        for step in location[:-1]:
            value = value[step]
        return isinstance(value, dict | list) and id_ in value

    def _was(self, old: Named, new: str) -> Edit:
        origin = self.shelf.origins[old.kind, old.id]
        at, after, node = origin.top, 0 if origin.top else 1, self.shelf.nodes[old.kind][old.id]
        before: tuple[str, ...] = node.was if isinstance(node, Node) else ()
        if old.state is not None and isinstance(node, Finding):
            at, after = ("states", old.state), 0
            before = tuple(was for state, of in node.states.items() if state == old.state for was in of.was)
        was = [*(was for was in before if was != new), old.state or old.id]
        text = self._text(origin.page.file.relative)
        if before:
            return _list_at(text, (*at, "was"), was)
        return first_key(text, at, f"was: [{', '.join(was)}]", after=after)

    def _moves(self, old: Named, new: str) -> Iterator[tuple[str, str]]:
        origin = self.shelf.origins[old.kind, old.id]
        if not origin.top:
            home = origin.page.file.relative
            yield home, f"{home.rpartition('/')[0]}/{new}.yaml"
        for path in self._heard(old):
            yield path, f"{path.rpartition('/')[0]}/{new}.txt"

    def _heard(self, old: Named) -> tuple[str, ...]:
        """The files of phrases that belong to a node."""
        folder = HEARD_FOLDERS.get(old.kind)
        found = sorted(self.folder.glob(f"heard/*/{folder}/{old.id}.txt")) if folder else []
        return tuple(path.relative_to(self.folder).as_posix() for path in found)

    def _heard_states(self, old: Named, new: str) -> dict[str, str]:
        """Files of phrases with the sections of a state renamed: `[clogged]`, `[clogged as an answer]`."""
        found = {}
        for path in self._heard(old):
            lines = (self.folder / path).read_text(encoding="utf-8").splitlines(keepends=True)
            found[path] = "".join(_section(line, str(old.state), new) for line in lines)
        return found

    def _tombs(self, old: Named, *, why: str, since: str, instead: str | None) -> str:
        stood = self._text(RETIRED) if RETIRED in self.files else TOMBS
        parts = [f"instead: {instead}"] if instead else []
        stone = f"  {old.id}: {{{', '.join([*parts, f'since: {since}', f'why: {json.dumps(why, ensure_ascii=False)}'])}}}\n"
        lines = stood.splitlines(keepends=True)
        head = next((n for n, line in enumerate(lines) if line.startswith(f"{old.kind}:")), None)
        if head is None:
            return f"{stood.rstrip()}\n{old.kind}:\n{stone}"
        return "".join((*lines[: head + 1], stone, *lines[head + 1 :]))

    # -- whether it may be ----------------------------------------------------------------------------------------------

    def _check_state(self, id_: str, state: str) -> None:
        finding = self.shelf.nodes["finding"].get(id_)
        if state and isinstance(finding, Finding) and state not in finding.states:
            near = nearest(state, finding.states)
            mend = f"write `{id_}.{near}`" if near else f"its states are {', '.join(finding.states)}"
            raise RequestError(f"`{id_}` has no state `{state}`", mend, "not_found")

    def _check_end(self, old: Named, instead: str | None) -> None:
        if old.state is not None:
            raise RequestError(
                "a state is not retired by itself", "rename it to the state that takes its place"
            )
        if old.kind == "hazard" and instead is None:
            what = f"an open case in which `{old.id}` was raised would forget it"
            raise RequestError(what, "give the hazard that covers it now: --instead ID")
        if instead is not None and (instead not in self.shelf.nodes[old.kind] or instead == old.id):
            near = nearest(instead, self.shelf.nodes[old.kind])
            mend = (
                f"write `{near}`"
                if near
                else f"`helpline kb vocabulary` lists what there is of kind {old.kind}"
            )
            raise RequestError(f"there is no other {old.kind} `{instead}`", mend)

    def _check_new(self, old: Named, new: str) -> None:
        if not SHAPE_OF_ID.fullmatch(new):
            raise RequestError(f"`{new}` is no id", "write small letters, digits and _, a letter first")
        finding = self.shelf.nodes["finding"].get(old.id)
        states = finding.states if isinstance(finding, Finding) else {}
        if new in (states if old.state is not None else self.shelf.nodes[old.kind]):
            raise RequestError(
                f"there is a `{new}` already", "choose another id, or retire this one with --instead"
            )
        if old.state is None and trail_of(self.shelf.nodes).retired.get((old.kind, new), "") != "":
            raise RequestError(f"`{new}` was retired, and cases may hold it", "choose another id")

    def _checked(
        self,
        texts: Mapping[str, str | None],
        moved: Mapping[str, str],
        places: int,
        record: Mapping[str, str],
        old: Named,
        new: str | None,
    ) -> Changes:
        """The changes, if what they make loads."""
        after = {
            moved.get(path, path): _renamed(file, moved.get(path, path)) for path, file in self.files.items()
        }
        for path, text in texts.items():
            if text is None:
                after.pop(path, None)
            elif path.endswith(".yaml"):
                kind: Kind = "retired" if path == RETIRED else after[path].kind
                after[path] = SourceFile(shown=path, relative=path, kind=kind, data=text.encode())
        _, problems = fill_shelf(tuple(after[path] for path in sorted(after)), default_store(), keep=False)
        if problems:
            raise KnowledgeError(problems)
        return Changes(files=dict(texts) | self._record(record, old, new), moved=dict(moved), places=places)

    def _record(self, names: Mapping[str, str], old: Named, new: str | None) -> dict[str, str | None]:
        """The record of Spanish under the new names, so that nothing need be vouched for again."""
        stood = recorded(self.folder)
        if not stood:
            return {}
        kept: dict[str, object] = {}
        for name, marks in stood.items():
            for before, after in names.items():
                if old.state is None and name.startswith(before):
                    name = after and after + name.removeprefix(before)  # noqa: PLW2901 - the name goes on as this
                elif old.state is not None and name.startswith(before):
                    name = name.replace(f":{old.state}:", f":{new}:")  # noqa: PLW2901 - as above
            if name:
                kept[name] = marks
        body = json.dumps(dict(sorted(kept.items())), indent=0, ensure_ascii=False)
        return {RECORD: body + "\n"}


def _renamed(file: SourceFile, relative: str) -> SourceFile:
    return replace(file, relative=relative, shown=file.shown if relative == file.relative else relative)


def _list_at(text: str, location: Location, words: list[str]) -> Edit:
    """The list at a place becomes these words."""
    first = word_at(text, (*location, 0), words[0], is_key=False)
    start, end = text.rfind("[", 0, first.start), text.find("]", first.start)
    if "\n" in text[start:end] or start < 0 or end < 0:
        raise RequestError("`was:` is not written as a list in brackets", "write it as `was: [one, another]`")
    return Edit(start, end + 1, f"[{', '.join(words)}]")


def _section(line: str, state: str, new: str) -> str:
    inside = line.strip()
    if inside == f"[{state}]" or (inside.startswith(f"[{state} ") and inside.endswith("]")):
        return line.replace(f"[{state}", f"[{new}", 1)
    return line


def _of_record(named: Named) -> str:
    return f"{named.kind}:{named.id}:"
