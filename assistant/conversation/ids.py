"""Names that belong to conversations."""

from typing import Literal, NewType

CaseId = NewType("CaseId", str)
MessageId = NewType("MessageId", str)
TimerName = NewType("TimerName", str)
SentenceId = NewType("SentenceId", str)

ConsentScope = Literal["follow_up", "cleaning"]
"""Texts that nobody asked for just now: the hour at which we look whether a fix held · once a month, to clean."""
Channel = Literal["web", "sms", "terminal", "desk"]
CaseState = Literal["asking", "fixing", "waiting", "with_person", "danger", "closed"]
ASSISTANT = "assistant"
NOBODY = "nobody"
"""Who may speak in a case: the assistant, nobody, or a colleague by name."""
