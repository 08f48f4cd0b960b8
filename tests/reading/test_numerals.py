"""Numbers as people write them."""

import pytest

from assistant.reading.normalise import tokens_of
from assistant.reading.numerals import numerals_in


@pytest.mark.parametrize(
    ("text", "values"),
    [
        ("48.5", [48.5]),
        ("8,5 grados", [8.5]),  # decimal comma: Diccionario panhispánico de dudas, as reported in larazon.es
        ("12,000 btu", [12000]),
        ("12k", [12000]),
        ("12 mil", [12000]),
        ("forty-eight", [48]),
        ("fifty two", [52]),
        ("cincuenta y dos", [52]),
        ("nueve y medio", [9.5]),
        ("9 grados y medio", [9.5]),
        ("forty eight point five", [48.5]),
        ("4 1/2", [4.5]),
        ("-5", [-5]),
        ("minus five", [-5]),
        ("5 bajo cero", [-5]),
        ("38-40", [39]),
        ("between 50 and 54", [52]),
        ("entre 50 y 54", [52]),
        ("mid 50s", [55]),
        ("low 40s", [42]),
        ("half an hour", [0.5]),
        ("hora y media", [1.5]),
        ("a couple minutes", [2]),
    ],
)
def test_a_number_is_read_as_it_is_said(text: str, values: list[float]) -> None:
    assert [numeral.value for numeral in numerals_in(tokens_of(text))] == values


def test_a_range_is_its_middle_and_not_exact() -> None:
    numeral = numerals_in(tokens_of("38 - 40"))[0]

    assert numeral.value == 39
    assert not numeral.exact
