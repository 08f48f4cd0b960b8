"""The picture of beliefs: every line named, the same in words, and never two labels on one another."""

import re
from itertools import pairwise
from xml.etree import ElementTree as ET

from assistant.drawing.beliefs import DASHES, LABEL_HEIGHT, BeliefStep, draw_beliefs, in_words

STEPS = [
    BeliefStep(learnt="too warm", shares=[("dirty filter", 0.2), ("leaking door", 0.2), ("<gas> & co", 0.1)]),
    BeliefStep(learnt="airflow: weak", shares=[("dirty filter", 0.5), ("leaking door", 0.1)]),
    BeliefStep(learnt="filter: clogged", shares=[("dirty filter", 0.9), ("leaking door", 0.02)]),
]
SVG = "{http://www.w3.org/2000/svg}"


def test_the_picture_is_well_formed_and_says_the_same_in_words() -> None:
    root = ET.fromstring(draw_beliefs(STEPS))  # noqa: S314 - our own text

    assert root.get("role") == "img"
    words = root.findtext(f"{SVG}desc")
    assert words == in_words(STEPS)
    assert "After filter: clogged: dirty filter 90 %" in (words or "")


def test_every_line_has_dashes_of_its_own_and_its_name_at_its_end() -> None:
    root = ET.fromstring(draw_beliefs(STEPS))  # noqa: S314 - our own text
    lines = root.findall(f"{SVG}polyline")
    texts = [text.text for text in root.findall(f"{SVG}text")]

    assert [line.get("stroke-dasharray") for line in lines] == list(DASHES[:3])
    assert {"90 % dirty filter", "2 % leaking door", "0 % <gas> & co"} <= set(texts)


def test_names_of_lines_that_end_together_stay_apart_and_inside() -> None:
    crowd = [BeliefStep(learnt="one", shares=[(f"cause {n}", 0.001 * n) for n in range(6)])]
    root = ET.fromstring(draw_beliefs(crowd))  # noqa: S314 - our own text
    at = sorted(
        float(t.get("y", "0")) for t in root.findall(f"{SVG}text") if re.match(r"\d % cause \d", t.text or "")
    )

    assert len(at) == 6
    assert all(b - a >= LABEL_HEIGHT - 0.11 for a, b in pairwise(at))
    assert max(at) <= 300


def test_nothing_believed_yet_is_a_picture_too() -> None:
    assert "Nothing is believed yet." in draw_beliefs([])
    assert "Todavía no se cree nada." in draw_beliefs([], "es")


def test_the_same_steps_give_the_same_picture() -> None:
    assert draw_beliefs(STEPS) == draw_beliefs(list(STEPS))
