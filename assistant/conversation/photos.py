"""Photos: acknowledged in words, shown to the desk, and never an answer; no program looks at them."""

from assistant.conversation.happenings import MessageHeard, PhotoLost
from assistant.conversation.ids import ASSISTANT, SentenceId
from assistant.conversation.line_events import PhotoTaken
from assistant.conversation.turn import Piece, Turn
from assistant.wording import variant

FIRST = ("opening",)
"""What stands before the thanks."""


def take_photos(turn: Turn, heard: MessageHeard) -> None:
    """Remember that pictures came."""
    turn.add(PhotoTaken(at=turn.at, message=heard.message, count=heard.photos))


def thank_for_photo(turn: Turn) -> None:
    """Say where the picture went: before all else, but after whatever a danger asks for."""
    nth = turn.case.times_said("photo_kept")
    words = variant("photo_kept", turn.language, nth)
    if turn.case.language is None:  # not a word of theirs yet: both languages
        words = f"{words} / {variant('photo_kept', 'es', nth)}"
    thanks = Piece(sentence=SentenceId("photo_kept"), text=words, urgent=turn.urgent)
    dangers = [
        at
        for at, piece in enumerate(turn.pieces)
        if piece.sentence.startswith(("hazard", "danger", "breaker"))
    ]
    first = [at for at, piece in enumerate(turn.pieces) if piece.sentence in FIRST]
    place = len(turn.pieces) if dangers else (first[-1] + 1 if first else 0)
    turn.pieces.insert(place, thanks)


def tell_lost(turn: Turn, _lost: PhotoLost) -> None:
    """It cannot be shown to anybody: they may send it again, or say it in words."""
    turn.urgent = True  # they sent it minutes ago
    if turn.case.voice == ASSISTANT:
        turn.say("photo_lost")
