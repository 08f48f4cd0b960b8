"""The command and its groups."""

import click

from channels.terminal.bench import kb_group
from channels.terminal.chatting import chat
from channels.terminal.demonstrating import demo
from channels.terminal.desk import desk
from channels.terminal.reading import read
from channels.terminal.replaying import replay
from channels.terminal.serving import database, serve, worker
from channels.terminal.telling import PlainGroup


@click.group(cls=PlainGroup, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="coldroom-helpline", prog_name="helpline")
def main() -> None:
    """A support assistant for small cold rooms.

    Begin with `helpline demo`, or with `helpline chat` where there is no browser.
    """


for command in (demo, chat, serve, worker, database, read, kb_group, replay, desk):
    main.add_command(command)
