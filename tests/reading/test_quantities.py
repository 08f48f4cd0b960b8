"""Numbers with unit, role and time."""

import pytest

from assistant.reading import read
from kb.knowledge import Knowledge
from tests.reading.conftest import Says
from tests.reading.ways import numbers


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        # °C = (°F - 32) / 1.8
        ("set to 38 but it's 52", {"target_c": 3.3, "room_c": 11.1}),
        ("lo tengo a 38 y marca 52", {"target_c": 3.3, "room_c": 11.1}),
        ("la quiero en 4 y está a 9", {"target_c": 4.0, "room_c": 9.0}),
        ("cooler at 47 set for 38", {"room_c": 8.3, "target_c": 3.3}),
        ("95 outside and the room is 55", {"outdoor_c": 35.0, "room_c": 12.8}),
        ("cuarto a 12 grados, afuera 30", {"room_c": 12.0, "outdoor_c": 30.0}),
        ("display reads 48.5 but my thermometer says 44", {"room_c": 9.2, "thermometer_c": 6.7}),
        ("50 ft cord 16 gauge", {"cord_m": 15.2, "cord_gauge": 16.0}),
        ("extensión de 15 metros calibre 14", {"cord_m": 15.0, "cord_gauge": 14.0}),
        ("the room is 8x10x8", {"room_length_m": 2.4, "room_width_m": 3.0, "room_height_m": 2.4}),
        ("el cuarto mide 3 por 4 por 2.5", {"room_length_m": 3.0, "room_width_m": 4.0, "room_height_m": 2.5}),
        ("it's a 12k btu unit", {"unit_w": 3516.9}),  # 12,000 BTU/h is one ton of refrigeration, 3516.85 W
        ("48 not 58", {"room_c": 8.9}),
        ("it's 58, no wait, 48", {"room_c": 8.9}),
        ("está en 58, perdón, 48", {"room_c": 8.9}),
        ("it is at 28", {"room_c": None}),
        ("at 2 it was 58, now 52", {"room_c": 11.1}),
        ("went from 38 to 52 overnight", {"room_c": 11.1}),
    ],
)
def test_numbers_find_their_role_and_unit(says: Says, text: str, expected: dict[str, float | None]) -> None:
    assert numbers(says(text)) == expected


def test_a_number_read_at_an_hour_keeps_it(says: Says) -> None:
    said = says("at 4:30 pm it was 58, now 52").quantities

    assert [(q.at, q.when) for q in said] == [("16:30", "before"), (None, "now")]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("58 at 2, 52 at 5:15, now 47", [(58, "2:00"), (52, "5:15"), (47, None)]),
        ("8am 52F, 10am 49F, noon 47F", [(52, "08:00"), (49, "10:00"), (47, "12:00")]),
        ("58 two hours ago, 54 an hour ago, 51 now", [(58, "-PT2H"), (54, "-PT1H"), (51, None)]),
        ("a las 2 marcaba 14, a las 5 11 y ahorita 9", [(14, "2:00"), (11, "5:00"), (9, None)]),
    ],
)
def test_readings_of_several_hours_come_out_with_their_times(
    says: Says, text: str, expected: list[tuple[float, str | None]]
) -> None:
    said = [(q.value, q.at) for q in says(text).quantities if q.quantity == "room_c"]

    assert said == expected


def test_the_units_known_of_the_person_settle_a_bare_number(knowledge: Knowledge) -> None:
    assert read(knowledge, "it is at 28", units="F").quantities[0].unit == "F"
    assert read(knowledge, "it is at 28", units="C").quantities[0].si == 28.0


@pytest.mark.parametrize(
    "text",
    [
        "we put 40 bins in there",
        "4 degrees warmer than my thermometer",
        "i have two coolers",
        "el termostato está en 64",
    ],
)
def test_counts_and_differences_are_no_temperatures(says: Says, text: str) -> None:
    assert "room_c" not in numbers(says(text))


def test_a_number_out_of_range_is_doubted_and_not_clamped(says: Says) -> None:
    said = says("the room is at 400 F").quantities[0]

    assert said.value == 400
    assert said.confidence <= 0.3
