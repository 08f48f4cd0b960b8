"""From logs of closed cases to a diff of the files; the arithmetic itself is tested in tests/reasoning/test_learning.py."""

import subprocess
from datetime import UTC, datetime
from pathlib import Path
from typing import Literal

import pytest

import kb
from assistant.conversation import events as ev
from assistant.reasoning import propose
from assistant.workbench.learning_cases import as_diff, closed_case, proposed
from kb.compiling import compile_
from kb.ids import CauseId, CheckId, FindingId, FixId, StateId
from kb.knowledge import Knowledge
from kb.loading import look
from kb.renaming import Bench
from tests.kb.small import write

NOON = datetime(2026, 7, 14, 16, 0, tzinfo=UTC)
CLOGGED, DIRTY = CauseId("filter_clogged"), CauseId("indoor_coil_dirty")


def opened(knowledge: Knowledge) -> ev.Event:
    return ev.CaseOpened(
        at=NOON, language="en", channel="web", edition=knowledge.edition, zone="UTC", region="911", room=None
    )


def looked(state: str, source: Literal["answer", "sum", "carried"] = "answer", epoch: int = 0) -> ev.Event:
    return ev.FactLearned(
        at=NOON, finding=FindingId("filter"), state=StateId(state), likelihood=((StateId(state), 1.0),), confidence=1.0,
        source=source, check=CheckId("look_at_filter"), epoch=epoch,
    )  # fmt: skip


def closed(cause: CauseId | None) -> ev.Event:
    return ev.CaseClosed(at=NOON, reason="by_colleague", cause=cause)


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return write(tmp_path / "knowledge")


def test_a_colleagues_word_is_sure_and_what_was_seen_passes_through_the_checks_reliability(
    folder: Path,
) -> None:
    knowledge = kb.load(folder)

    case = closed_case(knowledge, [opened(knowledge), looked("dusty"), closed(CLOGGED)])

    assert case is not None
    assert (case.causes, case.sure) == ((CLOGGED,), 1.0)
    # `usually` right is .90 (kb.likelihood), and the two other states share the rest
    assert case.seen[FindingId("filter")] == pytest.approx({"clean": 0.05, "dusty": 0.90, "clogged": 0.05})


def test_a_fix_that_held_counts_with_the_belief_with_which_it_was_offered(folder: Path) -> None:
    knowledge = kb.load(folder)
    fix = FixId("clean_filter")
    log: list[ev.Event] = [
        opened(knowledge),
        ev.FixOffered(at=NOON, fix=fix, cause=CLOGGED, probability=0.8),
        ev.FixDone(at=NOON, fix=fix, touches=()),
        ev.FixJudged(at=NOON, fix=fix, worked=0.9),
        ev.CaseClosed(at=NOON, reason="held", cause=CLOGGED),
    ]

    held, failed = closed_case(knowledge, log), closed_case(knowledge, [*log[:3], *log[4:]])

    assert held is not None
    assert held.sure == 0.8
    assert failed is None


@pytest.mark.parametrize(
    "log_end",
    [
        [],
        [closed(None)],
        [closed(CauseId("nowhere"))],
        [ev.CaseClosed(at=NOON, reason="dormant", cause=CLOGGED)],
    ],
)
def test_a_case_without_a_known_end_teaches_nothing(folder: Path, log_end: list[ev.Event]) -> None:
    knowledge = kb.load(folder)

    assert closed_case(knowledge, [opened(knowledge), looked("dusty"), *log_end]) is None


def test_only_what_was_looked_at_before_the_first_fix_is_seen(folder: Path) -> None:
    knowledge = kb.load(folder)

    case = closed_case(
        knowledge,
        [
            opened(knowledge),
            looked("dusty", "sum"),
            looked("clean", epoch=1),
            looked("dusty", "carried"),
            closed(CLOGGED),
        ],
    )

    assert case is not None
    assert case.seen == {}


def test_a_case_closed_under_an_old_name_teaches_the_new_one(folder: Path) -> None:
    before = kb.load(folder)
    for old, new in (("cause:filter_clogged", "filter_packed"), ("filter.clogged", "packed")):
        bench = Bench(folder)
        bench.rename(bench.named(old), new).write(folder)

    case = closed_case(kb.load(folder), [opened(before), looked("clogged"), closed(CLOGGED)])

    assert case is not None
    assert case.causes == ("filter_packed",)
    assert case.seen[FindingId("filter")][StateId("packed")] == pytest.approx(0.9)


def test_twenty_cases_against_a_word_make_a_diff_that_applies_and_loads(folder: Path) -> None:
    knowledge = kb.load(folder)
    log = [opened(knowledge), looked("dusty"), closed(CLOGGED)]
    cases = [case for _ in range(20) if (case := closed_case(knowledge, log)) is not None]
    shelf, _, _ = look(folder)

    found = proposed(shelf, propose(compile_(knowledge), cases))
    diff = as_diff(shelf, found)
    patched = subprocess.run(
        ["git", "apply", "--unsafe-paths", "-"],  # noqa: S607 - whichever git the machine has
        input=diff, text=True, cwd=folder.parent, capture_output=True, check=False,
    )  # fmt: skip

    assert patched.returncode == 0, patched.stderr
    assert "of 20.0 closed cases" in diff
    after = kb.load(folder).causes[CLOGGED].shows[FindingId("filter")]
    assert after[StateId("clogged")] not in ("nearly always", "usually", "often")


def test_few_cases_propose_nothing(folder: Path) -> None:
    knowledge = kb.load(folder)
    case = closed_case(knowledge, [opened(knowledge), looked("dusty"), closed(CLOGGED)])
    assert case is not None

    assert propose(compile_(knowledge), [case, case]) == ()
