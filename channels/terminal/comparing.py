"""`helpline kb compare OLD NEW`: what an edit changes, as a table that fits a review."""

import sys
from collections.abc import Iterator
from pathlib import Path

import click

import kb
from assistant.reading.labelled import set_files, texts_of
from assistant.workbench.comparing import as_table, simulated_rows, size_rows, turned
from assistant.workbench.hearing_apart import changed_readings
from kb.errors import RequestError
from kb.knowledge import Knowledge
from kb.loading import default_store

FOLDER = click.Path(path_type=Path, exists=True, file_okay=False)
TRANSCRIPTS = Path("transcripts_demo")


@click.command("compare")
@click.argument("old", type=FOLDER)
@click.argument("new", type=FOLDER)
@click.argument("texts", nargs=-1, type=click.Path(path_type=Path, exists=True))
@click.option(
    "--transcripts",
    type=FOLDER,
    help="Conversations to play in both; default: transcripts_demo, where there is one.",
)
@click.option(
    "--customers",
    type=click.IntRange(0, 100_000),
    default=40,
    show_default=True,
    help="Simulated in each; 0: none.",
)
@click.option("--seed", type=click.IntRange(0), default=1, show_default=True)
def compare(
    old: Path, new: Path, texts: tuple[Path, ...], transcripts: Path | None, *, customers: int, seed: int
) -> None:
    """What changes from the knowledge in OLD to that in NEW: what is asked, how long it takes, what is concluded.

    With TEXTS (labelled sets, or folders of them) every text that is read otherwise is told, with what it gains and loses
    and whether its labels say so.
    """
    before, now = (kb.load(folder, store=default_store()) for folder in (old, new))
    rows = list(size_rows(before, now))
    if customers:
        tell = _tell if sys.stderr.isatty() else None
        rows += simulated_rows(before, now, customers=customers, seed=seed, tell=tell)
    click.echo("\n".join(as_table(rows)))
    for line in (*_transcripts(before, now, transcripts), *_texts(before, now, texts)):
        click.echo(line)


def _transcripts(old: Knowledge, new: Knowledge, folder: Path | None) -> Iterator[str]:
    where = folder or (TRANSCRIPTS if TRANSCRIPTS.is_dir() else None)
    if where is None:
        return
    paths = [path for path in sorted(where.glob("*.md")) if path.name != "README.md"]
    found = turned(old, new, paths)
    yield from (f"\n{one}" for one in found)
    yield f"\n{len(found)} of {len(paths)} conversations go another way"


def _texts(old: Knowledge, new: Knowledge, texts: tuple[Path, ...]) -> Iterator[str]:
    if not texts:
        return
    try:
        labelled = texts_of(set_files(texts))
    except (OSError, ValueError, KeyError) as error:
        mend = "name sets as in tests/people, one JSON object a line"
        raise RequestError(f"not labelled texts: {error}", mend) from error
    changes = changed_readings(old, new, labelled)
    yield from (f"\n{change}" for change in changes)
    better, worse = (sum(change.better for change in changes), sum(change.worse for change in changes))
    yield f"\n{len(changes)} of {len(labelled)} texts change: {better} for the better, {worse} for the worse"


def _tell(done: int, of: int) -> None:
    click.echo(f"\r{done} of {of}", err=True, nl=done == of)
