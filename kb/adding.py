"""A wording taken in: put where its meaning stands, by position, so that the rest of the file stays as it is.

Where a node has a file of phrases (`heard/<language>/…/ID.txt`) it goes there, under its section; else into the node's
own file, under `sayings` (said unasked) or `answers` (said in reply to its question).
"""

import json
import re
from pathlib import Path
from typing import Literal

from kb.editing import Edit, edited, first_key
from kb.ids import Language
from kb.renaming import HEARD_FOLDERS, Bench, Named
from kb.schema import Finding
from kb.written import Location, Plain, compose, plain, text_of

How = Literal["said", "answer"]
PLAIN_WORDS = re.compile(r"[^\W\d][\w' ]*")


def taken_in(bench: Bench, named: Named, phrase: str, language: Language, how: How) -> tuple[Path, str]:
    """(file, its text with the phrase)."""
    heard = bench.folder / "heard" / language / HEARD_FOLDERS.get(named.kind, "") / f"{named.id}.txt"
    if heard.is_file():
        return heard, _in_section(heard.read_text(encoding="utf-8"), _section_of(named, how), phrase)
    origin = bench.shelf.origins[named.kind, named.id]
    text = text_of(origin.page.file)
    assert isinstance(text, str)  # noqa: S101 - the bench opens only what loads
    key = "answers" if how == "answer" and named.kind == "finding" else "sayings"
    at: Location = (key, named.state) if named.state is not None else (key,)
    return bench.folder / origin.page.file.relative, _in_page(text, at, language, _quoted(phrase))


def has_states(bench: Bench, named: Named) -> bool:
    """It is a finding: a wording says one of its states."""
    return isinstance(bench.shelf.nodes[named.kind][named.id], Finding)


def _in_page(text: str, at: Location, language: Language, phrase: str) -> str:
    there = plain(compose(text)) if compose(text) is not None else {}  # type: ignore[arg-type]  # just looked at
    if isinstance(_value(there, (*at, language)), list):
        return edited(text, [_first_item(text, (*at, language), phrase)])
    if isinstance(_value(there, at), dict):
        return edited(text, [first_key(text, at, f"{language}: [{phrase}]", after=0)])
    if len(at) > 1 and isinstance(_value(there, at[:1]), dict):
        return edited(text, [first_key(text, at[:1], f"{at[1]}: {{{language}: [{phrase}]}}", after=0)])
    if text.lstrip().startswith("{"):  # a page in braces
        inner = f"{{{language}: [{phrase}]}}"
        inner = f"{{{at[1]}: {inner}}}" if len(at) > 1 else inner
        return edited(text, [first_key(text, (), f"{at[0]}: {inner}", after=1)])
    below = f"  {at[1]}: {{{language}: [{phrase}]}}" if len(at) > 1 else f"  {language}: [{phrase}]"
    return f"{text.rstrip()}\n{at[0]}:\n{below}\n"


def _value(value: Plain, at: Location) -> Plain:
    for step in at:
        if not isinstance(value, dict) or step not in value:
            return None
        value = value[step]
    return value


def _first_item(text: str, at: Location, phrase: str) -> Edit:
    node = compose(text)
    for step in at:
        node = next(value for key, value in node.value if key.value == step)  # type: ignore[union-attr]  # `_value` found it
    assert node is not None  # noqa: S101 - as above
    start = node.start_mark.index
    if not node.flow_style:  # type: ignore[attr-defined]  # a list has it
        column = node.start_mark.column
        return Edit(start, start, f"- {phrase}\n{'':{column}}")
    return Edit(start + 1, start + 1, f"{phrase}, " if node.value else phrase)


def _section_of(named: Named, how: How) -> str:
    if named.state is None:
        return "told"
    return f"{named.state} as an answer" if how == "answer" else named.state


def _in_section(text: str, section: str, phrase: str) -> str:
    lines = text.splitlines()
    head = next((n for n, line in enumerate(lines) if line.strip() == f"[{section}]"), None)
    if head is None:
        return "\n".join((*lines, f"[{section}]", phrase)) + "\n"
    return "\n".join((*lines[: head + 1], phrase, *lines[head + 1 :])) + "\n"


def _quoted(phrase: str) -> str:
    return phrase if PLAIN_WORDS.fullmatch(phrase) else json.dumps(phrase, ensure_ascii=False)
