"""`helpline kb new` and `helpline kb schema`: a page begun, and what editors need to help with it."""

from pathlib import Path
from typing import cast

import click

import kb
from channels.knowledge import our_folder
from kb.beginning import BEGUN, About, Begun, page_begun
from kb.errors import RequestError
from kb.files import shown_path
from kb.json_schema import SCHEMAS, write_schemas
from kb.loading import default_store, look

FOLDER = click.Path(path_type=Path, exists=True, file_okay=False)
IN = click.option(
    "--in", "folder", type=FOLDER, help="The folder of knowledge, where it is not the program's."
)


@click.command("new")
@click.argument("kind", type=click.Choice(BEGUN))
@click.argument("id_", metavar="ID")
@click.option(
    "--family",
    default="shared",
    show_default=True,
    help="The first folder: shared, room_ac, refrigeration_unit.",
)
@click.option(
    "--shows", multiple=True, metavar="FINDING.STATE", help="Of a cause, again and again: what it shows."
)
@click.option(
    "--fix", "fixes", multiple=True, metavar="FIX", help="Of a cause, again and again: what mends it."
)
@click.option("--finds", metavar="FINDING", help="Of a check: the finding that it finds.")
@click.option("--touches", multiple=True, metavar="FINDING", help="Of a fix, again and again.")
@IN
def new(
    kind: str,
    id_: str,
    *,
    family: str,
    shows: tuple[str, ...],
    fixes: tuple[str, ...],
    finds: str | None,
    touches: tuple[str, ...],
    folder: Path | None,
) -> None:
    """Begin a page of KIND named ID. It loads at once; `helpline kb check` asks for what is still to be written."""
    where = folder or our_folder()
    knowledge = kb.load(where, store=default_store())
    about = About(shows=shows, fixes=fixes, finds=finds, touches=touches)
    path, text = page_begun(knowledge, cast("Begun", kind), id_, family, about)
    page = where / path
    if not page.parent.parent.is_dir():
        there = ", ".join(sorted({one.parent.parent.name for one in where.glob("*/causes/*.yaml")}))
        raise RequestError(
            f"there is no family `{family}`", f"the families are {there}; or make the folder first"
        )
    page.parent.mkdir(exist_ok=True)
    page.write_text(text, encoding="utf-8")
    write_schemas(look(where, store=default_store())[0].nodes, where / SCHEMAS)
    click.echo(
        f"{shown_path(page.resolve())}\nwrite what stands <in angle brackets>, then `helpline kb check`"
    )


@click.command("schema")
@click.option(
    "--to", type=click.Path(path_type=Path, file_okay=False), help="Where to; default: beside the knowledge."
)
@IN
def schema(to: Path | None, folder: Path | None) -> None:
    """Export JSON Schema for editors, a file a kind, with the ids and states that there are now.

    Pages begun with `helpline kb new` name theirs in the first line (`# yaml-language-server: $schema=…`).
    """
    where = folder or our_folder()
    shelf, _, _ = look(where, store=default_store())
    written = write_schemas(shelf.nodes, to or where / SCHEMAS)
    click.echo(f"{len(written)} schemas in {shown_path(written[0].parent.resolve())}")
