"""The knowledge that this process works with, loaded once: a working copy where a setting names one, else the packaged."""

from functools import cache
from pathlib import Path

import kb
from channels.settings import load_settings
from kb.files import PACKAGED
from kb.knowledge import Knowledge
from kb.loading import default_store


def our_folder() -> Path:
    """Where the knowledge lies: as the setting says, else inside the program. Fails with `SettingsError`."""
    return load_settings().knowledge or PACKAGED


@cache
def our_knowledge() -> Knowledge:
    """The knowledge; what is worked out from it is kept with the very object. Fails with `KnowledgeError`."""
    return kb.load(our_folder(), store=default_store())
