"""`helpline kb listen`: train the ear on the phrases beside the knowledge."""

from pathlib import Path

import click

import kb
from assistant.reading.labelled import set_files, texts_of
from assistant.workbench.listening import train
from kb.ear import save_ear
from kb.errors import RequestError
from kb.files import PACKAGED
from kb.heard import EAR_FILE, HEARD, misnamed, read_heard

FOLDER = click.Path(path_type=Path, exists=True, file_okay=False)
UNTUNED = ("checking_", "locked_")
FILES = click.Path(path_type=Path, exists=True)


@click.command("listen")
@click.argument("folder", required=False, type=FOLDER)
@click.option(
    "--texts",
    multiple=True,
    required=True,
    type=FILES,
    help="Labelled sets, or folders of them. On those named checking_… or locked_…, on which no wording was tuned, it is"
    " counted how far each voice is believed; the others lend their stretches that tell nothing.",
)
def listen(folder: Path | None, texts: tuple[Path, ...]) -> None:
    """Train the ear of the knowledge in FOLDER on its heard/ phrases, and write it beside them; takes minutes."""
    files = set_files(texts)
    judged = tuple(file for file in files if file.name.startswith(UNTUNED))
    plain = tuple(file for file in files if file not in judged)
    where = folder or PACKAGED
    knowledge = kb.load(folder)
    phrases, problems = read_heard(where)
    problems = (*problems, *misnamed(phrases, knowledge))
    for problem in problems:
        click.echo(f"{problem}\n")
    if problems:
        raise RequestError(
            f"{len(problems)} faults in the phrases", "mend the places above, then listen again"
        )
    ear = train(knowledge, phrases, texts_of(plain), texts_of(judged))
    save_ear(ear, where / HEARD / EAR_FILE)
    click.echo(
        f"{len(phrases)} phrases, {len(ear.labels)} labels, {len(ear.pieces)} pieces of wording: "
        f"{where / HEARD / EAR_FILE}"
    )
