"""Which language a text is in: a count of words that only one of them has, leaning to the language known before."""

import math
from collections.abc import Mapping, Sequence

from assistant.reading.normalise import Token
from kb.ids import Language

_LEAN = 1.2
"""How many words the language known before is worth."""
_SURE = 0.9


def language_of(
    tokens: Sequence[Token], words: Mapping[Language, frozenset[str]], known: Language | None
) -> tuple[Language, float]:
    """The language and how sure we are, 0.5 to 1; English where nothing speaks for either.

    >>> from assistant.reading.normalise import tokens_of
    >>> words = {"en": frozenset({"the", "is"}), "es": frozenset({"el", "no", "gira"})}
    >>> language_of(tokens_of("el ventilador no gira"), words, None)[0]
    'es'
    """
    balance = 0.0
    for token in tokens:
        if token.kind != "word":
            continue
        english, spanish = token.word in words["en"], token.word in words["es"]
        balance += int(english) - int(spanish)
        balance -= _accents(token.seen)
    if known is not None:
        balance += _LEAN if known == "en" else -_LEAN
    if balance == 0:
        return known or "en", 0.5
    sureness = 1 / (1 + math.exp(-abs(balance) * _SURE))
    return ("en" if balance > 0 else "es"), sureness


def _accents(seen: str) -> float:
    return 0.7 if any(letter in "áéíóúñ¿¡" for letter in seen) else 0.0
