from pathlib import Path

import pytest

import kb
from assistant.workbench.unread_phrases import Unread, grouped
from kb.adding import taken_in
from kb.ids import CheckId
from kb.linting import accept_spanish, check
from kb.renaming import Bench
from tests.kb.small import put, write


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    write(tmp_path)
    accept_spanish(tmp_path)
    return tmp_path


def said(*texts: str, check: str | None = None) -> list[Unread]:
    return [
        Unread(text=text, language="en", check=None if check is None else CheckId(check)) for text in texts
    ]


def test_phrases_that_are_much_the_same_make_one_group_and_the_commonest_names_it(folder: Path) -> None:
    groups = grouped(
        kb.load(folder),
        said("sounds like a jet", "Sounds like a jet!", "it sounds like a jet", "purple rain"),
    )

    assert [(group.phrases[0], group.count) for group in groups] == [
        ("sounds like a jet", 3),
        ("purple rain", 1),
    ]


def test_a_group_names_the_meaning_that_it_is_most_like(folder: Path) -> None:
    (group,) = grouped(kb.load(folder), said("not colde enough"))

    assert group.near is not None
    assert (group.near.kind, group.near.id) == ("symptom", "too_warm")


def test_words_said_to_a_question_are_held_against_its_answers_first(folder: Path) -> None:
    (alone,) = grouped(kb.load(folder), said("dirrty", check="look_at_indoor_coil"))

    assert alone.near is not None
    assert (alone.near.id, alone.near.state) == ("indoor_coil", "dirty")


def test_what_is_like_nothing_says_so(folder: Path) -> None:
    (group,) = grouped(kb.load(folder), said("zygote quark xylophone"))

    assert group.near is None


@pytest.mark.parametrize(
    ("meaning", "how", "key"),
    [
        ("finding:filter.clogged", "said", "sayings"),
        ("finding:filter.clogged", "answer", "answers"),
        ("too_warm", "said", "sayings"),
    ],
)
def test_a_phrase_taken_in_stands_in_the_file_and_the_check_is_green(
    folder: Path, meaning: str, how: str, key: str
) -> None:
    bench = Bench(folder)
    path = folder
    for phrase in ("like felt, all of it", "thick as a blanket"):
        path, text = taken_in(
            bench, bench.named(meaning), phrase, "en", "answer" if how == "answer" else "said"
        )
        path.write_text(text, encoding="utf-8")
        bench = Bench(folder)

    assert "like felt, all of it" in path.read_text(encoding="utf-8")
    assert f"{key}" in path.read_text(encoding="utf-8")
    assert [problem for problem in check(folder) if problem.severity == "error"] == []


def test_a_phrase_goes_into_the_file_of_phrases_where_there_is_one(folder: Path) -> None:
    heard = put(folder, "heard/en/findings/filter.txt", "[clogged]\nblack as soot\n")
    bench = Bench(folder)

    path, text = taken_in(bench, bench.named("filter.clogged"), "pretty bad", "en", "answer")

    assert path == heard
    assert text == "[clogged]\nblack as soot\n[clogged as an answer]\npretty bad\n"
