"""What all tests share: the knowledge that ships with the program, loaded once."""

import pytest

import kb
from kb.knowledge import Knowledge


@pytest.fixture(scope="session")
def knowledge() -> Knowledge:
    return kb.load()
