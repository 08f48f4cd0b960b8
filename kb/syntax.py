"""Faults of YAML told in an author's words: the parser's own words speak of tokens and scalars."""

from typing import Final, NamedTuple

from ruamel.yaml.error import MarkedYAMLError, YAMLError

from kb.files import SourceFile
from kb.problems import Place, Problem


class Told(NamedTuple):
    """How one fault of YAML is told."""

    fragment: str
    """What the parser's message contains."""
    what: str
    mend: str
    at_opening: bool = False
    """True where the place to show is the one at which the parser's context began."""


TOLD: Final = (
    Told("'\\t'", "a tab stands where blanks belong", "put two blanks in place of the tab"),
    Told("mapping values are not allowed", "a second colon stands in one line", 'put the text in quotes: "…"'),
    Told("but got ':'", "a colon stands inside a text", 'put the text in quotes: "…", and close every { and ['),
    Told("but got", "this { or [ is not closed", "close it with } or ]", at_opening=True),
    Told("unexpected end of stream", "this quote is not closed", "close it with the same quote", at_opening=True),
    Told("node content, but found", "nothing stands between two commas", "take one comma away"),
    Told("but found '}'", "this } closes nothing", "take it away, or open a { before it"),
    Told("but found ']'", "this ] closes nothing", "take it away, or open a [ before it"),
    Told("but found '-'", "a list begins where a key belongs", "indent the list under its key"),
    Told("but found '<scalar>'", "a text goes on after its closing quote", 'put double quotes around it all: "it\'s"'),
    Told("but found '<block mapping start>'", "this line is indented like no line above it", "indent it like its neighbours"),
    Told("could not find expected ':'", "a line has no colon", "write `key: value`, or indent it under the text above", at_opening=True),
    Told("cannot start any token", "this sign cannot begin a text", 'put the text in quotes: "…"'),
    Told("undefined alias", "a star cannot begin a text", 'put the text in quotes: "…"'),
    Told("another document", "a second `---` begins another page", "one file holds one page: take the line away"),
    Told("maximum depth", "the brackets are nested too deep", "count the brackets: nothing here needs more than eight"),
    Told("unknown escape character", "a backslash stands before a letter that it has no meaning for", "take the backslash away"),
    Told("block scalar", "a text cannot stand on the line of | or >", "begin the text on the next line, indented"),
)  # fmt: skip
ELSE: Final = Told("", "the line cannot be read as YAML", "compare it with a line that works")


def syntax_problem(file: SourceFile, text: str, error: YAMLError) -> Problem:
    """One fault of YAML with its place; the parser stops at the first, so there is one a file."""
    message = getattr(error, "problem", None) or str(error)
    told = next((told for told in TOLD if told.fragment in message), ELSE)
    place = _place(file.shown, text, error, told)
    if told.fragment == "but got ':'" and _opened_elsewhere(error):
        told = next(told for told in TOLD if told.fragment == "but got")
        place = _place(file.shown, text, error, told)
    return Problem(
        place=place,
        what=told.what if place.line else "a sign that no text holds stands in the file",
        why="the rest of the file cannot be read past this place",
        mend=told.mend
        if place.line
        else "take the control characters out; retype the line if you cannot see them",
        rule="broken-yaml",
    )


def _opened_elsewhere(error: YAMLError) -> bool:
    if not isinstance(error, MarkedYAMLError) or error.context_mark is None or error.problem_mark is None:
        return False
    return bool(error.context_mark.line != error.problem_mark.line)


def _place(shown: str, text: str, error: YAMLError, told: Told) -> Place:
    mark = getattr(error, "problem_mark", None)
    if told.at_opening:
        mark = getattr(error, "context_mark", None) or mark
    if mark is None:
        return Place(path=shown)
    lines = text.split("\n")
    excerpt = lines[mark.line] if mark.line < len(lines) else ""
    return Place(path=shown, line=mark.line + 1, column=mark.column + 1, excerpt=excerpt)
