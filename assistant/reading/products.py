"""What is kept in the room, as a text names it: whole names only, the longest first, in the order of the text."""

from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache

from assistant.reading.normalise import Token, words_of
from assistant.reading.said import ProductSaid, Span
from kb.ids import ProductId
from kb.knowledge import Knowledge

Names = Mapping[str, tuple[tuple[tuple[str, ...], ProductId], ...]]


def products_in(knowledge: Knowledge, tokens: Sequence[Token]) -> tuple[ProductSaid, ...]:
    """Every product that the text names, in either language; `tokens` are those of the text as sent, unmended."""
    return tuple(_found(_names(knowledge), tokens))


@lru_cache(maxsize=4)
def _names_of(products: tuple[tuple[ProductId, tuple[str, ...]], ...]) -> Names:
    names: dict[str, list[tuple[tuple[str, ...], ProductId]]] = {}
    for product, wordings in products:
        for wording in wordings:
            words = words_of(wording)
            names.setdefault(words[0], []).append((words, product))
    return {
        first: tuple(sorted(all_, key=lambda name: (-len(name[0]), name))) for first, all_ in names.items()
    }


def _names(knowledge: Knowledge) -> Names:
    return _names_of(tuple((id_, (*node.en, *node.es)) for id_, node in knowledge.products.items()))


def _found(names: Names, tokens: Sequence[Token]) -> Iterator[ProductSaid]:
    words = [token.word for token in tokens]
    place = 0
    while place < len(words):
        name = next(
            (n for n in names.get(words[place], ()) if tuple(words[place : place + len(n[0])]) == n[0]), None
        )
        if name is None:
            place += 1
            continue
        last = place + len(name[0])
        yield ProductSaid(product=name[1], span=Span(tokens[place].start, tokens[last - 1].end))
        place = last
