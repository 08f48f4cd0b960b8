"""`helpline sum` as typed."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from channels.terminal.more_sums import sum_
from channels.terminal.telling import PlainGroup

BOX = ["--length", "10ft", "--width", "8ft", "--height", "8ft", "--room", "38F", "--outside", "95F"]

ROOM = ["--length", "12ft", "--width", "10ft", "--foam", "4in", "--outside", "95F"]
OUTAGE = [
    "outage",
    "--start",
    "38F",
    "--limit",
    "41F",
    "--outside",
    "85F",
    "--loss-w-k",
    "12",
    "--volume-m3",
    "20",
]


def typed(*words: str) -> dict[str, object]:
    done = CliRunner().invoke(sum_, [*words, "--json"], catch_exceptions=False)
    assert done.exit_code == 0, done.output
    found: dict[str, object] = json.loads(done.output)
    return found


def test_a_trend_in_fahrenheit() -> None:
    found = typed("trend", "0h=70F", "3h=60F", "6h=56F", "9h=54F", "12h=53F", "15h=54F", "--target", "38F")

    assert found["verdict"] == "will_stall"


@pytest.mark.parametrize(
    ("words", "field"),
    [
        (["load", *BOX, "--passages", "40", "--product", "200lb"], "total_w"),
        (["capacity", "--rated", "12000btu", "--room", "4C", "--outside", "35C"], "cooling_w"),
        (["size", "--load", "1000", "--room", "4", "--outside", "35"], "rated_w"),
        (["probes", "38F", "44F"], "agreement"),
        (["power", "--amps", "12", "--distance", "100ft", "--gauge", "16"], "lost_v"),
        (["product", "broccoli"], "source"),
        (["air", "4C", "85"], "dew_point_c"),
        (["fit", *ROOM, "--rated", "12000btu"], "coldest_c"),
        (["plan", *ROOM, "--product", "500lb"], "rated_w"),
        (["fall", *ROOM, "--rated", "12000btu", "--start", "75F"], "reaches_h"),
        (["coldest", "--rated", "12000btu", "--outside", "95F", "--loss-w-k", "40"], "limit"),
        (["co2", "--dry-ice", "10", "--volume-m3", "20"], "breathing"),
        (["frost", "--rated", "12000btu", "--room", "38F", "--outside", "90F"], "thaw"),
        (["bill", "--watts", "1200", "--price", "0.2"], "cost"),
        (["bill", "--extra-heat", "1000btu", "--price", "0.2"], "cost"),
        (["ice-point", "35F"], "agreement"),
        (["generator", "--amps", "12"], "starting_kva"),
        ([*OUTAGE, "--stored", "500"], "hours"),
        (["gas", "--charge-kg", "1", "--refrigerant", "R-32", "--volume-m3", "10"], "of_limit"),
    ],
)
def test_every_sum_answers(words: list[str], field: str) -> None:
    assert typed(*words)[field] is not None


def test_a_pull_down() -> None:
    room = ["--volume-m3", "20", "--inner-m2", "46", "--loss-w-k", "16", "--rated", "12000btu"]
    found = typed("pulldown", *room, "--outside", "30C", "--start", "25C", "--target", "4C")

    assert found["reaches_h"] is not None


def test_the_voltage_is_that_of_the_code_table() -> None:
    # NEC (NFPA 70) ch. 9 table 8: 2 x 12 A x 0.1 x 4.99 = 12.0 V
    found = typed("power", "--amps", "12", "--distance", "100ft", "--gauge", "16")

    assert found["lost_v"] == pytest.approx(12.0, rel=0.01)


def test_words_for_people_by_default() -> None:
    done = CliRunner().invoke(sum_, ["air", "4C", "85"], catch_exceptions=False)

    assert "dew_point_c: 1.7" in done.output


@pytest.mark.parametrize(
    ("words", "what", "mend"),
    [
        (["air", "400C", "85"], "400 °C", "check it and its unit"),
        (["product", "moon_cheese"], "moon_cheese", "there are"),
        (["probes", "cold", "4C"], "no temperature", "--help"),
        (["trend", "noon=70F", "--target", "38F"], "no reading", "--help"),
    ],
)
def test_what_cannot_be_is_refused_in_two_lines(words: list[str], what: str, mend: str) -> None:
    outermost = PlainGroup("helpline", commands=[sum_])

    done = CliRunner().invoke(outermost, ["sum", *words])

    assert done.exit_code == 2
    first, second = done.stderr.strip().splitlines()
    assert what in first
    assert mend in second


@pytest.mark.parametrize(
    "words",
    [
        ["trend", "0h=70F", "3h=60F", "6h=56F", "9h=54F", "--target", "38F"],
        ["fit", *ROOM, "--rated", "12000btu"],
    ],
)
def test_a_picture_is_written_where_it_is_asked_for(words: list[str], tmp_path: Path) -> None:
    typed(*words, "--picture", str(tmp_path / "sum.svg"))

    assert (tmp_path / "sum.svg").read_text(encoding="utf-8").startswith("<svg ")


def test_a_barn_two_inches_wide_gets_one_line_and_how_to_mend_it() -> None:
    done = CliRunner().invoke(sum_, ["fit", "--length", "2in", "--width", "10ft", "--rated", "12000btu"])

    assert done.exit_code != 0
    assert "the room's length is 0.0508 m" in str(done.exception)
