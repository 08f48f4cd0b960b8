"""The sheet of a sum is made from its event alone: what went in, what was taken for granted, what came out, its picture."""

from collections.abc import Callable
from datetime import UTC, datetime
from xml.etree import ElementTree as ET

from assistant.conversation.record import from_record, to_record
from assistant.conversation.sum_events import SumDone
from assistant.conversation.worksheets import worksheet_of
from tests.conversation.conftest import Talk

Begin = Callable[..., Talk]
SVG = "{http://www.w3.org/2000/svg}"
TOLD = (
    "new cooler set to 38. room is 12x10x8 ft, 4 inches of foam, 12000 btu mini split, 90 outside. "
    "it was 75 at 10, 61 at 12, 53 at 2, 49 at 4, 47 now"
)


def sums_of(talk: Begin) -> dict[str, SumDone]:
    one = talk()
    one.player.at = datetime(2026, 7, 21, 22, 0, tzinfo=UTC)  # 6 pm in New York
    one.text(TOLD)
    return {done.sum: done for done in one.events(SumDone)}


def test_a_trend_shows_readings_target_fit_and_what_was_expected(talk: Begin) -> None:
    sheet = worksheet_of(sums_of(talk)["trend"], "F")
    root = ET.fromstring(sheet.picture)  # noqa: S314 - our own picture

    words = root.findtext(f"{SVG}desc") or ""
    assert "5 readings, from 75 F to 47 F" in words
    assert len(root.findall(f"{SVG}circle")) == 5 + 1  # and one in the key
    assert {"fitted", "expected", "target"} <= {text.text for text in root.findall(f"{SVG}text")}
    assert "prefers-color-scheme:dark" in sheet.picture
    assert ("room c.4", "47 F") in sheet.inputs


def test_heat_against_cooling_says_the_greatest_part_and_what_nobody_told(talk: Begin) -> None:
    sheet = worksheet_of(sums_of(talk)["load_against_capacity"], "C", "es")
    root = ET.fromstring(sheet.picture)  # noqa: S314 - our own picture

    assert sheet.title == "Calor contra frío"
    assert "lo más: " in (root.findtext(f"{SVG}desc") or "")
    assert "product" in sheet.defaults
    assert ("rated", "3517 W") in sheet.inputs
    assert "ASHRAE" in sheet.source


def test_the_sheet_of_a_stored_sum_is_the_same(talk: Begin) -> None:
    for done in sums_of(talk).values():
        kept = from_record(to_record(done))
        assert isinstance(kept, SumDone)
        assert worksheet_of(kept, "F") == worksheet_of(done, "F")


def test_a_sum_of_which_no_picture_is_drawn_has_its_formula_and_source(talk: Begin) -> None:
    sheet = worksheet_of(sums_of(talk)["room_above_target"], "F")

    assert sheet.picture == ""
    assert sheet.formula
    assert "no source" in sheet.source
