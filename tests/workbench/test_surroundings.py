"""Pictures of the knowledge: well-formed, readable without eyes, and saying what the files say."""

import re
from xml.etree import ElementTree as ET

import pytest

import kb
from assistant.drawing.surroundings import draw_surroundings, in_words
from assistant.workbench.surroundings import matrix_of, surroundings_of
from kb.errors import RequestError
from kb.ids import CauseId
from kb.knowledge import Knowledge
from kb.likelihood import strength

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def knowledge() -> Knowledge:
    return kb.load()


@pytest.mark.parametrize(
    "name",
    ["low_charge", "look_at_filter", "too_warm", "finding:filter", "clean_filter", "check:look_at_filter"],
)
def test_a_picture_is_well_formed_and_says_itself_in_words(knowledge: Knowledge, name: str) -> None:
    around = surroundings_of(knowledge, name)
    picture = ET.fromstring(draw_surroundings(around))  # noqa: S314 - our own picture

    description = picture.find(f"{SVG}desc")
    assert picture.get("role") == "img"
    assert description is not None
    assert description.text == in_words(around)
    for bundle in (*around.before, *around.after):
        for strand in bundle.strands:
            assert strand.words in in_words(around)


def test_nothing_is_drawn_outside_the_picture(knowledge: Knowledge) -> None:
    for cause in knowledge.causes:
        picture = ET.fromstring(draw_surroundings(surroundings_of(knowledge, f"cause:{cause}")))  # noqa: S314 - as above
        _, _, width, height = map(float, str(picture.get("viewBox")).split())
        for text in picture.iter(f"{SVG}text"):
            assert 0 <= float(str(text.get("x"))) <= width
            assert 0 <= float(str(text.get("y"))) <= height


def test_a_cause_is_drawn_with_every_strength_that_its_file_writes(knowledge: Knowledge) -> None:
    cause = knowledge.causes[CauseId("low_charge")]
    around = surroundings_of(knowledge, "low_charge")

    drawn = sorted(one.strength or 0.0 for bundle in around.after[:1] for one in bundle.strands)

    assert drawn == sorted(strength(word) for states in cause.shows.values() for word in states.values())


def test_light_and_dark_are_both_there(knowledge: Knowledge) -> None:
    for picture in (draw_surroundings(surroundings_of(knowledge, "low_charge")), matrix_of(knowledge)):
        assert "prefers-color-scheme:dark" in picture


def test_the_matrix_has_a_cell_for_every_finding_that_a_cause_shows(knowledge: Knowledge) -> None:
    page = matrix_of(knowledge)

    told = sum(len(cause.shows) for cause in knowledge.causes.values())
    assert len(re.findall(r'<td style="--share', page)) == told
    assert page.count('<th scope="row"') == len(knowledge.causes)


def test_a_slip_in_a_name_is_met_with_the_nearest(knowledge: Knowledge) -> None:
    with pytest.raises(RequestError, match="low_charge"):
        surroundings_of(knowledge, "low_chrage")
