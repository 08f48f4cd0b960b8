"""Words as the search compares them."""

import unicodedata


def folded(text: str) -> str:
    """Letters without accents or case, one space between words.

    >>> folded("El CUARTO  está  frío, señor")
    'el cuarto esta frio, senor'
    """
    apart = unicodedata.normalize("NFKD", text.casefold())
    return " ".join("".join(letter for letter in apart if not unicodedata.combining(letter)).split())
