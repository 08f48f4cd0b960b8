"""Short ways to ask what a text says."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from assistant.reading import Answer, Reading, open_question, read
from kb.ids import CheckId, Language
from kb.knowledge import Knowledge

Says = Callable[..., Reading]
Answers = Callable[..., Answer]


@pytest.fixture(scope="session")
def says(knowledge: Knowledge) -> Says:
    """What composition alone makes of a text, with no question open: the ear is tested in `test_ear.py`."""
    earless = replace(knowledge, ear=None)

    def read_it(text: str, language: Language | None = None) -> Reading:
        return read(earless, text, language=language)

    return read_it


@pytest.fixture(scope="session")
def both_say(knowledge: Knowledge) -> Says:
    """What a text says with both voices, as a customer's text is read."""

    def read_it(text: str, language: Language | None = None) -> Reading:
        return read(knowledge, text, language=language)

    return read_it


@pytest.fixture(scope="session")
def answers(knowledge: Knowledge) -> Answers:
    """How a text answers a check's question."""

    def read_it(check: str, text: str, language: Language = "en") -> Answer:
        question = open_question(knowledge, CheckId(check), language)
        return read(knowledge, text, about=question, language=language).answer

    return read_it
