"""`helpline kb`: the author's bench."""

import json
from pathlib import Path

import click

from assistant.workbench.examples import outcome_of
from assistant.workbench.hearing_apart import heard_in
from channels.knowledge import our_folder, our_knowledge
from channels.terminal.beginning import new, schema
from channels.terminal.comparing import compare
from channels.terminal.harvesting import learn, phrases, take_in
from channels.terminal.listening import listen
from channels.terminal.picturing import draw
from channels.terminal.renaming import rename, retire
from channels.terminal.showing import shown
from channels.terminal.simulating import simulate
from channels.terminal.trying import try_
from kb import linting
from kb.errors import RequestError
from kb.problems import Problem
from kb.vocabulary import vocabulary, vocabulary_text

FOLDER = click.Path(path_type=Path, exists=True, file_okay=False)


@click.group("kb")
def kb_group() -> None:
    """The author's bench: check, look up, try out the knowledge."""


@kb_group.command("check")
@click.argument("folder", required=False, type=FOLDER)
@click.option("--json", "as_json_", is_flag=True, help="One JSON object a problem, a line each.")
@click.option("--lines", "one_line", is_flag=True, help="One line a problem, as editors read them.")
@click.option(
    "--accept-spanish", is_flag=True, help="The Spanish has been read again beside the changed English."
)
def check(folder: Path | None, *, as_json_: bool, one_line: bool, accept_spanish: bool) -> None:
    """Check the knowledge in FOLDER (without one: that of the program), all faults in one run."""
    folder = folder or our_folder()
    if accept_spanish:
        click.echo(f"{linting.accept_spanish(folder)} texts taken as read in both languages")
    problems = linting.check(folder, outcome=outcome_of, heard=heard_in)
    for problem in problems:
        click.echo(_told(problem, as_json_=as_json_, one_line=one_line))
    errors = sum(problem.severity == "error" for problem in problems)
    if errors:
        raise RequestError(
            f"{errors} errors and {len(problems) - errors} warnings",
            "mend the places above, then check again",
        )
    if not as_json_:
        click.echo(f"no errors, {len(problems)} warnings")


def _told(problem: Problem, *, as_json_: bool, one_line: bool) -> str:
    if as_json_:
        return json.dumps(problem.as_row(), ensure_ascii=False)
    if one_line:
        at = (
            problem.place if problem.line is not None else f"{problem.place}:1:1"
        )  # editors jump to lines only
        return f"{at}: {problem.severity}: {problem.what} [{problem.rule}]; {problem.mend}"
    return f"{problem}\n"


@kb_group.command("show")
@click.argument("name", metavar="ID")
def show(name: str) -> None:
    """What stands in the knowledge under ID, and what hangs on it; `kind:ID` where two kinds share a name."""
    click.echo(shown(our_knowledge(), name))


@kb_group.command("vocabulary")
@click.option("--json", "as_json_", is_flag=True)
def show_vocabulary(*, as_json_: bool) -> None:
    """Every finding with its states, every quantity, role, hazard, complaint and check, with its meaning in English."""
    knowledge = our_knowledge()
    click.echo(
        json.dumps(vocabulary(knowledge), ensure_ascii=False, indent=1)
        if as_json_
        else vocabulary_text(knowledge).rstrip()
    )


for command in (new, schema, rename, retire, draw, learn, phrases, take_in, listen, try_, simulate, compare):
    kb_group.add_command(command)
