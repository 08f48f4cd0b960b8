"""The knowledge that ships with the program, loaded once in a process."""

from functools import cache

import kb
from kb.knowledge import Knowledge


@cache
def our_knowledge() -> Knowledge:
    """The knowledge; what is worked out from it is kept with the very object. Fails with `KnowledgeError`."""
    return kb.load()
