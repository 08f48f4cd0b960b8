"""Words compared as a reader hears them: small letters, no accents, no marks around them, single blanks."""

import re
import unicodedata


def heard(words: str) -> str:
    """The words as they are compared.

    >>> heard("  ¡Alto! "), heard("Opt-Out."), heard("Está  CALIENTE")
    ('alto', 'opt-out', 'esta caliente')
    """
    spread = unicodedata.normalize("NFKD", words.casefold())
    bare = "".join(sign for sign in spread if not unicodedata.combining(sign))
    return re.sub(r"\s+", " ", bare).strip(" .,;:!?¡¿\"'()")


def count_words(sentence: str) -> int:
    """Words that are said aloud: blanks part them, and marks alone are none.

    >>> count_words("Unplug it - wait 5 minutes.")
    5
    """
    return sum(any(sign.isalnum() for sign in word) for word in sentence.split())


def sentences(text: str) -> tuple[str, ...]:
    """The sentences of a text.

    >>> sentences("Unplug it. Wait 2.5 minutes! ¿Ya?")
    ('Unplug it.', 'Wait 2.5 minutes!', '¿Ya?')
    """
    return tuple(part for part in re.split(r"(?<=[.!?])\s+", text) if part)
