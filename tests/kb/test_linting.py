"""Each rule against the snippets of its own docstring, and the checks around the rules."""

import importlib
import pkgutil
import re
import textwrap
from pathlib import Path

import pytest

import kb.linting
from kb.knowledge import Knowledge
from kb.linting import RULES, accept_spanish, check
from kb.schema import Cause, Example
from tests.kb.small import documents, write

DOCS = {
    name: importlib.import_module(f"kb.linting.{name}").__doc__ or ""
    for _, name, _ in pkgutil.iter_modules(kb.linting.__path__)
}
WITH_SNIPPETS = sorted(name for name, doc in DOCS.items() if "passes:\n" in doc)


def snippet(module: str, which: str) -> str:
    found = re.search(rf"^{which}:\n((?:    .*\n|\n)+)", DOCS[module] + "\n", re.MULTILINE)
    assert found, f"the docstring of {module} has no snippet that {which}"
    return textwrap.dedent(found[1])


def rules_that_speak(folder: Path, text: str) -> set[str]:
    changes = documents(text)
    recorded = re.search(r"^# recorded as (.*)$", text, re.MULTILINE)
    write(folder, [{**changes[0], "means": documents(recorded[1])[0]}] if recorded else changes)
    accept_spanish(folder)
    write(folder, changes)
    return {problem.rule for problem in check(folder)}


def test_every_rule_has_snippets() -> None:
    named = {name for module in WITH_SNIPPETS for name in re.findall(r"^`([a-z-]+)`", DOCS[module])}

    assert {rule.name for rule in RULES} < named


@pytest.mark.parametrize("module", WITH_SNIPPETS)
def test_what_passes_passes(module: str, tmp_path: Path) -> None:
    # a text changed in both languages is right and not yet vouched for
    assert rules_that_speak(tmp_path, snippet(module, "passes")) <= {"unrecorded-spanish"}


@pytest.mark.parametrize("module", WITH_SNIPPETS)
def test_what_fails_fails_by_this_rule_alone(module: str, tmp_path: Path) -> None:
    name = re.findall(r"^`([a-z-]+)`", DOCS[module])[0]

    assert rules_that_speak(tmp_path, snippet(module, "fails")) == {name}


def test_the_small_knowledge_has_no_problem(tmp_path: Path) -> None:
    write(tmp_path)
    accept_spanish(tmp_path)

    assert check(tmp_path) == ()


def test_a_rule_speaks_only_of_knowledge_that_loads(tmp_path: Path) -> None:
    write(
        tmp_path,
        [{"cause": "filter_clogged", "fixes": []}, {"cause": "indoor_coil_dirty", "fixes": ["pray"]}],
    )

    assert [problem.rule for problem in check(tmp_path)] == ["unknown-fix"]


def test_an_example_is_run_by_whoever_can_decide(tmp_path: Path) -> None:
    def outcome(knowledge: Knowledge, cause: Cause, example: Example) -> str | None:
        return "brush_indoor_coil comes first"

    accept_spanish(write(tmp_path))

    (problem,) = check(tmp_path, outcome=outcome)

    assert problem.rule == "example"
    assert problem.what == "the example does not come out: brush_indoor_coil comes first"
    assert problem.path.endswith("room_ac/causes/filter_clogged.yaml")


def test_a_text_whose_english_changed_alone_is_stale_until_it_is_accepted(tmp_path: Path) -> None:
    accept_spanish(write(tmp_path))
    write(tmp_path, [{"fix": "clean_filter", "means": {"en": "wash the filter", "es": "limpie el filtro"}}])

    assert [problem.rule for problem in check(tmp_path)] == ["stale-spanish"]

    accept_spanish(tmp_path)

    assert check(tmp_path) == ()


def test_a_new_text_is_told_once_for_all(tmp_path: Path) -> None:
    (problem,) = check(write(tmp_path))

    assert (problem.rule, problem.severity) == ("unrecorded-spanish", "warning")


@pytest.mark.parametrize("words", ["stop", "Alto", "¡Baja!", "HELP.", "opt out", "AYUDA", "no más"])
def test_an_opt_out_word_alone_is_refused_whatever_its_marks(words: str, tmp_path: Path) -> None:
    # 47 CFR 64.1200(a)(10) names stop, quit, end, revoke, opt out, cancel, unsubscribe
    change = {"symptom": "too_warm", "sayings": {"en": ["not cold enough"], "es": [words]}}

    assert "reserved-word" in {problem.rule for problem in check(write(tmp_path, [change]))}


@pytest.mark.parametrize(
    "words", ["it quit cooling", "the fan stops after 5 min", "no para de congelar", "end cap is iced"]
)
def test_an_opt_out_word_in_a_sentence_is_no_opt_out(words: str, tmp_path: Path) -> None:
    change = {"symptom": "too_warm", "sayings": {"en": ["not cold enough"], "es": [words]}}

    assert "reserved-word" not in {problem.rule for problem in check(write(tmp_path, [change]))}
