"""`helpline read`: what would be understood."""

import json
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import click
from pydantic import BaseModel, ConfigDict, ValidationError

from assistant.reading import OpenQuestion, Reading, open_question
from assistant.reading import read as read_text
from assistant.reading.as_json import as_json
from assistant.reading.explain import explain
from channels.knowledge import our_knowledge
from channels.terminal.figures import BESIDE, RELIABILITY, WORST, Wanted, told_figures
from kb.errors import RequestError
from kb.ids import CheckId, Language
from kb.knowledge import Knowledge
from kb.problems import nearest

FROM_INPUT: Final = "-"


class LineIn(BaseModel):
    """One line of `helpline read - --json`."""

    model_config = ConfigDict(extra="forbid")
    text: str
    about: str | None = None
    language: Language | None = None


@click.command()
@click.argument("words", nargs=-1, required=True, metavar="TEXT | - | FILE…")
@click.option("--about", metavar="CHECK", help="Read it as a reply to this check's question.")
@click.option("--language", type=click.Choice(["en", "es"]), help="The language the person wrote in before.")
@click.option("--why", is_flag=True, help="Show which words made what.")
@click.option(
    "--json",
    "as_json_",
    is_flag=True,
    help="One JSON object a text, spans in code points of the text as sent.",
)
@click.option(
    "--score", "score_", is_flag=True, help="TEXT is files or folders of labelled texts; print their figures."
)
@BESIDE
@WORST
@RELIABILITY
def read(
    words: tuple[str, ...],
    about: str | None,
    language: Language | None,
    *,
    why: bool,
    as_json_: bool,
    score_: bool,
    beside: bool,
    worst: int,
    reliability: Path | None,
) -> None:
    """What would be understood of TEXT.

    With `-`, texts come from standard input, one a line; with `--json` each line is an object
    {"text", "about"?, "language"?}. `--score FILE…` reads labelled sets (JSON Lines; a folder
    stands for the sets in it) and prints how well they are read.
    """
    knowledge = our_knowledge()
    if score_:
        wanted = Wanted(beside=beside, worst=worst, reliability=reliability, as_json=as_json_)
        click.echo(told_figures(knowledge, [Path(word) for word in words], wanted))
        return
    lines = _lines(as_json_=as_json_) if words == (FROM_INPUT,) else iter([LineIn(text=" ".join(words))])
    for line in lines:
        question = _question(knowledge, line.about or about, line.language or language)
        reading = read_text(knowledge, line.text, about=question, language=line.language or language)
        click.echo(_shown(knowledge, line.text, reading, question, why=why, as_json_=as_json_))


def _shown(
    knowledge: Knowledge,
    text: str,
    reading: Reading,
    question: OpenQuestion | None,
    *,
    why: bool,
    as_json_: bool,
) -> str:
    if as_json_:
        shown = as_json(reading)
        return json.dumps(
            shown | {"why": explain(knowledge, text, reading, question)} if why else shown, ensure_ascii=False
        )
    return explain(knowledge, text, reading, question) if why else _in_short(reading)


def _in_short(reading: Reading) -> str:
    """What was understood, a line a thing."""
    lines = [f"HAZARD {said.hazard} ({said.confidence:.2f})" for said in reading.hazards]
    lines += [f"complaint {said.symptom} ({said.confidence:.2f})" for said in reading.complaints]
    lines += [
        f"{said.finding}: {said.state} ({said.confidence:.2f}, {said.when})" for said in reading.findings
    ]
    lines += [
        f"{said.quantity or 'a number'}: {said.value:g} {said.unit or '(unit open)'}"
        for said in reading.quantities
    ]
    lines += [f"asks us: {', '.join(reading.moves)}"] if reading.moves else []
    if reading.answer.kind != "none":
        value = (
            "" if reading.answer.value is None else f"{reading.answer.value:g} {reading.answer.unit or ''}"
        )
        lines.append(
            f"answer: {reading.answer.state or value or reading.answer.kind} ({reading.answer.confidence:.2f})"
        )
    return "\n".join(lines or ["nothing was understood"])


def _lines(*, as_json_: bool) -> Iterator[LineIn]:
    for number, raw in enumerate(sys.stdin.buffer, start=1):
        try:
            line = raw.decode("utf-8")
        except UnicodeDecodeError as error:
            raise RequestError(f"line {number}: byte {error.start} is not UTF-8", "send UTF-8") from error
        if not as_json_:
            yield LineIn(text=line.rstrip("\r\n"))
        elif line.strip():
            yield _line(number, line)


def _line(number: int, line: str) -> LineIn:
    try:
        return LineIn.model_validate_json(line)
    except ValidationError as error:
        first = error.errors(include_url=False)[0]
        place = "/".join(map(str, first["loc"]))
        what = f"line {number}: {f'`{place}`: ' if place else ''}{first['msg']}"
        raise RequestError(
            what, 'write one object a line: {"text": "…", "about": "CHECK", "language": "en"}'
        ) from error


def _question(knowledge: Knowledge, about: str | None, language: Language | None) -> OpenQuestion | None:
    if about is None:
        return None
    if about not in knowledge.checks:
        near = nearest(about, knowledge.checks)
        mend = f"write `{near}`" if near else "`helpline kb vocabulary` lists the checks"
        raise RequestError(f"there is no check `{about}`", mend, "not_found")
    return open_question(knowledge, CheckId(about), language or "en")
