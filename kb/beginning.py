"""A page begun: the template of its kind, with its id and with what the author already knows of it.

In: a kind, an id, ids that it is about. Out: the path and the text of a page that loads; what is still to be written
stands <in angle brackets>, and the check asks for it (`unwritten`).
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from os.path import relpath
from pathlib import Path
from typing import Final, Literal

from kb.errors import RequestError
from kb.files import KIND_OF_FOLDER, Kind
from kb.json_schema import SCHEMAS
from kb.knowledge import Knowledge
from kb.loading import SHAPE_OF_ID
from kb.problems import listed, nearest
from kb.schema import Finding

Begun = Literal["cause", "check", "finding", "fix", "hazard", "symptom"]
BEGUN: Final[tuple[Begun, ...]] = ("cause", "check", "finding", "fix", "hazard", "symptom")
TEMPLATES: Final = Path(__file__).parent / "starting"


@dataclass(frozen=True, slots=True, kw_only=True)
class About:
    """What a new page is about, as far as the author says."""

    shows: Sequence[str] = ()
    """Of a cause: what it shows, as `finding.state`."""
    fixes: Sequence[str] = ()
    finds: str | None = None
    """Of a check."""
    touches: Sequence[str] = ()
    """Of a fix."""


def page_begun(knowledge: Knowledge, kind: Begun, id_: str, family: str, about: About) -> tuple[str, str]:
    """(path inside the folder, text). Fails with `RequestError` on an id that is taken or no id, or an unknown one."""
    _check_id(knowledge, kind, id_)
    folder = next(folder for folder, of in KIND_OF_FOLDER.items() if of == kind)
    path = f"{family}/{folder}/{id_}.yaml"
    words = {
        "THE_ID": id_,
        "THE_SCHEMA": relpath(f"{SCHEMAS}/{kind}.json", Path(path).parent).replace("\\", "/"),
    }
    text = (TEMPLATES / f"{kind}.yaml").read_text(encoding="utf-8")
    if kind == "cause":
        return path, _cause(knowledge, _filled(text, words), about)
    if kind == "check":
        if about.finds is None:
            raise RequestError(
                "a check finds one finding, and none is named", "add --finds FINDING; begin that one first"
            )
        words["THE_FINDS"] = _known("finding", about.finds, knowledge.findings)
    if kind == "fix":
        words["THE_TOUCHES"] = ", ".join(_known("finding", one, knowledge.findings) for one in about.touches)
    return path, _filled(text, words)


def _cause(knowledge: Knowledge, text: str, about: About) -> str:
    fixes = [_known("fix", one, knowledge.fixes) for one in about.fixes]
    shows = [_state(knowledge, one) for one in about.shows]
    text = text.replace("THE_FIXES", ", ".join(fixes))
    lines: list[str] = []
    for line in text.splitlines():
        if "THE_SHOWS" in line:
            remark = line.partition("#")[2].strip()
            lines += [f"  # {remark}", *(f"  {finding}: {{{state}: usually}}" for finding, state in shows)]
        else:
            lines.append(line)
    text = "\n".join(lines) + "\n"
    if not shows:
        text = text.replace("shows:  ", "shows: {}  ", 1)
    if not (shows and fixes):  # an example of nothing promises nothing
        return text.replace("examples:  ", "examples: []  ", 1).replace(
            "  - said: {THE_SAID}\n    fix: THE_FIX\n", ""
        )
    said = ", ".join(f"{finding}: {state}" for finding, state in shows)
    return _filled(text, {"THE_SAID": said, "THE_FIX": fixes[0]})


def _filled(text: str, words: dict[str, str]) -> str:
    for place in sorted(words, key=len, reverse=True):
        text = text.replace(place, words[place])
    return text


def _check_id(knowledge: Knowledge, kind: Begun, id_: str) -> None:
    if not SHAPE_OF_ID.fullmatch(id_):
        raise RequestError(f"`{id_}` is no id", "write small letters, digits and _, a letter first")
    if id_ in of_kind(knowledge, kind):
        raise RequestError(
            f"there is a {kind} `{id_}` already", f"`helpline kb show {kind}:{id_}` shows it; mend that one"
        )
    if knowledge.trail.knows(kind, id_):
        raise RequestError(f"`{id_}` was used before, and open cases may hold it", "choose another id")


def of_kind(knowledge: Knowledge, kind: Kind) -> Sequence[str]:
    """All ids of one of the kinds that have pages."""
    found: dict[Kind, Sequence[str]] = {
        "cause": tuple(knowledge.causes),
        "check": tuple(knowledge.checks),
        "finding": tuple(knowledge.findings),
        "fix": tuple(knowledge.fixes),
        "hazard": tuple(knowledge.hazards),
        "symptom": tuple(knowledge.symptoms),
    }
    return found[kind]


def _known(kind: Kind, id_: str, known: Iterable[str]) -> str:
    ids = [str(one) for one in known]
    if id_ not in ids:
        near = nearest(id_, ids)
        mend = f"write `{near}`" if near else f"begin it first: `helpline kb new {kind} {id_}`"
        raise RequestError(f"there is no {kind} `{id_}`", mend, "not_found")
    return id_


def _state(knowledge: Knowledge, name: str) -> tuple[str, str]:
    finding, _, state = name.partition(".")
    _known("finding", finding, knowledge.findings)
    node: Finding = next(node for id_, node in knowledge.findings.items() if id_ == finding)
    if state not in node.states:
        near = nearest(state, node.states)
        mend = f"write `{finding}.{near}`" if near else f"its states are {listed(node.states)}"
        raise RequestError(f"`{finding}` has no state `{state}`", mend, "not_found")
    return finding, state
