"""What a text asks of the conversation itself."""

import pytest

from tests.reading.conftest import Says


@pytest.mark.parametrize(
    ("text", "move"),
    [
        ("why do you ask?", "why"),
        ("por qué pregunta", "why"),
        ("how do I do that", "how"),
        ("cómo le hago", "how"),
        ("skip", "skip"),
        ("otra pregunta", "skip"),
        ("can I talk to a real person", "person"),
        ("quiero hablar con alguien", "person"),
        ("start over", "start_over"),
        ("empezar de nuevo", "start_over"),
        ("go back", "back"),
        ("next", "next"),
        ("listo", "done"),
        ("done", "done"),
        ("can't right now", "cannot"),
        ("ahorita no puedo", "cannot"),
        ("in english please", "english"),
        ("en español", "spanish"),
        ("thanks", "thanks"),
        ("hold on", "pause"),
    ],
)
def test_a_move_is_heard(says: Says, text: str, move: str) -> None:
    assert move in says(text).moves


@pytest.mark.parametrize(
    ("text", "move"),
    [
        ("the compressor starts and goes back off", "back"),
        ("no se mueve el ventilador", "unsure"),
        ("la persona del cuarto está bien", "person"),
        ("it's done this for two days, the coil is iced", "done"),
        ("the next day it was iced again", "next"),
    ],
)
def test_ordinary_words_are_no_moves(says: Says, text: str, move: str) -> None:
    assert move not in says(text).moves
