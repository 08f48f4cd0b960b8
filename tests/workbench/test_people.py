"""Customers of sheets, played through the whole conversation; floors under what stands today, not aims."""

from pathlib import Path

import pytest

from assistant.workbench.people_playing import figures_of, play, play_all
from assistant.workbench.people_sheets import Sheet, read_sheets
from kb.errors import RequestError
from kb.ids import CauseId, FindingId, FixId, StateId
from kb.knowledge import Knowledge

CUSTOMERS = Path("tests/people/played/customers.jsonl")
pytestmark = pytest.mark.timeout(300)


def clogged(**changes: object) -> Sheet:
    """A customer with a clogged filter."""
    facts = {
        "filter": "clogged",
        "airflow": "weak",
        "coil_ice": "solid",
        "equipment": "window",
        "trend": "standing",
        "when_worse": "always",
        "worked_before": "yes",
        "ice_pattern": "even",
    }
    sheet = {
        "id": "c1", "language": "en", "equipment": "window", "truth": ["filter_clogged"], "fixes": ["clean_filter"],
        "first": "window unit, room at 52 F and set to 38 F, hardly any air comes out", "facts": facts,
        "says": {"filter": "clogged, can't see light through it"}, "numbers": {"room_c": "52", "target_c": "38"},
    }  # fmt: skip
    return Sheet.model_validate(sheet | changes)


def test_a_customer_is_played_up_to_the_first_remedy(knowledge: Knowledge) -> None:
    played = play(knowledge, clogged())

    assert (played.fix, played.right) == (FixId("clean_filter"), True)
    assert played.questions <= 8
    assert played.misread == ()


def test_a_wrong_remedy_is_not_right(knowledge: Knowledge) -> None:
    assert not play(knowledge, clogged(truth=["door_leaks"], fixes=["mend_gasket"])).right


def test_what_they_did_not_say_and_we_took_is_counted(knowledge: Knowledge) -> None:
    sheet = clogged(first="window unit, 52 F, set 38 F, the filter is clean", says={})
    assert (FindingId("filter"), StateId("clean")) in play(knowledge, sheet).misread


def test_who_fits_nothing_is_right_with_a_person(knowledge: Knowledge) -> None:
    sheet = clogged(
        truth=["something_else"], fixes=[], facts={}, says={}, first="I would rather talk to a person"
    )
    played = play(knowledge, sheet)
    assert (played.handed_over, played.right) == ("asked_for_a_person", True)


def test_the_customers_of_the_file_fare_no_worse_than_today(knowledge: Knowledge) -> None:
    figures = figures_of(play_all(knowledge, read_sheets(CUSTOMERS)))

    assert figures.customers == 64
    assert figures.right >= 27
    assert figures.misread <= 20
    assert figures.false_alarms <= 2


def test_every_id_of_the_file_is_one_of_ours(knowledge: Knowledge) -> None:
    for sheet in read_sheets(CUSTOMERS):
        assert all(finding in knowledge.findings for finding in sheet.facts), sheet.id
        assert all(
            cause in knowledge.causes for cause in sheet.truth if cause != CauseId("something_else")
        ), sheet.id
        assert all(fix in knowledge.fixes for fix in sheet.fixes), sheet.id


def test_a_line_that_is_no_customer_is_named(tmp_path: Path) -> None:
    path = tmp_path / "customers.jsonl"
    path.write_text('{"id": "x"}\n', encoding="utf-8")
    with pytest.raises(RequestError, match=r"customers\.jsonl:1"):
        read_sheets(path)
