"""Which language a text is in."""

import pytest

from tests.reading.conftest import Says


@pytest.mark.parametrize(
    ("text", "language"),
    [
        ("the fan is not turning", "en"),
        ("el ventilador no gira", "es"),
        ("mi cooler no enfría y el filtro está limpio", "es"),
        ("cooler is at 52", "en"),
        ("no enfria", "es"),
    ],
)
def test_the_words_tell_the_language(says: Says, text: str, language: str) -> None:
    assert says(text).language == language


def test_a_text_that_tells_nothing_keeps_the_language_known(says: Says) -> None:
    assert says("48", "es").language == "es"
    assert says("48", "en").language == "en"
