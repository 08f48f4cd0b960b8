"""Photos in the talk: thanked for in words, never an answer, never before a danger."""

from collections.abc import Callable

import pytest

from assistant.conversation.line_events import PhotoTaken
from kb.gsm7 import fold_for_sms, segments
from tests.conversation.conftest import Talk

Begin = Callable[..., Talk]


def test_a_photo_answers_nothing_and_the_question_stands(talk: Begin) -> None:
    one = talk("my cooler is at 52, set to 38")
    open_ = one.open_check
    assert open_ is not None

    said = one.photo()

    assert said.startswith("Your photo is with our desk")
    assert one.open_check == open_
    assert len(one.events(PhotoTaken)) == 1
    assert one.player.case.misread == 0


def test_words_with_a_photo_are_read_as_ever(talk: Begin) -> None:
    one = talk("my cooler is at 52, set to 38")

    said = one.photo("the filter is packed with dust")

    assert one.known("filter") == "clogged"
    assert said.startswith("Your photo is with our desk")


def test_a_danger_goes_before_the_thanks(talk: Begin) -> None:
    said = talk("my cooler is at 52, set to 38").photo("the unit is on fire")

    assert said.index("911") < said.index("photo")


def test_a_photo_before_any_word_is_thanked_for_in_both_languages(talk: Begin) -> None:
    said = talk().photo()

    assert "automatic assistant" in said
    assert "Your photo is with our desk" in said
    assert "Su foto" in said
    assert all(segments(fold_for_sms(text)) <= 2 for text in said.split("\n"))


@pytest.mark.parametrize("words", ["", "it is still warm"])
def test_under_a_colleague_the_assistant_says_nothing_of_it(talk: Begin, words: str) -> None:
    one = talk("my cooler is at 52, set to 38")
    one.desk("takes over")

    assert one.photo(words) == ""
    assert len(one.events(PhotoTaken)) == 1


def test_in_a_danger_a_photo_starts_no_repair_talk(talk: Begin) -> None:
    said = talk("smoke comes out of the outlet").photo()

    assert "desk" in said
    assert "?" not in said
