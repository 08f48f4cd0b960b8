"""Whole example phrases, sorted for the second voice: which of them hold which words of sense."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final

from assistant.reading import everyday
from assistant.reading.denial import NEGATORS
from assistant.reading.matching import DETERMINERS, LIGHT
from assistant.reading.senses import Sense
from assistant.reading.stems import stem
from assistant.reading.wordsets import word_set

WHOLE_PHRASE: Final = 3
"""Words from which a phrase may be compared as a whole."""
_THIN: Final = word_set(
    "it i to on in a and y the out up off at for en con por me my he she they we his her que de se al from with"
)

_WEIGHTLESS: Final = DETERMINERS | LIGHT | NEGATORS | _THIN
_EVERYDAY: Final = everyday.ENGLISH | everyday.SPANISH


@dataclass(frozen=True, slots=True, kw_only=True)
class Examples:
    """Phrases in one order: their words, senses, and what makes them findable."""

    words: tuple[tuple[str, ...], ...]
    senses: tuple[tuple[Sense, ...], ...]
    texts: tuple[str, ...] = field(repr=False)
    """Each as one string, determiners left out."""
    heavy: tuple[frozenset[str], ...] = field(repr=False)
    """The stems of sense of each."""
    telling: tuple[bool, ...] = field(repr=False)
    """Whether those alone tell it: three of them, or two of which one is no everyday word."""
    holding: Mapping[str, tuple[int, ...]] = field(repr=False)
    """Which phrases hold a stem."""


def examples_of(phrases: Mapping[tuple[str, ...], Sequence[Sense]]) -> Examples:
    """The examples of some phrases and their senses, in the order given."""
    words = tuple(phrases)
    heavy = tuple(_heavy(phrase) for phrase in words)
    holding: dict[str, list[int]] = {}
    for place, stems in enumerate(heavy):
        for one in sorted(stems):
            holding.setdefault(one, []).append(place)
    return Examples(
        words=words,
        senses=tuple(tuple(senses) for senses in phrases.values()),
        texts=tuple(" ".join(word for word in phrase if word not in DETERMINERS) for phrase in words),
        heavy=heavy,
        telling=tuple(_tells(phrase, stems) for phrase, stems in zip(words, heavy, strict=True)),
        holding={one: tuple(places) for one, places in holding.items()},
    )


def _heavy(words: Sequence[str]) -> frozenset[str]:
    return frozenset(stem(word) for word in words if word not in _WEIGHTLESS)


def _tells(words: Sequence[str], heavy: frozenset[str]) -> bool:
    rare = any(word not in _EVERYDAY for word in words)
    return len(heavy) >= WHOLE_PHRASE or (len(heavy) > 1 and rare)
