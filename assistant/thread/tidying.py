"""A short message in the one form in which it is looked up."""

import unicodedata
from typing import Final

MARKS: Final = ".,-+/"
"""Kept inside a number or a word, dropped at its ends; who reads numbers puts a leading sign back."""


def plain(text: str) -> str:
    """Lower case, no accents, no marks but inside a word, single blanks.

    >>> plain("  ¡BAJA!! 🙏 "), plain("Don't text me…"), plain("49.5 F")
    ('baja', 'dont text me', '49.5 f')
    """
    folded = unicodedata.normalize("NFKD", unicodedata.normalize("NFKC", text).casefold())
    kept = "".join(letter for letter in folded if not unicodedata.combining(letter) and letter not in "'’`´")
    words = (word.strip(MARKS) for word in "".join(map(_blank_unless_word, kept)).split())
    return " ".join(word for word in words if word)


def _blank_unless_word(letter: str) -> str:
    return letter if letter.isalnum() or letter in MARKS else " "
