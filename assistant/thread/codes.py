"""A code in a text, and the word that asks for one."""

import re
from typing import Final

from assistant.thread.tidying import plain

CODE: Final = re.compile(r"(?:(?:the |my |el |mi )?(?:code|codigo)(?: is| es)? )?(\d{3})[ -]?(\d{3})")
TO_PAGE: Final = frozenset({"page", "web", "website", "web page", "pagina", "pagina web"})


def code_in(text: str) -> str | None:
    """The six digits of a message that is a code and nothing else.

    >>> code_in("482 193"), code_in("Código: 482-193"), code_in("482193 F"), code_in("48219")
    ('482193', '482193', None, None)
    """
    found = CODE.fullmatch(plain(text).replace(":", " "))
    return None if found is None else found.group(1) + found.group(2)


def asks_for_page(text: str) -> bool:
    """They want to go on at a page."""
    return plain(text) in TO_PAGE
