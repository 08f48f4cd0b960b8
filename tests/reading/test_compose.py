"""What is said of what: things and qualities joined inside a statement."""

import pytest

from assistant.reading import read
from kb.ids import ThingId
from kb.knowledge import Knowledge
from tests.reading.conftest import Says
from tests.reading.ways import confidence, now


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("filter and coil are both clean", {"filter": "clean", "indoor_coil": "clean"}),
        ("dirty filter, clean coil", {"filter": "clogged", "indoor_coil": "clean"}),
        ("el filtro y el serpentín están limpios", {"filter": "clean", "indoor_coil": "clean"}),
        ("the filter is clean but the coil is iced", {"filter": "clean", "coil_ice": "solid"}),
        (
            "filter clean coil iced door gasket torn",
            {"filter": "clean", "coil_ice": "solid", "door_seal": "leaks"},
        ),
        ("el filtro está limpio pero el serpentín tiene hielo", {"filter": "clean", "coil_ice": "solid"}),
        ("no gira el ventilador de afuera", {"outdoor_fan": "stopped"}),
        ("la coil está frozen y el filter bien sucio", {"coil_ice": "solid", "filter": "clogged"}),
        ("the fan of the outdoor unit isn't turning", {"outdoor_fan": "stopped"}),
        ("i looked at the filter. it is dirty", {"filter": "clogged"}),
    ],
)
def test_each_statement_finds_its_thing(says: Says, text: str, expected: dict[str, str]) -> None:
    found = now(says(text))

    assert expected.items() <= found.items()


def test_it_means_what_was_named_last(knowledge: Knowledge) -> None:
    reading = read(knowledge, "it is dirty", last_thing=ThingId("filter"))

    assert now(reading) == {"filter": "clogged"}


def test_it_without_a_name_is_not_taken_for_sure(says: Says) -> None:
    reading = says("it's iced up")

    assert all(said.confidence < 0.9 for said in reading.findings)


def test_a_correction_wins(says: Says) -> None:
    reading = says("the filter is clean, sorry, I mean the filter is dirty")

    assert reading.corrects
    assert now(reading)["filter"] == "clogged"


def test_likelihoods_are_shares(says: Says) -> None:
    for said in says("coil iced, filter not clean, fan outside maybe stopped").findings:
        assert sum(said.likelihood.values()) == pytest.approx(1.0)
        assert (
            max(said.likelihood, key=lambda state: said.likelihood[state]) == said.state
            or said.confidence < 0.5
        )


def test_spans_are_the_persons_own_words(says: Says) -> None:
    text = "🥶 Mi serpentín está CONGELADO"
    said = next(said for said in says(text).findings if said.finding == "coil_ice")

    assert text[said.span.start : said.span.end] == "CONGELADO"


def test_a_typo_costs_confidence(says: Says) -> None:
    assert confidence(says("the fliter is clean"), "filter") < confidence(
        says("the filter is clean"), "filter"
    )


def test_what_nothing_was_made_of_is_kept(says: Says) -> None:
    text = "the coil is iced and my cousin paints watercolors at weddings"

    assert any("watercolors" in unread.text for unread in says(text).unread)
