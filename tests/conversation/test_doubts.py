"""Answers that contradict each other: the likelier mistake is asked about again, once, then carried softly."""

from collections.abc import Callable

import pytest

from assistant.conversation.events import Asked
from assistant.helpline import insight_into
from tests.conversation.conftest import Talk

Begin = Callable[..., Talk]
CONTRADICTION = (
    "cooler too warm. air out of the unit is ice cold and strong. the outdoor fan is stopped. exhaust is hot"
)
EN_ESPANOL = (
    "el cuarto esta muy caliente. sopla bien frio y fuerte. el ventilador de afuera no gira. "
    "sale caliente por atras"
)


def test_the_answer_that_does_not_fit_is_asked_about_again_in_other_words(talk: Begin) -> None:
    one = talk(CONTRADICTION)

    assert one.open_check == "look_at_outdoor_fan"
    assert one.events(Asked)[-1].again
    assert any("does not" in text and "outdoor fan" in text for text in one.replies)


def test_in_spanish_too(talk: Begin) -> None:
    one = talk(EN_ESPANOL)

    assert one.open_check == "look_at_outdoor_fan"
    assert any("no cuadra" in text and "ventilador de afuera" in text for text in one.replies)


def test_a_second_look_that_sees_otherwise_counts_instead(talk: Begin) -> None:
    one = talk(CONTRADICTION, "1")

    assert one.known("outdoor_fan") == "turns"
    assert one.open_check not in (None, "look_at_outdoor_fan")


@pytest.mark.parametrize("second", ["2", "not sure", "skip"])
def test_nobody_is_asked_a_third_time_and_the_answer_is_carried_softly(talk: Begin, second: str) -> None:
    one = talk(CONTRADICTION)
    one.text(second)

    for _ in range(4):
        assert one.open_check != "look_at_outdoor_fan"
        one.text("not sure")
    assert one.known("outdoor_fan") == "stopped"


def test_the_same_answer_twice_weighs_more_than_once_but_less_than_two_answers(talk: Begin) -> None:
    once = talk(CONTRADICTION)
    before = _belief(once, "outdoor_fan_dead")

    once.text("2")

    assert 1.2 * before < _belief(once, "outdoor_fan_dead") < 4 * before


def test_answers_that_fit_are_not_asked_about_again(talk: Begin) -> None:
    one = talk(
        "cooler too warm. air out of the unit is weak. there is solid ice on the coil. filter is clean"
    )

    assert not any(asked.again for asked in one.events(Asked))


def test_something_seen_broken_that_is_easily_mended_is_not_doubted(talk: Begin) -> None:
    one = talk("cooler is too warm. the filter is clogged. no ice on the coil")

    assert not any(asked.again for asked in one.events(Asked))


def _belief(one: Talk, cause: str) -> float:
    return dict(insight_into(one.knowledge, one.player.case, one.player.at).marginals)[cause]
