"""What a text asks of the conversation itself."""

import pytest

from assistant.reading import open_question, read
from kb.ids import CheckId
from kb.knowledge import Knowledge
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


@pytest.mark.parametrize(
    "text",
    [
        "let me speak with someone who knows", "put a real person on", "is there a human", "páseme con el encargado",
        "quiero hablar con alguien de carne y hueso", "que me llame alguien por favor", "this is silly, get me a supervisor",
    ],
)  # fmt: skip
def test_a_person_is_asked_for_in_any_words(says: Says, text: str) -> None:
    assert "person" in says(text).moves


@pytest.mark.parametrize(
    "text",
    [
        "I don't want to wait for a real person", "no hace falta que me llamen", "I'd rather not talk to a person",
        "voy a hablar con mi jefe y le aviso", "my wife will talk to the technician tomorrow", "no quiero hablar con nadie",
    ],
)  # fmt: skip
def test_who_wants_no_person_or_speaks_of_another_asks_for_none(says: Says, text: str) -> None:
    assert "person" not in says(text).moves


@pytest.mark.parametrize(
    "text",
    ["which way does it slide out?", "how hard do I pull", "and where is that exactly", "¿cómo la saco?", "¿de qué lado está?" ],
)  # fmt: skip
def test_a_question_about_doing_it_asks_how(knowledge: Knowledge, text: str) -> None:
    question = open_question(knowledge, CheckId("look_at_filter"), "en")

    assert "how" in read(knowledge, text, about=question).moves
