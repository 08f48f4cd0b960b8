"""Sets of words, written as one reads them."""


def word_set(words: str) -> frozenset[str]:
    """The words of a text, parted at blanks.

    >>> sorted(word_set("no not never"))
    ['never', 'no', 'not']
    """
    return frozenset(words.split())
