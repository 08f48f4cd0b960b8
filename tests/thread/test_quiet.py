from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.thread import first_polite, zones_of

ZONES = ("America/New_York", "America/Chicago", "America/Los_Angeles", "America/Puerto_Rico", "Europe/Madrid")


@given(
    at=st.integers(0, 366 * 24 * 60).map(
        lambda minute: datetime(2026, 1, 1, tzinfo=UTC) + timedelta(minutes=minute)
    ),
    zones=st.lists(st.sampled_from(ZONES[:4]), min_size=1, max_size=3, unique=True),
)
def test_it_is_day_everywhere_and_within_a_day(at: datetime, zones: list[str]) -> None:
    then = first_polite(at, zones)
    assert timedelta(0) <= then - at <= timedelta(days=1)
    assert all(8 <= then.astimezone(ZoneInfo(zone)).hour < 20 for zone in zones)


def test_zones_without_a_common_day_fall_back_on_the_likeliest() -> None:
    night = datetime(2026, 7, 15, 9, 0, tzinfo=UTC)
    then = first_polite(night, ("America/New_York", "Asia/Singapore"))
    assert then.astimezone(ZoneInfo("America/New_York")).hour == 8


@pytest.mark.parametrize(
    ("number", "zones"),
    [
        # area codes over two zones: NANPA lists 850 (Florida) in Central and Eastern time
        ("+18505550100", {"America/Chicago", "America/New_York"}),
        ("+15125550100", {"America/Chicago"}),
        ("+18005550100", {"America/Chicago"}),
    ],
)
def test_a_number_may_be_in_all_the_zones_of_its_area(number: str, zones: set[str]) -> None:
    assert set(zones_of(number, "America/Chicago")) == zones
