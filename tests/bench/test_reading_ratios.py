"""A message twice as long takes at most 2.3 times as long to read. Long; run by `.ci/long`."""

import time  # noqa: TID251 - a bench takes times, and compares them only with one another
from itertools import pairwise
from pathlib import Path

import pytest

from assistant.reading import read
from assistant.reading.labelled import set_files, texts_of
from assistant.reading.normalise import LONGEST_TEXT
from kb.knowledge import Knowledge

pytestmark = pytest.mark.long

MOST = 2.3


def least_s(knowledge: Knowledge, text: str, times: int = 7) -> float:
    """The least of several times in seconds: what the reading takes when nothing disturbs it."""
    taken = []
    for _ in range(times):
        begun = time.perf_counter()
        read(knowledge, text)
        taken.append(time.perf_counter() - begun)
    return min(taken)


def test_twice_as_long_takes_hardly_more_than_twice_the_time(knowledge: Knowledge) -> None:
    people = texts_of(set_files([Path(__file__).parent.parent / "people"]))
    everything = " ".join(text.text for text in people)
    assert len(everything) >= LONGEST_TEXT
    read(knowledge, "warm up")

    lengths = [LONGEST_TEXT // 8, LONGEST_TEXT // 4, LONGEST_TEXT // 2, LONGEST_TEXT]
    taken = [least_s(knowledge, everything[:length]) for length in lengths]

    print([f"{1e3 * one:.1f} ms for {n}" for one, n in zip(taken, lengths, strict=True)])  # noqa: T201
    assert all(longer <= MOST * shorter for shorter, longer in pairwise(taken))
