"""`helpline replay`: transcripts against the program as it is now."""

from pathlib import Path

import click

from assistant.workbench.replay import first_difference, written
from channels.knowledge import our_knowledge
from kb.errors import RequestError

MEND = "read the new words aloud; if they are better, `helpline replay --accept FILE` writes them into the transcript"


@click.command()
@click.argument(
    "files", nargs=-1, required=True, type=click.Path(path_type=Path, exists=True, dir_okay=False)
)
@click.option("--accept", is_flag=True, help="Write our words as they are now into the transcripts.")
def replay(files: tuple[Path, ...], *, accept: bool) -> None:
    """Replay transcripts and show the first difference of each."""
    knowledge = our_knowledge()
    differ = 0
    for file in files:
        if accept:
            file.write_text(written(knowledge, file), encoding="utf-8")
            click.echo(f"{file}: written")
        elif (difference := first_difference(knowledge, file)) is not None:
            differ += 1
            click.echo(f"{difference}\n")
    if differ:
        raise RequestError(f"{differ} of {len(files)} transcripts would read otherwise now", MEND)
    if not accept:
        click.echo(f"{len(files)} as they stand")
