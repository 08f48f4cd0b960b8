"""The sentences of `sentences.yaml`, each with its ways of saying it."""

from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Final

from pydantic import BaseModel, ConfigDict
from ruamel.yaml import YAML

from kb.ids import Language


class Sentence(BaseModel):
    """One sentence; as many variants in Spanish as in English."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    en: tuple[str, ...]
    es: tuple[str, ...]

    def in_(self, language: Language) -> tuple[str, ...]:
        """The variants in `language`."""
        return self.en if language == "en" else self.es


@cache
def _load() -> Mapping[str, Sentence]:
    text = files("assistant.wording").joinpath("sentences.yaml").read_text(encoding="utf-8")
    raw = YAML(typ="safe", pure=True).load(text)
    return {name: Sentence.model_validate(body) for name, body in raw.items()}


SENTENCES: Final = _load()
FILLED_LATER: Final = {"call": "{call}", "call_all": "{call_all}", "room": "{room}"}
"""Tokens that stay in the words until the region and the room's name are known."""


def variant(sentence: str, language: Language, nth: int, **values: str) -> str:
    """The words of a sentence said for the `nth` time (0 first); after the last variant the first comes round again.

    >>> variant("thanks", "en", 0), variant("thanks", "en", 2)
    ('You are welcome.', 'You are welcome.')
    """
    ways = SENTENCES[sentence].in_(language)
    return ways[nth % len(ways)].format(**FILLED_LATER, **values)
