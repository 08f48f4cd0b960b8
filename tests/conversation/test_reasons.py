"""Why we ask, read aloud: twenty rooms in two languages, each asked once why and once more why."""

import re
from collections.abc import Callable

import pytest

from assistant.conversation.events import Said
from kb.gsm7 import fold_for_sms, segments
from kb.ids import Language
from tests.conversation.conftest import Talk

Begin = Callable[..., Talk]
WHY: dict[Language, str] = {"en": "why do you ask?", "es": "¿por qué pregunta?"}
SUSPECTS = {"en": "That would go with what you told me (", "es": "Eso iría con lo que me contó ("}
ROOMS: list[tuple[Language, str]] = [
    ("en", "my cooler is too warm, 52, set to 38"),
    ("en", "cooler is drifting up, hardly any air comes out"),
    ("en", "window unit, room never gets below 60, set to 40"),
    ("en", "brand new room, stuck at 50, set at 36, mini split blows cold"),
    ("en", "some frost on the coil, filter is clean, room 50, set to 38"),
    ("en", "compressor hums and clicks, room warm"),
    ("en", "some of the lettuce froze, set to 35"),
    ("en", "room is 48, set to 36, only on hot afternoons"),
    ("en", "room is 55, set to 38, door seal leaks, filter is clean"),
    ("en", "room at 45, set to 38, it gets worse on busy days"),
    ("es", "mi cuarto está a 12 C y lo tengo a 3"),
    ("es", "no enfría, sale poco aire, está a 14 C, lo quiero a 4"),
    ("es", "equipo de ventana, no baja de 16 grados, lo puse a 4"),
    ("es", "cuarto nuevo, se queda en 10 C, lo quiero a 2"),
    ("es", "sale aire débil, el filtro está limpio, 10 C, meta 3"),
    ("es", "el compresor zumba y hace clic, no enfría"),
    ("es", "se me congeló parte de la lechuga, lo puse a 2 C"),
    ("es", "está a 9 C, lo puse a 2, peor en las tardes de calor"),
    ("es", "está a 12 C, meta 3, el empaque de la puerta no sella"),
    ("es", "está a 8 C, lo quiero a 3, peor en los días de mucho trabajo"),
]


@pytest.mark.parametrize(("language", "room"), ROOMS)
def test_every_question_has_a_reason_that_can_be_read_aloud(
    talk: Begin, language: Language, room: str
) -> None:
    one = talk(room, language=language)
    assert one.open_check is not None
    before = len(one.events(Said))

    first, second = one.text(WHY[language]), one.text(WHY[language])

    assert re.search(r"\b(Because|Porque)\b", first)
    assert first != second
    texts = [said.text for said in one.events(Said)[before:]]
    assert not any(re.search(r"[_{}]|None", text) for text in texts)
    assert all(segments(fold_for_sms(text)) <= 2 for text in texts)


@pytest.mark.parametrize("language", ["en", "es"])
def test_most_questions_name_what_they_suspect_and_what_was_told_that_made_us_think_of_it(
    talk: Begin, language: Language
) -> None:
    answers = [
        talk(room, language=spoken).text(WHY[language]) for spoken, room in ROOMS if spoken == language
    ]

    assert sum(SUSPECTS[language] in answer for answer in answers) >= len(answers) / 2


def test_the_reason_names_only_what_speaks_for_the_cause(talk: Begin) -> None:
    one = talk("room 52, set to 38, the filter is clogged, air is weak, door is tight")
    assert one.state == "fixing"

    why = one.text("why?")

    assert "the filter is clogged" in why
    assert "door" not in why.split("That points to")[0].split("I go by this")[-1]
