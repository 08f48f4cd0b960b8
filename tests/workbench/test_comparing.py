"""Two editions side by side; the reading's part is tested in test_hearing_apart.py."""

from pathlib import Path

import pytest

import kb
from assistant.workbench.comparing import Row, as_table, simulated_rows, size_rows, turned
from kb.knowledge import Knowledge
from tests.kb.small import write

TALK = """# A filter

    at: 2026-07-14 09:30
    language: en

> my cooler is not cold enough
> the filter is filthy
> done
"""


@pytest.fixture(scope="module")
def old(tmp_path_factory: pytest.TempPathFactory) -> Knowledge:
    return kb.load(write(tmp_path_factory.mktemp("old")))


@pytest.fixture(scope="module")
def new(tmp_path_factory: pytest.TempPathFactory) -> Knowledge:
    """The filter's place is taken by the coil: the same words lead elsewhere."""
    changes: list[dict[str, object]] = [
        {"cause": "filter_clogged", "fixes": ["brush_indoor_coil"], "examples": []},
        {"cause": "seal_torn", "shows": {"temperature": {"warm": "nearly always"}}, "examples": []},
    ]
    return kb.load(write(tmp_path_factory.mktemp("new"), changes))


@pytest.fixture
def talk(tmp_path: Path) -> Path:
    path = tmp_path / "talk.md"
    path.write_text(TALK, encoding="utf-8")
    return path


def test_a_conversation_that_concludes_something_else_is_told(
    old: Knowledge, new: Knowledge, talk: Path
) -> None:
    (one,) = turned(old, new, [talk])

    assert one.old.ended == "clean_filter"
    assert one.new.ended == "brush_indoor_coil"
    assert "concludes brush_indoor_coil in place of clean_filter" in str(one)


def test_the_same_edition_turns_nothing(old: Knowledge, talk: Path) -> None:
    assert turned(old, old, [talk]) == ()


def test_what_came_and_went_is_named(old: Knowledge, new: Knowledge) -> None:
    rows = {row.what: row for row in size_rows(old, new)}

    assert rows["causes"] == Row(what="causes", old="2", new="3", change="+seal_torn")
    assert rows["checks"].change == ""


def test_an_edition_beside_itself_changes_no_figure(old: Knowledge) -> None:
    rows = list(simulated_rows(old, old, customers=6, seed=3))

    assert {row.what for row in rows} >= {"right after 3", "questions a customer", "calibration error"}
    assert [row.change for row in rows] == [""] * len(rows)


def test_the_table_is_markdown_with_equal_columns(old: Knowledge, new: Knowledge) -> None:
    lines = list(as_table(list(size_rows(old, new))))

    assert {line.count("|") for line in lines} == {5}
    assert len({line.rindex("|", 0, line.rindex("|")) for line in lines}) == 1
