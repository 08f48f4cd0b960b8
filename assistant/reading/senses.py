"""What a phrase can stand for."""

from typing import Literal, NamedTuple

from kb.ids import Language

SenseKind = Literal[
    "thing",
    "quality",
    "state",
    "answer",
    "saying",
    "symptom",
    "hazard",
    "not_hazard",
    "quantity",
    "move",
    "move_alone",
]


class Sense(NamedTuple):
    """One meaning: what kind, of which node, which of its states, in which language."""

    kind: SenseKind
    id: str
    state: str
    language: Language


class Pair(NamedTuple):
    """A quality said of a thing."""

    thing: str
    quality: str
