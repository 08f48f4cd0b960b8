"""A page begun loads at once, and the check asks for exactly what is still to be written."""

import re
from pathlib import Path

import pytest

import kb
from kb.beginning import BEGUN, About, Begun, page_begun
from kb.errors import RequestError
from kb.linting import accept_spanish, check
from tests.kb.small import put, write

KNOWN = About(shows=("filter.clogged",), fixes=("clean_filter",), finds="indoor_coil", touches=("filter",))


def begin(folder: Path, kind: Begun, id_: str, about: About = KNOWN) -> Path:
    path, text = page_begun(kb.load(folder), kind, id_, "shared", about)
    return put(folder, path, text)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    write(tmp_path)
    accept_spanish(tmp_path)
    return tmp_path


@pytest.mark.parametrize("kind", BEGUN)
def test_every_place_left_open_is_asked_for_and_nothing_else(folder: Path, kind: Begun) -> None:
    page = begin(folder, kind, "brand_new")
    text = "\n".join(
        line.partition(" # ")[0]
        for line in page.read_text(encoding="utf-8").splitlines()
        if not line.lstrip().startswith("#")
    )

    problems = [problem for problem in check(folder) if problem.rule != "unrecorded-spanish"]

    asked = {(p.line, p.column) for p in problems if p.rule == "unwritten"}
    assert len(asked) == len(re.findall(r"<[^<>]+>", text))
    # with the same words as the first cause, the second cannot be told apart: that, too, is still to be written
    assert {p.rule for p in problems} - {"unwritten"} <= {"not-told-apart"}


@pytest.mark.parametrize("kind", BEGUN)
def test_once_written_the_page_is_green(folder: Path, kind: Begun) -> None:
    about = About(
        shows=("temperature.warm",), fixes=("clean_filter",), finds="indoor_coil", touches=("filter",)
    )
    page = begin(folder, kind, "brand_new", about)
    text = page.read_text(encoding="utf-8")
    letters = iter("abcdefghijklmnopqrstuvwxyz")
    page.write_text(
        re.sub(r"<[^<>]+>", lambda _: f"wording {next(letters)}", text).replace(
            "equipment: [window, through_wall, mini_split, packaged", "equipment: [window"
        ),
        encoding="utf-8",
    )
    accept_spanish(folder)

    assert [str(problem) for problem in check(folder) if problem.severity == "error"] == []


def test_a_cause_of_which_nothing_is_known_is_told_what_it_lacks(folder: Path) -> None:
    begin(folder, "cause", "brand_new", About())

    assert {"unreachable-cause", "cause-without-fix", "unwritten"} <= {
        problem.rule for problem in check(folder)
    }


@pytest.mark.parametrize(
    ("kind", "id_", "about", "said"),
    [
        ("cause", "Bad Id", KNOWN, "no id"),
        ("cause", "filter_clogged", KNOWN, "already"),
        ("check", "look", About(), "--finds"),
        ("check", "look", About(finds="filtr"), "write `filter`"),
        ("cause", "leak", About(shows=("filter.cloged",)), "write `filter.clogged`"),
        ("cause", "leak", About(fixes=("sing",)), "helpline kb new fix sing"),
    ],
)
def test_a_slip_is_told_with_the_way_out(
    folder: Path, kind: Begun, id_: str, about: About, said: str
) -> None:
    with pytest.raises(RequestError) as refused:
        begin(folder, kind, id_, about)

    assert said in str(refused.value)
