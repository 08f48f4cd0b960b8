"""The development sets: figures may rise, and fall no further than a little below what was reached.

The `checking` sets are for checking only: nobody reads their mistakes or adds words for them. Both sets are one
writer's idea of how growers text (tests/people/README.md), so the figures compare our versions and promise nothing.
"""

from pathlib import Path

import pytest

from assistant.reading.score import Scored, labelled_in, score
from assistant.workbench import baselines, figures
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
    assert messages.whole.findings.f1 >= 0.73
    assert messages.whole.quantities.f1 >= 0.95
    assert messages.whole.complaints.f1 >= 0.82


def test_dangers_are_heard_first_and_false_alarms_second(messages: Scored) -> None:
    assert messages.whole.hazards.recall >= 0.97
    assert messages.whole.hazards.precision >= 0.92


@pytest.mark.parametrize("language", ["en", "es"])
def test_neither_language_is_left_behind(messages: Scored, language: str) -> None:
    reached = messages.by_language["en" if language == "en" else "es"]

    assert reached.findings.f1 >= 0.70
    assert reached.hazards.recall >= 0.96


def test_replies_are_right_asked_again_and_hardly_ever_silently_wrong(replies: Scored) -> None:
    reached = replies.whole

    assert reached.right >= 0.92 * reached.replies
    assert reached.silently_wrong <= 0.01 * reached.replies


def test_replies_never_seen_before_are_hardly_ever_silently_wrong(knowledge: Knowledge) -> None:
    reached = scored(knowledge, "checking_replies_en.jsonl", "checking_replies_es.jsonl").whole

    assert reached.silently_wrong <= 0.02 * reached.replies


@pytest.mark.parametrize("likeness", [baselines.similarity, baselines.neighbour])
def test_the_reading_is_better_than_a_plain_likeness(
    knowledge: Knowledge, messages: Scored, replies: Scored, likeness: baselines.Likeness
) -> None:
    ours = (*messages.texts, *replies.texts)
    theirs = baselines.scored_by(likeness, knowledge, [text.labelled for text in ours])

    for part in baselines.PARTS_GUESSED:
        we, they = figures.f1(ours, part), figures.f1(theirs, part)
        assert we is not None
        assert they is not None
        assert we.low > they.high, part
    we, they = figures.replies(ours, "right"), figures.replies(theirs, "right")
    assert we is not None
    assert they is not None
    assert we.low > they.high
