"""The second voice: statements of which composition made nothing, compared as a whole with whole example phrases."""

from collections import Counter
from collections.abc import Collection, Sequence
from typing import Final

from rapidfuzz import fuzz

from assistant.reading.clauses import Chunk
from assistant.reading.denial import NEGATORS
from assistant.reading.examples import Examples
from assistant.reading.matching import DETERMINERS, LIGHT
from assistant.reading.normalise import Token
from assistant.reading.senses import Sense
from assistant.reading.stems import stem

_CUTOFF: Final = 78.0
_FULL: Final = 100.0
_SHARED_WORDS: Final = 2
_HEAVY: Final = 3
_SHARE: Final = 0.75
_FEWEST, _MOST = 3, 14
"""Words of a statement that can be compared as a whole."""
_MOST_STATEMENTS: Final = 24
"""In one text: the rest of a very long one is left unread."""

Alike = tuple[Sense, int, int, float]


def alike_in(
    examples: Examples, tokens: Sequence[Token], chunks: Sequence[Chunk], read: Collection[int]
) -> tuple[Alike, ...]:
    """Example phrases that unread statements are like: sense, place `[first, last)`, likeness 0 to 1.

    Never across a meaning: a phrase with a "not" is like none without, and the other way round.
    """
    found: list[Alike] = []
    statements = [segment for chunk in chunks for segment in chunk.segments]
    for first, last in statements[:_MOST_STATEMENTS]:
        words = [tokens[place] for place in range(first, last) if tokens[place].kind == "word"]
        if not _FEWEST <= len(words) <= _MOST or any(place in read for place in range(first, last)):
            continue
        text = " ".join(token.word for token in words if token.word not in DETERMINERS)
        denies = bool(NEGATORS & {token.word for token in words})
        hits = _nearest(examples, text)
        for score, place in hits:
            example_words = examples.words[place]
            if bool(NEGATORS & set(example_words)) == denies and _shares(text.split(), example_words):
                found.extend((sense, first, last, score / _FULL) for sense in examples.senses[place])
                break
    return tuple(found)


def _nearest(examples: Examples, text: str) -> list[tuple[float, int]]:
    """The likest examples among those that share two words of sense with the text, likest first."""
    met: Counter[int] = Counter()
    for one in {stem(word) for word in text.split()}:
        met.update(examples.holding.get(one, ()))
    scored = [
        (fuzz.token_sort_ratio(text, examples.texts[place]), place)
        for place, shared in sorted(met.items())
        if shared >= _SHARED_WORDS
    ]
    return sorted(
        ((score, place) for score, place in scored if score >= _CUTOFF), key=lambda hit: (-hit[0], hit[1])
    )[:3]


def _shares(words: Sequence[str], example: Sequence[str]) -> bool:
    """Most words of the example that carry sense have a near word in the statement."""
    heavy = [
        word for word in example if word not in DETERMINERS and word not in LIGHT and len(word) >= _HEAVY
    ]
    met = sum(any(fuzz.ratio(word, own) >= _CUTOFF for own in words) for word in heavy)
    return len(heavy) > 1 and met >= _SHARE * len(heavy)
