"""The text of `helpline read --why` and the shape of `read --json`."""

import json

from assistant.reading import open_question, read
from assistant.reading.as_json import as_json
from assistant.reading.explain import explain
from kb.ids import CheckId
from kb.knowledge import Knowledge


def test_why_quotes_the_persons_words(knowledge: Knowledge) -> None:
    text = "I think the fliter is dirty, room at 52"
    told = explain(knowledge, text, read(knowledge, text))

    assert '"fliter" read as filter' in told
    assert '"dirty" -> filter: clogged' in told
    assert "room_c: 52 F" in told


def test_why_tells_how_a_question_was_answered(knowledge: Knowledge) -> None:
    question = open_question(knowledge, CheckId("look_at_filter"), "en")
    told = explain(knowledge, "2", read(knowledge, "2", about=question), question)

    assert "answer        dusty" in told


def test_json_has_the_shape_that_stays_put(knowledge: Knowledge) -> None:
    shape = as_json(read(knowledge, "coil iced, room at 52, why do you ask"))

    assert set(shape) == {
        "language", "complaints", "findings", "quantities", "hazards", "moves", "answer", "outcome", "unread",
    }  # fmt: skip
    assert json.loads(json.dumps(shape)) == shape
