import pytest

from assistant.thread import Place, phone_number, place_of
from assistant.thread.places import CALLS_112

HOME = Place(zone="America/New_York", region="unknown")


@pytest.mark.parametrize(
    ("text", "number"),
    [
        # NANP 555-0100 to 555-0199 are kept for fiction; the others are shapes from ITU-T E.164 and national plans
        ("+1 512 555 0100", "+15125550100"),
        ("(512) 555-0100", "+15125550100"),
        ("5125550100", "+15125550100"),
        ("+52 1 722 123 4567", "+527221234567"),  # the old mobile prefix of Mexico, gone since 2019
        ("+34 612 345 678", "+34612345678"),
        ("32665", None),  # a short code: a robot, most likely
        ("867-5309", None),
        ("+1 512 555 0100 x12", None),
        ("whatever:+15125550100", None),
        ("+1 900 555 0100", None),
        ("", None),
        ("not a number", None),
    ],
)
def test_numbers_that_can_be_answered(text: str, number: str | None) -> None:
    assert phone_number(text, "US") == number


@pytest.mark.parametrize(
    ("number", "zone", "region"),
    [
        ("+15125550100", "America/Chicago", "911"),
        ("+17875550100", "America/Puerto_Rico", "911"),
        ("+527221234567", "America/Mexico_City", "911"),
        ("+34612345678", "Europe/Madrid", "112"),
        ("+33612345678", "Europe/Paris", "112"),
        ("+5491123456789", "America/Buenos_Aires", "other"),
        ("+447400123456", "Europe/London", "other"),
        ("+18005550199", HOME.zone, "unknown"),  # toll free: at home nowhere
    ],
)
def test_where_a_number_is_at_home(number: str, zone: str, region: str) -> None:
    assert place_of(number, otherwise=HOME) == Place(zone=zone, region=region)  # type: ignore[arg-type]  # from the table


def test_the_european_union_has_27_members() -> None:
    assert len(CALLS_112) == 27
