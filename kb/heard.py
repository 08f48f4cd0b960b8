"""How people say it: plain files of phrases beside the knowledge, one phrase a line, by which the ear is trained.

    heard/en/findings/filter.txt         sections [clogged], [clogged as an answer], [not told]
    heard/en/hazards/shut_in.txt         sections [told], [not told]
    heard/en/complaints/slow.txt         sections [told], [not told]
    heard/en/nothing.txt                 section  [not told]: what such messages say besides

A line under `[not told]` uses the same words and says nothing of the kind: a plan, a question, a figure of speech.
"""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import Final, Literal

from kb.files import shown_path
from kb.ids import LANGUAGES, Language
from kb.knowledge import Knowledge
from kb.problems import Place, Problem, nearest

HEARD: Final = "heard"
EAR_FILE: Final = "ear.npz"
NOT_TOLD: Final = "not told"
TOLD: Final = "told"
_AS_ANSWER: Final = " as an answer"
_SECTION: Final = re.compile(r"\[([^\]]*)\]\s*")
_DIGITS: Final = 12

Kind = Literal["finding", "hazard", "complaint"]
_KIND_OF: Final[dict[str, Kind]] = {"findings": "finding", "hazards": "hazard", "complaints": "complaint"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Phrase:
    """One phrase as somebody would text it."""

    text: str
    language: Language
    kind: Kind | None
    """None for a phrase that tells nothing of any kind."""
    id: str
    state: str | None
    """The state of a finding; "" where a hazard or complaint is told; None where the phrase tells nothing of it."""
    answers: bool
    """Said in answer to the question, not unasked."""
    place: Place


def read_heard(folder: Path) -> tuple[tuple[Phrase, ...], tuple[Problem, ...]]:
    """Every phrase in the files under `folder`/heard, in order of path and line, and what is wrong with the files."""
    phrases: list[Phrase] = []
    problems: list[Problem] = []
    for language in LANGUAGES:
        for path in sorted((folder / HEARD / language).rglob("*.txt")):
            for one in _in_file(path, path.relative_to(folder / HEARD / language).parts, language):
                (phrases if isinstance(one, Phrase) else problems).append(one)  # type: ignore[arg-type]
    return tuple(phrases), tuple(problems)


def digest_of(phrases: Iterable[Phrase]) -> str:
    """Twelve hex digits over what the phrases say: the same phrases, the same digits."""
    digest = sha256()
    for one in phrases:
        row = (one.language, one.kind or "", one.id, one.state or "", str(one.state is None), one.text)
        digest.update("\t".join((*row, str(one.answers))).encode() + b"\n")
    return digest.hexdigest()[:_DIGITS]


def misnamed(phrases: Sequence[Phrase], knowledge: Knowledge) -> Iterator[Problem]:
    """Phrases of ids and states that the knowledge does not have."""
    known: dict[str, dict[str, tuple[str, ...]]] = {
        "finding": {str(id_): tuple(map(str, node.states)) for id_, node in knowledge.findings.items()},
        "hazard": {str(id_): ("",) for id_ in knowledge.hazards},
        "complaint": {str(id_): ("",) for id_ in knowledge.symptoms},
    }
    told: set[tuple[str | None, str, str | None]] = set()
    for one in phrases:
        if one.kind is None or (one.kind, one.id, one.state) in told:
            continue
        told.add((one.kind, one.id, one.state))
        states = known[one.kind].get(one.id)
        if states is None:
            yield _unknown(one, f"there is no {one.kind} `{one.id}`", one.id, known[one.kind])
        elif one.state is not None and one.state not in states:
            yield _unknown(one, f"`{one.id}` has no state `{one.state}`", one.state, states)


def _unknown(phrase: Phrase, what: str, meant: str, known: Iterable[str]) -> Problem:
    near = nearest(meant, list(known))
    return Problem(
        place=phrase.place,
        what=what,
        why="phrases of something that is not known teach nothing",
        mend=f"write `{near}`, or take the phrases out" if near else "take the phrases out",
        rule="heard-unknown",
    )


def _in_file(path: Path, parts: Sequence[str], language: Language) -> Iterator[Phrase | Problem]:
    kind = _KIND_OF.get(parts[0]) if len(parts) == 2 else None  # noqa: PLR2004 - folder and file
    if kind is None and tuple(parts) != ("nothing.txt",):
        yield _problem(
            path,
            0,
            "",
            what="no phrases are looked for here",
            mend="put the file into findings/, hazards/ or complaints/",
        )
        return
    section: tuple[str | None, bool] | None = None
    for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), start=1):
        text = line.strip()
        head = _SECTION.fullmatch(text)
        if head is not None:
            section = _section(head.group(1), kind)
            if section is None:
                mend = "write [told] or [not told]" if kind != "finding" else "write [a state] or [not told]"
                yield _problem(path, number, line, what=f"no section is called `{head.group(1)}`", mend=mend)
        elif text and not text.startswith("#") and section is not None:
            yield Phrase(
                text=text,
                language=language,
                kind=kind,
                id=path.stem if kind else "",
                state=section[0],
                answers=section[1],
                place=_place(path, number, line),
            )
        elif text and not text.startswith("#"):
            yield _problem(
                path,
                number,
                line,
                what="a phrase stands before any section",
                mend="put a [section] above it",
            )


def _section(name: str, kind: Kind | None) -> tuple[str | None, bool] | None:
    if name == NOT_TOLD:
        return None, False
    if kind in {"hazard", "complaint"}:
        return ("", False) if name == TOLD else None
    if kind is None or not name:
        return None
    return name.removesuffix(_AS_ANSWER), name.endswith(_AS_ANSWER)


def _place(path: Path, number: int, line: str) -> Place:
    if not number:
        return Place(path=shown_path(path))
    return Place(path=shown_path(path), line=number, column=1, length=max(len(line), 1), excerpt=line)


def _problem(path: Path, number: int, line: str, *, what: str, mend: str) -> Problem:
    return Problem(
        place=_place(path, number, line),
        what=what,
        why="the ear learns from a phrase only what it is told that the phrase says",
        mend=mend,
        rule="heard-layout",
    )
