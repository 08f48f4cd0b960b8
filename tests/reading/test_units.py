"""Units, and what a number without one must be."""

import pytest

from assistant.reading.units import degrees_of, length_unit, si_of


@pytest.mark.parametrize(
    ("value", "unit", "si"),
    [
        (212, "F", 100.0),  # boiling point of water, by definition of both scales
        (32, "F", 0.0),
        (1, "ft", 0.3048),  # international yard and pound agreement, 1959
        (1, "in", 0.0254),
        (12000, "BTU", 3516.85),  # one ton of refrigeration, ASHRAE Terminology
        (1, "ton", 3516.85),
    ],
)
def test_units_go_to_si(value: float, unit: str, si: float) -> None:
    assert si_of(value, unit) == pytest.approx(si, rel=1e-4)


@pytest.mark.parametrize(
    ("value", "unit"), [(52, "F"), (38, "F"), (3, "C"), (12, "C"), (28, None), (-4, None)]
)
def test_a_bare_number_takes_the_unit_that_makes_a_cold_room(value: float, unit: str | None) -> None:
    # 25-32 and negatives make sense in both units: ask (common practice, no source)
    assert degrees_of(value, outdoors=False) == unit


def test_outdoors_a_number_may_be_either_for_longer() -> None:
    assert degrees_of(95, outdoors=True) == "F"
    assert degrees_of(36, outdoors=True) is None


def test_room_sizes_without_a_unit() -> None:
    assert length_unit([8, 10, 8], "en", None) == "ft"
    assert length_unit([3, 4, 2.5], "es", None) == "m"
    assert length_unit([8, 10, 8], "es", None) == "ft"
