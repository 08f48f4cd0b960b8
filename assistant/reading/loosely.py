"""Phrases whose words of sense all stand in one statement, in any order and with anything in between.

"It got so hot that I could not hold the plug" holds the words of "plug too hot to hold". Weaker than the very words,
so it is never taken without asking; but a danger told in a roundabout way is heard.
"""

from collections import Counter
from collections.abc import Sequence
from typing import Final

from assistant.reading.alike import Alike
from assistant.reading.clauses import Chunk
from assistant.reading.denial import NEGATORS
from assistant.reading.examples import Examples
from assistant.reading.normalise import Token
from assistant.reading.stems import stem

LOOSE: Final = 0.9
"""Likeness that a loose match counts as, for whoever weighs it."""
_FARTHEST: Final = 10
"""Tokens from the first to the last of the words."""
_TWO, _FARTHEST_TWO = 2, 5
_BEFORE: Final = 4
_MOST_STATEMENTS: Final = 24


def loosely_in(
    examples: Examples, tokens: Sequence[Token], chunks: Sequence[Chunk], fewest: int = _TWO
) -> tuple[Alike, ...]:
    """Example phrases whose words of sense all stand in one chunk: sense, place, likeness.

    `fewest` words of sense are needed.
    """
    found: list[Alike] = []
    for chunk in chunks[:_MOST_STATEMENTS]:
        places: dict[str, list[int]] = {}
        for place in range(chunk.first, chunk.last):
            if tokens[place].kind == "word" and tokens[place].doubt == 0:
                places.setdefault(stem(tokens[place].word), []).append(place)
        met: Counter[int] = Counter()
        for one in places:
            met.update(examples.holding.get(one, ()))
        for example, shared in sorted(met.items()):
            heavy = examples.heavy[example]
            if shared < max(len(heavy), fewest) or not examples.telling[example]:
                continue
            at = sorted(places[one][0] for one in heavy)
            words = examples.words[example]
            near = at[-1] - at[0] <= (_FARTHEST if len(heavy) > _TWO else _FARTHEST_TWO)
            if near and _same_sense(tokens, chunk, at, words):
                found.extend((sense, at[0], at[-1] + 1, LOOSE) for sense in examples.senses[example])
    return tuple(found)


def _same_sense(tokens: Sequence[Token], chunk: Chunk, at: Sequence[int], words: Sequence[str]) -> bool:
    """Both deny or neither does."""
    start = max(chunk.first, at[0] - _BEFORE)
    denies = any(token.word in NEGATORS for token in tokens[start : at[-1] + 1])
    return denies == bool(NEGATORS & set(words))
