"""From the bytes of one file to plain values, and back from a value to its line and column.

YAML 1.2, so that `no`, `off` and `12:30` stay the words they are; doubled keys, anchors and tags are refused.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Final, TypeAlias

from ruamel.yaml import YAML
from ruamel.yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

from kb.files import SourceFile
from kb.problems import Place, Problem

Plain: TypeAlias = Any
"""str, int, float, bool, None, list or dict of these; typed by pydantic a moment later, hence `Any`."""
Location = tuple[str | int, ...]
"""Keys and indexes from the top of a file down to one value."""

DEEPEST: Final = 30
"""Levels of nesting; the schema needs eight, and the parser's stack must not decide."""
CORE: Final = "tag:yaml.org,2002:"


@dataclass(frozen=True, slots=True)
class Page:
    """One file as written: what it says, and where each word of it stands."""

    file: SourceFile
    text: str
    value: Plain

    def place(self, location: Location, *, key: bool = False) -> Place:
        """The place of a value, or of its key; of the nearest thing above it where `location` leads nowhere."""
        return _place(self.file.shown, self.text, _node_at(compose(self.text), location, key=key))


def text_of(file: SourceFile) -> str | Problem:
    """The file's text, or why it is none."""
    if b"\x00" in file.data:
        return _whole(file, "this is not a text file", "not-text", "save it as plain text, encoding UTF-8")
    try:
        text = file.data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = file.data.count(b"\n", 0, error.start) + 1
        what = f"line {line} holds a byte that is not UTF-8"
        return _whole(file, what, "wrong-encoding", "save the file with the encoding UTF-8")
    return text.replace("\r\n", "\n")


@lru_cache(maxsize=64)
def compose(text: str) -> Node | None:
    """The tree of marked nodes; None for an empty text. Fails with `MarkedYAMLError` or `YAMLStreamError`."""
    yaml = YAML(typ="safe", pure=True)
    yaml.version = (1, 2)
    yaml.max_depth = DEEPEST
    yaml.composer.warn_double_anchors = False  # an anchor is refused with its place, not warned of
    return yaml.compose(text)  # type: ignore[no-any-return]  # ruamel.yaml types it Any


def plain(node: Node) -> Plain:
    """The values of a tree without faults; keys are always words, whatever they look like."""
    if isinstance(node, MappingNode):
        return {key.value: plain(value) for key, value in node.value}
    if isinstance(node, SequenceNode):
        return [plain(item) for item in node.value]
    return _scalar(node)


def faults(shown: str, text: str, node: Node) -> Iterator[Problem]:
    """What YAML allows and we refuse: doubled keys, keys that are no words, anchors, tags."""
    if node.anchor is not None:
        yield _refused(_place(shown, text, node), "an anchor hides what is written", "anchor", "write it out")
        return
    if not str(node.tag).startswith(CORE):
        yield _refused(
            _place(shown, text, node), f"the tag `{node.tag}` has no meaning", "tag", "take the tag away"
        )
    if isinstance(node, MappingNode):
        yield from _key_faults(shown, text, node)
        children: Sequence[Node] = [value for _, value in node.value]
    else:
        children = node.value if isinstance(node, SequenceNode) else ()
    for child in children:
        yield from faults(shown, text, child)


def _key_faults(shown: str, text: str, node: MappingNode) -> Iterator[Problem]:
    first: dict[str, Node] = {}
    for key, _ in node.value:
        if not isinstance(key, ScalarNode):
            yield _refused(
                _place(shown, text, key),
                "this key is not a word",
                "key-not-word",
                "write a word before the colon",
            )
        elif key.value in first:
            line = first[key.value].start_mark.line + 1
            yield Problem(
                place=_place(shown, text, key),
                what=f"`{key.value}` is written twice, first on line {line}",
                why="only one of the two would count, and nobody could say which",
                mend="put both under one key, or take one away",
                rule="doubled-key",
            )
        else:
            first[key.value] = key


def _scalar(node: Node) -> Plain:
    tag, text = str(node.tag).removeprefix(CORE), node.value
    if tag == "bool":
        return text.lower() == "true"
    if tag == "null":
        return None
    if tag in {"int", "float"}:
        return _number(text)
    return text  # dates and the rest stay the words they are


def _number(text: str) -> Plain:
    for kind in (int, float):
        try:
            return kind(text)
        except ValueError:
            continue
    return text


def _node_at(node: Node | None, location: Location, *, key: bool) -> Node | None:
    for depth, step in enumerate(location):
        last = depth == len(location) - 1
        if isinstance(node, MappingNode):
            pair = next(((k, v) for k, v in node.value if k.value == step), None)
            if pair is None:
                return node
            node = pair[0] if key and last else pair[1]
        elif isinstance(node, SequenceNode) and isinstance(step, int) and step < len(node.value):
            node = node.value[step]
        else:
            return node
    return node


def _place(shown: str, text: str, node: Node | None) -> Place:
    if node is None:
        return Place(path=shown)
    start, end = node.start_mark, node.end_mark
    lines = text.split("\n")
    excerpt = lines[start.line] if start.line < len(lines) else ""
    same_line = isinstance(node, ScalarNode) and end.line == start.line
    length = end.column - start.column if same_line else 1
    return Place(
        path=shown, line=start.line + 1, column=start.column + 1, length=max(1, length), excerpt=excerpt
    )


def _refused(place: Place, what: str, rule: str, mend: str) -> Problem:
    why = "knowledge is read aloud by its authors, so only plain keys, lists and words are taken"
    return Problem(place=place, what=what, why=why, mend=mend, rule=rule)


def _whole(file: SourceFile, what: str, rule: str, mend: str) -> Problem:
    why = "what cannot be read cannot be checked"
    return Problem(place=Place(path=file.shown), what=what, why=why, mend=mend, rule=rule)
