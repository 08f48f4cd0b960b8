"""The command and its groups; a command's rooms are entered only when it is called, since some take seconds to open."""

from importlib import import_module
from typing import Final

import click

from channels.terminal.telling import PlainGroup

COMMANDS: Final = {
    "demo": "demonstrating.demo",
    "chat": "chatting.chat",
    "text": "texting.text",
    "serve": "serving.serve",
    "worker": "serving.worker",
    "database": "serving.database",
    "read": "reading.read",
    "sum": "more_sums.sum_",
    "kb": "bench.kb_group",
    "replay": "replaying.replay",
    "why": "why.why",
    "desk": "desk.desk",
}
"""Each command's place in this folder; the order is that of the help."""


class Rooms(PlainGroup):
    """A group that finds its commands in `COMMANDS`."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """All names, in order."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command; None where there is none of that name."""
        if cmd_name not in COMMANDS:
            return None
        module, _, name = COMMANDS[cmd_name].partition(".")
        command = getattr(import_module(f"channels.terminal.{module}"), name)
        assert isinstance(command, click.Command)  # noqa: S101 - a slip in the table above would be ours
        return command


@click.group(cls=Rooms, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="coldroom-helpline", prog_name="helpline")
def main() -> None:
    """A support assistant for small cold rooms.

    Begin with `helpline demo`, or with `helpline chat` where there is no browser.
    """
