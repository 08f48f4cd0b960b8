"""The house keeps its own rules: small modules, short functions, a door to every room, papers that tell the truth."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
ROOMS = ("assistant", "kb", "channels")
LONGEST_MODULE = 350
LONGEST_FUNCTION = 40
OUR_TOP_LEVEL = {
    "README.md", "DEVELOPERS.md", "CHANGELOG.md", "LICENSE", "pyproject.toml",
    "assistant", "kb", "channels", "tests", "transcripts_demo",
}  # fmt: skip
MADE_BY_TOOLS = re.compile(r"\.egg-info$|^build$|^dist$|^__pycache__$")


def modules() -> Iterator[Path]:
    for room in ROOMS:
        yield from sorted((ROOT / room).rglob("*.py"))


MODULES = tuple(modules())


def shown(path: Path) -> str:
    return str(path.relative_to(ROOT))


@pytest.mark.parametrize("path", MODULES, ids=shown)
def test_a_module_is_one_idea_and_no_longer(path: Path) -> None:
    assert len(path.read_text(encoding="utf-8").splitlines()) <= LONGEST_MODULE


def functions(path: Path) -> Iterator[ast.FunctionDef]:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.FunctionDef):
            yield node


def lines_of(function: ast.FunctionDef) -> int:
    """Lines of the body, docstring apart."""
    body = function.body[1:] if ast.get_docstring(function) is not None else function.body
    return 0 if not body else (body[-1].end_lineno or 0) - body[0].lineno + 1


@pytest.mark.parametrize("path", MODULES, ids=shown)
def test_a_function_can_be_seen_at_a_glance(path: Path) -> None:
    if "migrations" in path.parts:
        pytest.skip("a migration is a list of what changed, made once")
    too_long = [f.name for f in functions(path) if lines_of(f) > LONGEST_FUNCTION and f.name != "apply"]

    assert too_long == []  # `apply` is one arm for each kind of event, and each arm one line


@pytest.mark.parametrize("path", [p for p in MODULES if p.name == "__init__.py"], ids=shown)
def test_every_room_has_a_door_that_says_what_it_is(path: Path) -> None:
    if "migrations" not in path.parts:
        assert ast.get_docstring(ast.parse(path.read_text(encoding="utf-8")))


def rooms() -> set[str]:
    found = {shown(path.parent) for path in modules()}
    return {room for room in found if room.count("/") == 1}


def test_the_rooms_in_the_contributors_guide_are_those_that_stand() -> None:
    guide = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    named = {
        line.split("/ ")[0].strip() for line in re.findall(r"^[a-z]+/[a-z_]+/ .*$", guide, flags=re.MULTILINE)
    }

    assert rooms() <= named
    assert all((ROOT / room).is_dir() for room in named)


def test_nothing_else_lies_in_the_top_folder() -> None:
    visible = {path.name for path in ROOT.iterdir() if not path.name.startswith(".")}

    assert {name for name in visible if not MADE_BY_TOOLS.search(name)} <= OUR_TOP_LEVEL


def test_the_readme_begins_with_the_job_in_one_paragraph() -> None:
    title, paragraph = (ROOT / "README.md").read_text(encoding="utf-8").split("\n\n")[:2]

    assert title.startswith("# ")
    assert "cold rooms" in paragraph
    assert len(paragraph.split()) > 60


def test_nothing_below_the_channels_asks_what_time_it_is() -> None:
    clocks = re.compile(r"datetime\.now\(|time\.time\(|utcnow\(|date\.today\(")
    above = (
        "channels",
        "assistant/casebook/clock.py",
    )  # the machine's clock serves the channels, from its one place
    below = [path for path in MODULES if not shown(path).startswith(above)]

    assert [shown(path) for path in below if clocks.search(path.read_text(encoding="utf-8"))] == []
