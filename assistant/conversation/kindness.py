"""One kind word where somebody is at the end of their tether, sorry to trouble us, or grateful: once, and on to the work."""

from assistant.conversation.turn import Turn
from assistant.reading import feeling_in


def speak_kindly(turn: Turn, text: str) -> None:
    """Before anything else of the reply; never the second time."""
    feeling = feeling_in(text)
    if feeling is not None and not turn.has_said(f"kind_{feeling}"):
        turn.say(f"kind_{feeling}")
