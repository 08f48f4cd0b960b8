"""Terminal: the `helpline` command.

In: arguments and lines typed. Out: text or JSON; an error is one line what, one line how to mend it, and exit 2.
Never: a decision about a case. Start at `main`; each other module is one group of commands.
"""

from channels.terminal.main import main

__all__ = ["main"]
