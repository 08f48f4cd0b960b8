"""Who to call, as a whole sentence that nothing can break: by the region of the room, else of the phone.

911 in the United States, Puerto Rico and Mexico; 112 in Spain and the EU; unknown: both; elsewhere no number of ours.
Telling somebody a wrong number can cost a life, so a country is only named here once somebody has checked it.
"""

import re
from types import MappingProxyType
from typing import Final, Literal

from kb.ids import Language

Region = Literal["911", "112", "unknown", "other"]

_CALL: Final = MappingProxyType(
    {
        ("en", "911"): "Call 911.",
        ("en", "112"): "Call 112.",
        ("en", "unknown"): "Call 911 or 112.",
        ("en", "other"): "Call emergency services.",
        ("es", "911"): "Llame al 911.",
        ("es", "112"): "Llame al 112.",
        ("es", "unknown"): "Llame al 911 o al 112.",
        ("es", "other"): "Llame a emergencias.",
    }
)
_TOKEN: Final = re.compile(r"\{call(_all)?\}")


def call_words(language: Language, region: str, *, everybody: bool = False) -> str:
    """The sentence that says who to call.

    >>> call_words("es", "911", everybody=True)
    'Llamen al 911.'
    """
    words = _CALL.get((language, region)) or _CALL[language, "unknown"]
    return words.replace("Llame", "Llamen") if everybody and language == "es" else words


def with_calls(text: str, language: Language, region: str) -> str:
    """The text with `{call}` and `{call_all}` filled; a capital only at the start or after `. ? !`.

    >>> with_calls("If it stays shut, {call} Keep moving.", "en", "112")
    'If it stays shut, call 112. Keep moving.'
    """

    def fill(token: re.Match[str]) -> str:
        words = call_words(language, region, everybody=token.group(1) is not None)
        before = text[: token.start()].rstrip()
        return words if not before or before[-1] in ".?!" else words[0].lower() + words[1:]

    return _TOKEN.sub(fill, text)
