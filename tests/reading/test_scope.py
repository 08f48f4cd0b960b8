"""In what sense a thing is said: denied, doubted, past, supposed, asked, told by another. Both languages."""

import pytest

from tests.reading.conftest import Says
from tests.reading.ways import confidence, not_now, now


@pytest.mark.parametrize(
    ("text", "finding", "state"),
    [
        ("the coil is not iced", "coil_ice", "none"),
        ("no ice on the coil", "coil_ice", "none"),
        ("the coil isn't dirty", "indoor_coil", "clean"),
        ("the coil is neither dirty nor iced", "coil_ice", "none"),
        ("I don't think the filter is dirty", "filter", "clean"),
        ("the fan outside isn't turning", "outdoor_fan", "stopped"),
        ("the fan outside has not stopped", "outdoor_fan", "turns"),
        ("el serpentín no tiene hielo", "coil_ice", "none"),
        ("el serpentín ya no tiene hielo", "coil_ice", "none"),
        ("no tiene nada de hielo el serpentín", "coil_ice", "none"),
        ("el ventilador de afuera no gira", "outdoor_fan", "stopped"),
        ("el filtro tampoco está sucio", "filter", "clean"),
        ("ni el filtro está sucio", "filter", "clean"),
    ],
)
def test_a_denial_becomes_the_other_state(says: Says, text: str, finding: str, state: str) -> None:
    assert now(says(text)).get(finding) == state


@pytest.mark.parametrize(
    "text",
    [
        "No, the filter is dirty",
        "no the filter is dirty",
        "No, el filtro está sucio",
        "ay no el filtro está sucio",
    ],
)
def test_a_no_that_answers_denies_nothing_after_it(says: Says, text: str) -> None:
    assert now(says(text)).get("filter") == "clogged"


@pytest.mark.parametrize(
    ("sure", "doubtful"),
    [
        ("the coil is iced", "I think the coil is iced"),
        ("the coil is iced", "maybe the coil is iced"),
        ("el serpentín tiene hielo", "creo que el serpentín tiene hielo"),
        ("el serpentín tiene hielo", "a lo mejor el serpentín tiene hielo, quizás"),
    ],
)
def test_a_hedge_takes_confidence(says: Says, sure: str, doubtful: str) -> None:
    assert confidence(says(doubtful), "coil_ice") <= confidence(says(sure), "coil_ice")


@pytest.mark.parametrize(
    ("text", "when"),
    [
        ("the coil was iced yesterday", "before"),
        ("el serpentín tenía hielo ayer", "before"),
        ("if the coil is iced what do I do", "would_be"),
        ("si el serpentín tiene hielo qué hago", "would_be"),
        ("should the coil be iced?", "asked"),
        ("is the coil iced?", "asked"),
        ("¿debe tener hielo el serpentín?", "asked"),
    ],
)
def test_what_is_not_said_of_now_is_marked(says: Says, text: str, when: str) -> None:
    reading = says(text)

    assert not_now(reading).get("coil_ice") == when
    assert "coil_ice" not in now(reading)


def test_why_questions_grant_what_they_ask_about(says: Says) -> None:
    assert now(says("why is the coil iced?"))["coil_ice"] == "solid"
    assert now(says("¿por qué tiene hielo el serpentín?"))["coil_ice"] == "solid"


@pytest.mark.parametrize(
    "text", ["my wife says the filter is dirty", "el técnico dijo que el filtro está sucio"]
)
def test_told_by_another_counts_less(says: Says, text: str) -> None:
    said = next(said for said in says(text).findings if said.finding == "filter")

    assert said.when == "by_another"
    assert said.confidence < 0.9


def test_the_display_is_nobody_else(says: Says) -> None:
    assert says("the controller says resting").findings[0].when == "now"


def test_past_matters_where_the_finding_keeps_history(says: Says) -> None:
    said = next(
        said
        for said in says("the breaker tripped twice yesterday").findings
        if said.finding == "protection_moved"
    )

    assert said.state == "breaker"
