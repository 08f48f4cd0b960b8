"""Putting pieces of language together."""

from collections.abc import Sequence

from kb.ids import Language


def sentence_list(items: Sequence[str], language: Language) -> str:
    """Items as a list in a sentence.

    >>> sentence_list(["ice on the coil", "weak air", "52 F"], "en")
    'ice on the coil, weak air and 52 F'
    >>> sentence_list(["hielo", "iglús"], "es")
    'hielo e iglús'
    """
    if len(items) < 2:  # noqa: PLR2004 - one item is no list
        return "".join(items)
    last = items[-1]
    joint = "and" if language == "en" else _y_or_e(last)
    return f"{', '.join(items[:-1])} {joint} {last}"


def _y_or_e(word: str) -> str:
    begins = word.lower()
    return (
        "e" if begins.startswith(("i", "hi", "í")) and not begins.startswith(("hie", "hia", "hio")) else "y"
    )


def tidy(text: str) -> str:
    """One space between words, and one full stop at an end.

    >>> tidy("It looks as if  ice..  Next.")
    'It looks as if ice. Next.'
    """
    text = " ".join(text.split())
    while ".." in text:
        text = text.replace("..", ".")
    return text.replace(" .", ".").replace("?.", "?").replace("!.", "!")
