"""How many SMS parts a text costs, and the same text in the letters that cost least.

Source: 3GPP TS 23.038 §6.2.1 (default alphabet), §6.2.1.1 (extension table); TS 23.040 §9.2.3.24 (header of a part).
"""

import re
from collections.abc import Iterator
from typing import Final

BASIC: Final = frozenset(
    "@£$¥èéùìòÇ\nØø\rÅåΔ_ΦΓΛΩΠΨΣΘΞÆæßÉ !\"#¤%&'()*+,-./0123456789:;<=>?"
    "¡ABCDEFGHIJKLMNOPQRSTUVWXYZÄÖÑÜ§¿abcdefghijklmnopqrstuvwxyzäöñüà"
)
"""One septet each."""
EXTENSION: Final = frozenset("^{}[]~\\|€\f")
"""Two septets each: an escape and the sign."""

ALONE_SEPTETS: Final = 160
JOINED_SEPTETS: Final = 153
ALONE_UNITS: Final = 70
JOINED_UNITS: Final = 67
"""Room in a message of one part, and in each part of a longer one, whose header takes six octets of 140."""

LOOKALIKES: Final = str.maketrans(
    {
        "“": '"', "”": '"', "„": '"', "«": '"', "»": '"', "‘": "'", "’": "'", "´": "'", "`": "'", "–": "-", "—": "-", "‑": "-", "−": "-",
        "…": "...", "•": "*", "·": "-", "½": "1/2", "¼": "1/4", "¾": "3/4", "²": "2", "×": "x", "÷": "/", "±": "+/-", "µ": "u", "º": "o", "ª": "a",
        "→": "->", "←": "<-", "≤": "<=", "≥": ">=", "\u00a0": " ", "\u202f": " ", "\u2009": " ", "\t": " ", "\u200b": "", "\ufeff": "",
    }
)  # fmt: skip
VOWELS: Final = str.maketrans("áéíóúÁÉÍÓÚ", "aeiouAEIOU")
"""é and É are in the alphabet, but half-folded Spanish reads as a mistake; ñ is never folded (año is not ano)."""


def is_gsm7(text: str) -> bool:
    """True where every sign is in the default alphabet or its extension.

    >>> is_gsm7("¿Qué tal el año? 5 €"), is_gsm7("¿Cómo está?")
    (True, False)
    """
    return all(sign in BASIC or sign in EXTENSION for sign in text)


def segments(text: str) -> int:
    """Parts that `text` is sent in, letters as they stand; an empty text still takes one.

    A sign that costs two is never split over two parts, so parts are filled one by one.

    >>> segments("a" * 160), segments("a" * 161), segments("á" * 70), segments("á" * 71)
    (1, 2, 1, 2)
    """
    costs = tuple(_costs(text))
    alone, joined = (ALONE_SEPTETS, JOINED_SEPTETS) if is_gsm7(text) else (ALONE_UNITS, JOINED_UNITS)
    if sum(costs) <= alone:
        return 1
    parts, used = 1, 0
    for cost in costs:
        if used + cost > joined:
            parts, used = parts + 1, 0
        used += cost
    return parts


def fold_for_sms(text: str) -> str:
    """The text as it is sent: look-alikes from the alphabet always, vowels without accents only where that saves a part.

    >>> fold_for_sms("Está a 41 °F…")
    'Está a 41 F...'
    >>> fold_for_sms("Está a 41 °F y el año pasado también; " * 2)
    'Esta a 41 F y el año pasado tambien; Esta a 41 F y el año pasado tambien; '
    """
    plain = re.sub(r"\s*°\s*(?=[CFK]\b)", " ", text).replace("°", "").translate(LOOKALIKES)
    folded = plain.translate(VOWELS)
    return folded if segments(folded) < segments(plain) else plain


def _costs(text: str) -> Iterator[int]:
    if is_gsm7(text):
        yield from (2 if sign in EXTENSION else 1 for sign in text)
    else:
        yield from (2 if ord(sign) > 0xFFFF else 1 for sign in text)  # noqa: PLR2004 — beyond it UTF-16 takes a pair
