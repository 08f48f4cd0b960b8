"""`helpline kb draw`: a piece of the knowledge as a picture, or all of it as a page that scrolls."""

from pathlib import Path

import click

from assistant.drawing.surroundings import draw_surroundings
from assistant.workbench.surroundings import matrix_of, surroundings_of
from channels.knowledge import our_knowledge
from kb.errors import RequestError


@click.command("draw")
@click.argument("name", metavar="ID", required=False)
@click.option("--all", "whole", is_flag=True, help="All causes against all findings, as one page (HTML).")
@click.option(
    "--to",
    type=click.Path(path_type=Path, dir_okay=False),
    help="The file; default: named after the id, here.",
)
def draw(name: str | None, to: Path | None, *, whole: bool) -> None:
    """Draw the cause, check, symptom, finding or fix called ID (or `kind:ID`) in its surroundings, as SVG."""
    if whole == (name is not None):
        raise RequestError("one of two things can be drawn", "give an id, or --all")
    if name is None:
        picture, path = matrix_of(our_knowledge()), to or Path("knowledge.html")
    else:
        picture, path = (
            draw_surroundings(surroundings_of(our_knowledge(), name)),
            to or Path(f"{name.rpartition(':')[2]}.svg"),
        )
    try:
        path.write_text(picture, encoding="utf-8")
    except OSError as error:
        raise RequestError(
            f"{path}: {error.strerror}", "name a file that can be written: --to FILE"
        ) from error
    click.echo(f"drawn: {path}")
