"""The valley and what happens in it, as `region.yaml` and `stories.yaml` have them."""

import hashlib
from collections.abc import Mapping, Sequence
from functools import cache
from importlib.resources import files
from typing import TypeVar

from pydantic import BaseModel, ConfigDict, TypeAdapter
from ruamel.yaml import YAML

from kb.ids import CauseId, FindingId, Language, QuantityId, StateId

Picked = TypeVar("Picked")


class Plain(BaseModel):
    """The manner of every model here."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Both(Plain):
    """The same in both languages."""

    en: str
    es: str

    def in_(self, language: Language) -> str:
        """The words in `language`."""
        return self.en if language == "en" else self.es


class Firsts(Plain):
    """First texts, as people write them."""

    en: tuple[str, ...]
    es: tuple[str, ...] = ()


class Story(Plain):
    """What is so in a room, and how its people tell it."""

    story: str
    weight: int
    """How often it happens, against the others."""
    cause: CauseId
    """Empty: nothing that the knowledge lists."""
    warmer: tuple[int, int]
    """How far above its target the room is, in degrees F."""
    shows: str = "room"
    first: Firsts
    says: Mapping[FindingId, Both] = {}
    """How they put a fact when asked; else they send the number of the option."""
    facts: Mapping[FindingId, StateId]
    numbers: Mapping[QuantityId, str] = {}
    new_cause: Both | None = None
    mended_by: Both | None = None


class Room(Plain):
    """A room as its people call it, what stands in it, and its target in degrees F."""

    room: str
    keeps: str
    target: int


class Names(Plain):
    """First names, by the language that they write."""

    en: tuple[str, ...]
    es: tuple[str, ...]


class Rooms(Plain):
    """Rooms, by the language of their people."""

    en: tuple[Room, ...]
    es: tuple[Room, ...]


class Region(Plain):
    """A valley on no map."""

    areas: tuple[str, ...]
    places: tuple[str, ...]
    colleagues: tuple[str, ...]
    people: Names
    rooms: Rooms


@cache
def our_region() -> Region:
    """The valley."""
    return Region.model_validate(_yaml("region.yaml"))


@cache
def our_stories() -> tuple[Story, ...]:
    """Everything that happens there."""
    return TypeAdapter(tuple[Story, ...]).validate_python(_yaml("stories.yaml"))


def drawn(among: Sequence[Picked], *key: object) -> Picked:
    """One of several, the same for the same key.

    >>> drawn("abc", 1, "x") == drawn("abc", 1, "x")
    True
    """
    return among[share(len(among), *key)]


def share(below: int, *key: object) -> int:
    """A whole number from 0 and below `below`, the same for the same key."""
    told = "/".join(str(part) for part in key).encode()
    return int.from_bytes(hashlib.sha256(told).digest()[:8]) % below


def _yaml(name: str) -> object:
    text = files("channels.demo").joinpath(name).read_text(encoding="utf-8")
    return YAML(typ="safe", pure=True).load(text)
