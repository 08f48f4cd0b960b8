"""The author's guide, followed to the letter on a copy of the knowledge."""

import re
import shlex
import shutil
from pathlib import Path

import click
import pytest
from click.testing import CliRunner

import kb
from channels.terminal import main
from kb.files import PACKAGED
from kb.likelihood import HOW_STRONGLY
from kb.linting import RULES, check, stolen_wording
from kb.linting.stale_spanish import RULE_NAME
from kb.linting.vanished_id import NAME as VANISHED

GUIDE = (PACKAGED.parent / "README.md").read_text(encoding="utf-8")
PAGES = re.findall(r"```yaml\n# (\S+)\n(.*?)```", GUIDE, re.DOTALL)
STEPS = re.findall(r"```(?:yaml\n# (\S+)\n(.*?)|sh\n(.*?))```", GUIDE, re.DOTALL)
"""Pages to write and commands to give, in the guide's order: (path, text, '') or ('', '', command)."""


@pytest.fixture(scope="module")
def followed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the knowledge after every command was given and every page written, in the guide's order."""
    folder = tmp_path_factory.mktemp("guide") / "knowledge"
    shutil.copytree(PACKAGED, folder)
    begun: set[str] = set()
    for relative, text, command in STEPS:
        if command:
            begun |= {str(Path(one).relative_to(folder)) for one in _begun(command, folder)}
            continue
        path = folder / relative
        many = relative.startswith("words/")
        assert many or relative in begun, f"the guide writes {relative} and no command of it begins that page"
        before = path.read_text(encoding="utf-8") if many else ""
        path.write_text(before + text, encoding="utf-8")
    return folder


def _begun(command: str, folder: Path) -> list[str]:
    """The pages that the command of the guide begins."""
    name, *arguments = shlex.split(command)
    assert name == "helpline"
    result = CliRunner().invoke(main, [*arguments, "--in", str(folder)])
    assert result.exit_code == 0, result.output
    return result.stdout.splitlines()[:1]


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

    assert named <= {rule.name for rule in RULES} | {RULE_NAME, stolen_wording.NAME, VANISHED}


def test_every_command_that_the_guide_names_is_one() -> None:
    group = main.get_command(click.Context(main), "kb")
    assert isinstance(group, click.Group)

    named = set(re.findall(r"helpline kb ([a-z-]+)", GUIDE))

    assert named <= set(group.commands)
    assert set(group.commands) <= named | {"take-in"}
