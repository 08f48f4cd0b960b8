"""The desk's own words, in the colleague's language, and hours as somebody says them."""

from collections.abc import Mapping
from datetime import datetime
from functools import cache
from importlib.resources import files
from typing import Final
from zoneinfo import ZoneInfo

from pydantic import BaseModel, ConfigDict, TypeAdapter
from ruamel.yaml import YAML

from kb.ids import Language


class Word(BaseModel):
    """The same in both languages."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    en: str
    es: str


@cache
def words_of(section: str, language: Language) -> Mapping[str, str]:
    """A section of the desk's words: `words`, `reasons`, `whys`, `states`, and so on."""
    return {key: word.en if language == "en" else word.es for key, word in _sections()[section].items()}


@cache
def _sections() -> Mapping[str, Mapping[str, Word]]:
    text = files("channels.desk").joinpath("words.yaml").read_text(encoding="utf-8")
    raw = YAML(typ="safe", pure=True).load(text)
    return TypeAdapter(dict[str, dict[str, Word]]).validate_python(raw)


SECTIONS: Final = tuple(_sections())


def span_words(seconds: float, language: Language) -> str:
    """A span as somebody says it.

    >>> span_words(95 * 60, "en"), span_words(40, "es"), span_words(3 * 86400, "en")
    ('1 h 35 min', 'ahora', '3 d')
    """
    minutes = int(abs(seconds) // 60)
    if minutes < 1:
        return "now" if language == "en" else "ahora"
    if minutes < 60:  # noqa: PLR2004 - an hour
        return f"{minutes} min"
    hours, left = divmod(minutes, 60)
    if hours < 48:  # noqa: PLR2004 - beyond two days nobody counts hours
        return f"{hours} h {left} min" if left and hours < 10 else f"{hours} h"  # noqa: PLR2004 - then minutes say nothing
    return f"{hours // 24} d"


def hour_words(at: datetime, zone: str) -> str:
    """An hour where the room is.

    >>> from datetime import UTC
    >>> hour_words(datetime(2026, 7, 14, 20, 5, tzinfo=UTC), "America/Chicago")
    '2026-07-14 15:05'
    """
    return f"{at.astimezone(ZoneInfo(zone)):%Y-%m-%d %H:%M}"
