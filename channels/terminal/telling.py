"""How commands tell what went wrong: one line what, one line how to mend it, exit 2."""

import errno
import os
import sys
from typing import Any, Final, NoReturn

import click

from kb.errors import HelplineError, KnowledgeError

EXIT_ERROR: Final = 2
EXIT_STOPPED: Final = 130


class PlainGroup(click.Group):
    """The outermost group: whatever a command refuses is told in two lines."""

    def main(self, *args: Any, **extra: Any) -> NoReturn:  # Any: as click has it; it always exits
        """Run, and exit: 0, or 2 after an error was told."""
        extra["standalone_mode"] = False
        try:
            code = super().main(*args, **extra)
        except click.exceptions.NoArgsIsHelpError as error:
            click.echo(error.ctx.get_help() if error.ctx else "")
        except click.ClickException as error:
            _tell(error.format_message(), _usage(error))
        except KnowledgeError as error:
            for problem in error.problems:
                click.echo(f"{problem}\n", err=True)
            _tell(error.what, error.mend)
        except HelplineError as error:
            _tell(error.what, error.mend)
        except (click.Abort, KeyboardInterrupt):
            click.echo(err=True)
            sys.exit(EXIT_STOPPED)
        except OSError as error:
            if error.errno != errno.EPIPE:
                raise
            # whoever read our lines went away: end quietly, and keep the interpreter from flushing into nothing
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
            sys.exit(0)
        else:
            sys.exit(code if isinstance(code, int) else 0)
        sys.exit(EXIT_ERROR)


def _usage(error: click.ClickException) -> str:
    context = getattr(error, "ctx", None)
    command = context.command_path if context is not None else "helpline"
    return f"see `{command} --help`"


def _tell(what: str, mend: str) -> None:
    lines = [line.strip() for line in what.strip().splitlines() if line.strip()]
    click.echo(f"error: {' '.join(lines)}", err=True)
    click.echo(f"mend:  {mend}", err=True)
