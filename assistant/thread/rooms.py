"""What a room is called, in a text and in a list."""

import re
from typing import Final

from kb.ids import Language

SPACE_BEFORE_MARK: Final = re.compile(r"\s+([.,;:?!])")
ORDINALS: Final = {"en": "room {number}", "es": "cuarto {number}"}


def room_words(name: str | None, number: int, language: Language) -> str:
    """What the person calls the room, else its number among theirs.

    >>> room_words(None, 2, "es"), room_words("the flower cooler", 1, "en")
    ('cuarto 2', 'the flower cooler')
    """
    return name or ORDINALS[language].format(number=number)


def filled(text: str, room: str | None) -> str:
    """The text with `{room}` filled; where there is no name it closes up without a trace.

    >>> filled("How is {room} now?", "the barn cooler"), filled("How is it {room}?", None)
    ('How is the barn cooler now?', 'How is it?')
    """
    if "{room}" not in text:
        return text
    whole = " ".join(text.replace("{room}", room or "").split(" "))
    return SPACE_BEFORE_MARK.sub(r"\1", re.sub(r" {2,}", " ", whole)).strip()
