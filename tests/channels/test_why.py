"""`helpline why`: a colleague's table of a transcript or a kept case, its JSON, its picture."""

import json
import xml.etree.ElementTree as ET
from math import log2
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from channels.house import open_house
from channels.terminal import main
from channels.web.models import ReasoningOut
from tests.helpline.fakes import NOON

TRANSCRIPT = str(Path(__file__).parents[2] / "transcripts_demo" / "licensed_trade_en.md")


def run(*words: str, typed: str = "") -> Result:
    return CliRunner().invoke(main, list(words), input=typed)


def test_a_transcript_is_told_as_a_table_of_bits_with_what_would_be_asked_next() -> None:
    told = run("why", TRANSCRIPT).stdout

    assert "low_charge" in told
    assert "ice_pattern: inlet_ball" in told
    assert "conflict, common to all" in told
    assert "bit left to learn" in told


def test_a_column_of_the_json_adds_up_to_the_belief_in_the_cause_alone() -> None:
    reasons = json.loads(run("why", TRANSCRIPT, "--json").stdout)
    ReasoningOut.model_validate(reasons)
    evidence, leading = reasons["evidence"], reasons["evidence"]["causes"][0]

    total = (
        evidence["prior_bits"][0]
        + evidence["conflict_bits"]
        + sum(row["bits"][0] for row in evidence["rows"])
    )

    alone = next(one["probability"] for one in reasons["beliefs"] if list(one["causes"]) == [leading])
    assert total == pytest.approx(log2(alone), abs=1e-6)


@pytest.mark.parametrize(("language", "words"), [("en", "After 1"), ("es", "Tras 1")])
def test_the_picture_has_its_alternative_text(tmp_path: Path, language: str, words: str) -> None:
    file = tmp_path / "beliefs.svg"

    assert run("why", TRANSCRIPT, "--picture", str(file), "--language", language).exit_code == 0

    picture = ET.parse(file).getroot()  # noqa: S314 - our own text
    description = picture.find("{http://www.w3.org/2000/svg}desc")
    assert description is not None
    assert words in str(description.text)


def test_a_kept_case_is_told_alike_and_one_that_is_not_there_is_refused(home: Path) -> None:
    assert run("database", "upgrade").exit_code == 0
    opening = open_house().helpline.open_case(
        client_id="a1", at=NOON, text="air is weak, room at 52, set to 38"
    )

    assert "airflow: weak" in run("why", str(opening.case)).stdout
    assert run("why", "nosuchcase").exit_code == 2


def test_chat_tells_why_on_demand(home: Path) -> None:
    told = run("chat", typed="air is weak, room at 52, set to 38\n/why\n/end\n").stdout

    assert "bits for (+) and against (-)" in told
    assert "airflow: weak" in told
