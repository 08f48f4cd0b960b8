"""Conversation: something happens to a case, and events follow.

In: the knowledge, a case, one happening with its time. Out: events, and nothing else; `apply` folds them into the
case. Never: a clock, a database, a random number. Start at `step`.
"""

from assistant.conversation.case import Case, apply, new_case
from assistant.conversation.step import step

__all__ = ["Case", "apply", "new_case", "step"]
