"""The author's guide, followed to the letter on a copy of the knowledge."""

import re
import shutil
from pathlib import Path

import pytest

import kb
from kb.files import PACKAGED
from kb.likelihood import HOW_STRONGLY
from kb.linting import RULES, check, stolen_wording
from kb.linting.stale_spanish import RULE_NAME

GUIDE = (PACKAGED.parent / "README.md").read_text(encoding="utf-8")
PAGES = re.findall(r"```yaml\n# (\S+)\n(.*?)```", GUIDE, re.DOTALL)


@pytest.fixture(scope="module")
def followed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("guide") / "knowledge"
    shutil.copytree(PACKAGED, folder)
    for relative, text in PAGES:
        path = folder / relative
        before = path.read_text(encoding="utf-8") if path.exists() else ""
        path.write_text(before + text, encoding="utf-8")
    return folder


def test_the_guide_writes_a_whole_path() -> None:
    assert [relative for relative, _ in PAGES] == [
        "words/things.yaml",
        "room_ac/findings/unit_timer.yaml",
        "room_ac/checks/look_at_timer.yaml",
        "room_ac/fixes/clear_timer.yaml",
        "room_ac/causes/timer_set.yaml",
    ]


def test_whoever_follows_the_guide_gets_a_green_check(followed: Path) -> None:
    pages = {str(followed / relative) for relative, _ in PAGES}

    spoken_of = [
        problem for problem in check(followed) if problem.severity == "error" or problem.path in pages
    ]

    assert [str(problem) for problem in spoken_of] == []
    assert "timer_set" in kb.load(followed).causes


def test_the_error_in_the_guide_is_the_one_that_is_shown(
    followed: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shown = re.search(r"```text\n(.*?)\n```", GUIDE, re.DOTALL)
    folder = shutil.copytree(followed, tmp_path / "knowledge")
    path = folder / "room_ac/causes/timer_set.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("{on:", "{onn:", 1), encoding="utf-8")
    monkeypatch.chdir(folder)

    (problem,) = check(Path.cwd())

    assert shown is not None
    assert str(problem) == shown[1]


def test_the_table_of_words_is_the_table_of_the_program() -> None:
    for word, share in HOW_STRONGLY.items():
        assert re.search(rf"\| {word} \| {share * 100:.0f} \|", GUIDE), word


def test_the_rules_that_the_guide_names_exist() -> None:
    named = set(re.findall(r"^\| `([a-z-]+)` \|", GUIDE, re.MULTILINE))

    assert named <= {rule.name for rule in RULES} | {RULE_NAME, stolen_wording.NAME}
