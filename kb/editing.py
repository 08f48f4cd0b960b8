"""Edits of one file of knowledge by position: what is not edited keeps every blank and every remark.

In: the text, and where in it something changes. Out: the text anew. Never: a dump of parsed values, which would lose
the author's line breaks.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from ruamel.yaml.nodes import MappingNode, Node, SequenceNode

from kb.written import Location, compose


@dataclass(frozen=True, slots=True, order=True)
class Edit:
    """The code points from `start` up to `end` become `text`."""

    start: int
    end: int
    text: str


def edited(text: str, edits: Iterable[Edit]) -> str:
    """The text with all edits made, the same edit once. Fails with `ValueError` where two overlap.

    >>> edited("fixes: [brush, wash]", [Edit(8, 13, "sweep")])
    'fixes: [sweep, wash]'
    """
    begun = len(text)
    for edit in sorted(set(edits), reverse=True):
        if edit.end > begun:
            msg = f"two edits meet at {edit.start}"
            raise ValueError(msg)
        text = text[: edit.start] + edit.text + text[edit.end :]
        begun = edit.start
    return text


def word_at(text: str, location: Location, new: str, *, is_key: bool) -> Edit:
    """The key or value at a place becomes `new`, with the quotes that it has."""
    node = _found(text, location, key=is_key)
    start, end = node.start_mark.index, node.end_mark.index
    quote = text[start] if text[start] in "\"'" else ""
    return Edit(start, end, f"{quote}{new}{quote}")


def first_key(text: str, location: Location, written: str, *, after: int) -> Edit:
    """`written` (`key: value`) as a key of its own in the mapping at a place, behind its first `after` keys."""
    node = _found(text, location, key=False)
    if not isinstance(node, MappingNode):
        msg = f"no mapping at {location}"
        raise TypeError(msg)
    at = min(after, len(node.value) - 1)
    start = node.value[at][0].start_mark
    if node.flow_style:
        return Edit(start.index, start.index, f"{written}, ")
    return Edit(start.index, start.index, f"{written}\n{'':{start.column}}")


def without(text: str, gone: Iterable[Location]) -> list[Edit]:
    """Entries of mappings (by their key) and items of lists taken away, with the lines or commas that held them."""
    by_parent: dict[Location, set[str | int]] = {}
    for location in gone:
        by_parent.setdefault(location[:-1], set()).add(location[-1])
    found: list[Edit] = []
    for parent, steps in by_parent.items():
        if any(
            parent[: len(other) + 1] == (*other, step) for other, all_ in by_parent.items() for step in all_
        ):
            continue  # what held it is taken away whole
        found += _without_in(text, _found(text, parent, key=False), steps)
    return found


def _without_in(text: str, node: Node, steps: set[str | int]) -> list[Edit]:
    if isinstance(node, MappingNode):
        parts = [(key.value, key, value) for key, value in node.value]
    elif isinstance(node, SequenceNode):
        parts = [(index, item, item) for index, item in enumerate(node.value)]
    else:
        return []
    kept = [part for part in parts if part[0] not in steps]
    if not kept:
        empty = "{}" if isinstance(node, MappingNode) else "[]"
        return [Edit(node.start_mark.index, _last(node), empty)]
    if node.flow_style:
        return [_in_a_row(parts, kept, index) for index, part in enumerate(parts) if part[0] in steps]
    return [_of_lines(text, first, last) for step, first, last in parts if step in steps]


def _in_a_row(
    parts: list[tuple[str | int, Node, Node]], kept: list[tuple[str | int, Node, Node]], at: int
) -> Edit:
    """One part of `[a, b]` or `{a: 1, b: 2}`, with the comma behind it; the last ones with the comma before them."""
    _, first, last = parts[at]
    if parts.index(kept[-1]) > at:
        return Edit(first.start_mark.index, parts[at + 1][1].start_mark.index, "")
    return Edit(parts[at - 1][2].end_mark.index, last.end_mark.index, "")


def _of_lines(text: str, first: Node, last: Node) -> Edit:
    start = text.rfind("\n", 0, first.start_mark.index) + 1
    end = text.find("\n", _last(last))
    return Edit(start, len(text) if end < 0 else end + 1, "")


def _last(node: Node) -> int:
    """Where the last word of a node ends: the end of a block, as the parser has it, takes in the remarks after it."""
    if not isinstance(node, MappingNode | SequenceNode) or node.flow_style or not node.value:
        return int(node.end_mark.index)
    last = node.value[-1]
    return _last(last[1] if isinstance(last, tuple) else last)


def _found(text: str, location: Location, *, key: bool) -> Node:
    node = compose(text)
    for depth, step in enumerate(location):
        if isinstance(node, MappingNode):
            pair = next((pair for pair in node.value if pair[0].value == step), None)
            node = None if pair is None else pair[0] if key and depth == len(location) - 1 else pair[1]
        elif isinstance(node, SequenceNode) and isinstance(step, int) and step < len(node.value):
            node = node.value[step]
        else:
            node = None
        if node is None:
            msg = f"nothing stands at {location}"
            raise KeyError(msg)
    if node is None:
        msg = "an empty page"
        raise KeyError(msg)
    return node
