"""`helpline kb try`: a page on this machine for trying the working copy."""

import logging
from pathlib import Path

import click

from assistant.helpline import MachineClock
from channels.author import WorkingCopy, create_try_app
from channels.knowledge import our_folder
from channels.terminal.serving import answer_until_told, take_port
from kb.files import shown_path

FOLDER = click.Path(path_type=Path, exists=True, file_okay=False)
HERE = "127.0.0.1"
PORT = 8766


@click.command("try")
@click.argument("folder", required=False, type=FOLDER)
@click.option("--port", type=click.IntRange(1, 65535), default=PORT, show_default=True)
def try_(folder: Path | None, port: int) -> None:
    """Type a customer's messages against the knowledge in FOLDER (without one: that of the program), in the browser.

    The page shows what was read, believed and asked, and why. Saving a file plays all messages anew. Nobody but this
    machine is answered; nothing is kept.
    """
    logging.basicConfig(level=logging.WARNING)
    where = folder or our_folder()
    with take_port(HERE, port) as door:
        click.echo(f"open http://{HERE}:{port}/ to try {shown_path(where.resolve())}; Ctrl-C ends")
        answer_until_told(create_try_app(WorkingCopy(where), MachineClock().now), door)
