"""The development sets: figures may rise, and fall no further than a little below what was reached.

The `checking` sets are for checking only: nobody reads their mistakes or adds words for them. Both sets are one
writer's idea of how growers text (tests/people/README.md), so the figures compare our versions and promise nothing.
"""

from pathlib import Path

import pytest

from assistant.reading.score import Scored, labelled_in, score
from kb.knowledge import Knowledge

PEOPLE = Path(__file__).parent.parent / "people"


def scored(knowledge: Knowledge, *names: str) -> Scored:
    """The figures of some files together."""
    texts = [text for name in names for text in labelled_in((PEOPLE / name).read_text("utf-8").splitlines())]
    return score(knowledge, texts)


@pytest.fixture(scope="module")
def messages(knowledge: Knowledge) -> Scored:
    return scored(knowledge, "messages_en.jsonl", "messages_es.jsonl")


@pytest.fixture(scope="module")
def replies(knowledge: Knowledge) -> Scored:
    return scored(knowledge, "replies_en.jsonl", "replies_es.jsonl")


def test_findings_quantities_and_complaints_of_first_messages(messages: Scored) -> None:
    assert messages.whole.findings.f1 >= 0.70
    assert messages.whole.quantities.f1 >= 0.95
    assert messages.whole.complaints.f1 >= 0.65


def test_dangers_are_heard_first_and_false_alarms_second(messages: Scored) -> None:
    assert messages.whole.hazards.recall >= 0.92
    assert messages.whole.hazards.precision >= 0.65


@pytest.mark.parametrize("language", ["en", "es"])
def test_neither_language_is_left_behind(messages: Scored, language: str) -> None:
    figures = messages.by_language["en" if language == "en" else "es"]

    assert figures.findings.f1 >= 0.64
    assert figures.hazards.recall >= 0.90


def test_replies_are_right_asked_again_and_hardly_ever_silently_wrong(replies: Scored) -> None:
    figures = replies.whole

    assert figures.right >= 0.86 * figures.replies
    assert figures.silently_wrong <= 0.02 * figures.replies


def test_replies_never_seen_before_are_hardly_ever_silently_wrong(knowledge: Knowledge) -> None:
    figures = scored(knowledge, "checking_replies_en.jsonl", "checking_replies_es.jsonl").whole

    assert figures.silently_wrong <= 0.04 * figures.replies
