"""Words of the temperature's course that tell no course: a limit, or a swing.

"Won't go below 52", "baja a 60" tell how far it gets; "sube y baja" tells that it swings. Neither tells which way the
room is going now.
"""

from typing import Final

from assistant.reading.mentions import Mention
from assistant.reading.scene import Scene
from assistant.reading.wordsets import word_set

_COURSES: Final = word_set("falling rising")
_UP_TO: Final = word_set("a hasta de to below under past por than above over")
_GOING_ON: Final = ("ing", "ando", "iendo")
_ENDED: Final = word_set("bajo subio dropped fell rose climbed came went")
_NEXT: Final = 4
_JOINS: Final = word_set("y and e o or")
_PARTNER: Final = 3


def no_course(scene: Scene, said: Mention) -> bool:
    """The words name a course, and yet none is told."""
    if not _COURSES.intersection(said.ids):
        return False
    return _is_limit(scene, said) or _is_swing(scene, said)


def _is_limit(scene: Scene, said: Mention) -> bool:
    words = [token.word for token in scene.tokens[said.first : said.last]]
    if any(word.endswith(_GOING_ON) or word in _ENDED for word in words):
        return False
    after = scene.tokens[said.last : said.last + _NEXT]
    for place, token in enumerate(after):
        if token.kind == "mark":
            return False
        if token.kind == "number":
            return place > 0 and after[place - 1].word in _UP_TO | {"los", "mas"}
    return False


def _is_swing(scene: Scene, said: Mention) -> bool:
    for other in scene.qualities:
        if other is said or not _COURSES.intersection(other.ids) or set(other.ids) == set(said.ids):
            continue
        first, last = min(said.last, other.last), max(said.first, other.first)
        between = [token.word for token in scene.tokens[first:last]]
        if len(between) <= _PARTNER and _JOINS.intersection(between):
            return True
    return False
