"""What stays of a word when its endings go: enough to see that "trips", "tripped" and "tripping" are one verb.

Rough on purpose, for both languages at once; the exact word always counts for more.
"""

from functools import lru_cache
from typing import Final

from assistant.reading.wordsets import word_set

_WHOLE: Final = word_set("para pares gas this his has was does is as us yes bus less cold ice nada nadie")
_ENGLISH: Final = (("ing", 6), ("ed", 5), ("es", 5), ("s", 4), ("e", 4))
_SMALL: Final = (("ito", 6), ("ita", 6), ("illo", 7), ("illa", 7))
"""Spanish diminutives: gotita, botoncito, polvillo."""
_SPANISH: Final = (("ando", 7), ("iendo", 8), ("aron", 7), ("ado", 6), ("ada", 6))
_SHORTEST: Final = 3
_VOWELS: Final = frozenset("aeiou")


@lru_cache(maxsize=20_000)
def stem(word: str) -> str:
    """The part of `word` that its inflections share, roughly.

    >>> stem("tripping"), stem("tripped"), stem("trips")
    ('trip', 'trip', 'trip')
    >>> stem("sucias"), stem("sucio")
    ('suci', 'suci')
    """
    if len(word) <= _SHORTEST or word in _WHOLE or not word.isalpha():
        return word
    left = word.removesuffix("s") if not word.endswith(("ss", "us", "is")) else word
    for ending, least in _SMALL:
        if left.endswith(ending) and len(left) >= least:
            left = left.removesuffix(ending).removesuffix("c").removesuffix("e")
            return left.removesuffix("qu") + "c" if left.endswith("qu") else left
    for ending, least in _SPANISH:
        if left.endswith(ending) and len(left) >= least:
            return left.removesuffix(ending)
    for ending, least in _ENGLISH:
        if left.endswith(ending) and len(left) >= least:
            return _single(left.removesuffix(ending))
    if left[-1] in "ao" and len(left) > _SHORTEST:
        left = left[:-1]
    return _single(left)


def _single(word: str) -> str:
    if len(word) > _SHORTEST and word[-1] == word[-2] and word[-1] not in _VOWELS and word[-1] not in "ls":
        return word[:-1]
    return word
