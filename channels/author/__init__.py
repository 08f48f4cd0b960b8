"""The author's page: a customer's messages typed against the working copy, with what is read, believed and asked.

In: messages from this machine alone. Out: what the knowledge as saved makes of them, and its faults. Never: a case, a
customer, an answer to another machine.
"""

from channels.author.app import create_try_app
from channels.author.working_copy import WorkingCopy

__all__ = ["WorkingCopy", "create_try_app"]
