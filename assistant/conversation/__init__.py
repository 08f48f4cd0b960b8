"""Conversation (door under construction: `step` is added once the rooms below stand)."""

from assistant.conversation.case import Case, apply, new_case

__all__ = ["Case", "apply", "new_case"]
