"""Confidence: rising with strength, weak where nobody asked, and a probability as far as labelled texts can tell."""

from pathlib import Path
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.reading import open_question, read
from assistant.reading.compose import Source
from assistant.reading.labelled import set_files, texts_of
from assistant.reading.score import score
from assistant.reading.sureness import probability_of
from assistant.reading.thresholds import CAUGHT, SAID_BACK, SAY_BACK, TAKE, WRONG
from assistant.workbench import honesty
from assistant.workbench.honesty import Said
from assistant.workbench.simulate_scores import calibration_error
from kb.ids import CheckId
from kb.knowledge import Knowledge

PEOPLE = Path(__file__).parent.parent / "people"


@given(
    source=st.sampled_from(get_args(Source)),
    replying=st.booleans(),
    low=st.floats(0, 1),
    high=st.floats(0, 1),
)
def test_a_stronger_claim_is_never_less_likely(
    *, source: Source, replying: bool, low: float, high: float
) -> None:
    low, high = sorted((low, high))

    less, more = (probability_of(one, source, replying=replying) for one in (low, high))

    assert 0 <= less <= more <= 1


def test_the_thresholds_are_where_two_costs_meet() -> None:
    def take(p: float) -> float:
        return (1 - p) * WRONG

    def say_back(p: float) -> float:
        return SAID_BACK + (1 - p) * WRONG * (1 - CAUGHT)

    assert take(TAKE) == pytest.approx(say_back(TAKE))
    assert say_back(SAY_BACK) == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("check", "text", "never"),
    [
        ("ask_noise", "nothing new, same old drone", "worked_before"),
        ("look_at_warmer_contact", "anda flojo, no pega con el bulbo", "bulb_warmer"),
    ],
)
def test_words_of_an_answer_are_hardly_another_finding_of_the_same_thing(
    knowledge: Knowledge, check: str, text: str, never: str
) -> None:
    reading = read(knowledge, text, about=open_question(knowledge, CheckId(check), "en"))

    assert all(said.confidence < SAY_BACK for said in reading.findings if said.finding == never)


@pytest.mark.parametrize(("said", "off"), [("quantities", 0.08), ("hazards", 0.10), ("answers", 0.10)])
def test_what_is_taken_is_about_as_often_right_as_it_says(
    knowledge: Knowledge, said: Said, off: float
) -> None:
    texts = score(knowledge, texts_of(set_files([PEOPLE]))).texts

    assert calibration_error(honesty.bins_of(honesty.claims(texts, said))) <= off
