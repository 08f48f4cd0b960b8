"""A case of an older edition goes on with a newer one: ids are found again, what is gone counts no more."""

import shutil
from datetime import UTC, datetime, timedelta
from functools import reduce
from pathlib import Path

import pytest

import kb
from assistant.conversation import Case, apply, new_case, step
from assistant.conversation import events as ev
from assistant.conversation.edition_events import EditionMoved
from assistant.conversation.happenings import CaseBegun, MessageHeard
from assistant.conversation.ids import MessageId
from assistant.conversation.moving import move
from assistant.conversation.record import from_record, to_record
from kb.files import PACKAGED
from kb.ids import CauseId, CheckId, FindingId, FixId, StateId, SymptomId
from kb.knowledge import Knowledge
from kb.renaming import Bench

NOON = datetime(2026, 7, 14, 16, 0, tzinfo=UTC)
FIRST = "my room is warm, hardly any air comes out, it is a window unit and the filter is clogged"


@pytest.fixture(scope="module")
def old() -> Knowledge:
    return kb.load()


def changed(folder: Path, *orders: tuple[str, ...]) -> Knowledge:
    """A copy of the knowledge after orders: (rename, old, new) or (retire, old, instead or '')."""
    shutil.copytree(PACKAGED, folder)
    for verb, name, other in orders:
        bench = Bench(folder)
        named = bench.named(name)
        if verb == "rename":
            bench.rename(named, other).write(folder)
        else:
            bench.retire(named, why="two were one", since="2026-11-25", instead=other or None).write(folder)
    return kb.load(folder)


@pytest.fixture(scope="module")
def new(tmp_path_factory: pytest.TempPathFactory) -> Knowledge:
    return changed(
        tmp_path_factory.mktemp("new") / "knowledge",
        ("rename", "finding:filter", "air_filter"),
        ("rename", "air_filter.clogged", "packed"),
        ("rename", "cause:filter_clogged", "filter_packed"),
        ("rename", "clean_filter", "wash_filter"),
        ("rename", "look_at_filter", "see_filter"),
    )


def talk(knowledge: Knowledge, case: Case, *texts: str) -> tuple[Case, list[ev.Event]]:
    said: list[ev.Event] = []
    for n, text in enumerate(texts):
        at = NOON + timedelta(minutes=case.heard * 5 + n)
        events = step(knowledge, case, MessageHeard(at=at, message=MessageId(f"m{case.heard}"), text=text))
        said += events
        case = reduce(apply, events, case)
    return case, said


def begun(knowledge: Knowledge) -> Case:
    begin = CaseBegun(
        at=NOON, language="en", channel="web", zone="America/New_York", region="911",
        desk_opens="07:00", desk_closes="19:00", room=None, greet=False, carried=(),
    )  # fmt: skip
    return reduce(apply, step(knowledge, new_case(), begin), new_case())


def test_a_case_goes_on_under_the_new_names(old: Knowledge, new: Knowledge) -> None:
    case, _ = talk(old, begun(old), FIRST)
    assert case.latest_fact(FindingId("filter")) is not None

    after, said = talk(new, case, "ok")

    (moved,) = (event for event in said if isinstance(event, EditionMoved))
    assert after.edition == new.edition == moved.edition
    fact = after.latest_fact(FindingId("air_filter"))
    assert fact is not None
    assert fact.state == "packed"
    assert dict(fact.likelihood).keys() == new.findings[FindingId("air_filter")].states.keys()
    assert after.latest_fact(FindingId("filter")) is None
    assert after.believed is not None
    assert {cause for cause, _ in after.believed.causes} <= set(new.causes)


def test_a_fix_under_way_is_still_the_fix_under_way(old: Knowledge, new: Knowledge) -> None:
    case = begun(old)
    case = apply(
        case,
        ev.FixOffered(at=NOON, fix=FixId("clean_filter"), cause=CauseId("filter_clogged"), probability=0.9),
    )
    steps = len(old.fixes[FixId("clean_filter")].steps)
    case = apply(case, ev.StepGiven(at=NOON, fix=FixId("clean_filter"), upto=steps, last=True))
    case = apply(case, ev.WaitingFor(at=NOON, kind="done", fix=FixId("clean_filter")))

    after, _ = talk(new, case, "done")

    assert [(fix.fix, fix.cause, fix.done_at is not None) for fix in after.fixes] == [
        ("wash_filter", "filter_packed", True)
    ]


def test_what_was_asked_is_read_against_the_renamed_check(old: Knowledge, new: Knowledge) -> None:
    case = apply(begun(old), ev.Asked(at=NOON, check=CheckId("look_at_filter"), gain_bits=1.0))
    case = apply(case, ev.WaitingFor(at=NOON, kind="check", check=CheckId("look_at_filter")))

    after, _ = talk(new, case, "packed with dust")

    fact = after.latest_fact(FindingId("air_filter"))
    assert fact is not None
    assert (fact.check, fact.state) == ("see_filter", "packed")


def test_what_is_retired_counts_no_more_and_the_case_goes_on(old: Knowledge, tmp_path: Path) -> None:
    without = changed(
        tmp_path / "knowledge", ("retire", "cause:filter_clogged", ""), ("retire", "look_at_filter", "")
    )
    case, _ = talk(old, begun(old), FIRST)
    case = apply(case, ev.WaitingFor(at=NOON, kind="check", check=CheckId("look_at_filter")))
    case = apply(
        case,
        ev.FixOffered(at=NOON, fix=FixId("clean_filter"), cause=CauseId("filter_clogged"), probability=1.0),
    )

    moved = move(without, case, NOON)
    after = apply(case, moved)

    assert ("cause", "filter_clogged") in moved.gone
    assert after.waiting_for is None
    assert after.fixes == ()
    assert after.believed is None or "filter_clogged" not in {cause for cause, _ in after.believed.causes}
    assert talk(without, case, "and now?")[1]


def test_what_takes_the_place_of_a_retired_one_is_held_instead(old: Knowledge, tmp_path: Path) -> None:
    one = changed(tmp_path / "knowledge", ("retire", "cause:filter_clogged", "indoor_coil_dirty"))
    case = apply(
        begun(old),
        ev.FixOffered(at=NOON, fix=FixId("clean_filter"), cause=CauseId("filter_clogged"), probability=1.0),
    )

    assert apply(case, move(one, case, NOON)).fixes[0].cause == "indoor_coil_dirty"


def test_a_state_without_a_trail_takes_its_fact_with_it(old: Knowledge, new: Knowledge) -> None:
    fact = ev.FactLearned(
        at=NOON, finding=FindingId("filter"), state=StateId("on_fire"), likelihood=((StateId("on_fire"), 1.0),),
        confidence=1.0, source="said",
    )  # fmt: skip
    case = apply(begun(old), fact)

    assert apply(case, move(new, case, NOON)).facts == ()


def test_hearsay_of_a_complaint_that_is_gone_is_dropped(old: Knowledge, new: Knowledge) -> None:
    case = apply(begun(old), ev.ComplaintHeard(at=NOON, symptom=SymptomId("long_gone"), confidence=1.0))

    assert apply(case, move(new, case, NOON)).complaints == ()


def test_folding_the_log_again_gives_the_same_case_whatever_the_knowledge_is_by_then(
    old: Knowledge, new: Knowledge
) -> None:
    case, first = talk(old, begun(old), FIRST)
    after, more = talk(new, case, "packed with dust", "done")

    stored = [to_record(event) for event in (*first, *more)]

    assert reduce(apply, map(from_record, stored), begun(old)) == after


def test_nothing_moves_within_an_edition(old: Knowledge) -> None:
    case, _ = talk(old, begun(old), FIRST)

    _, said = talk(old, case, "ok")

    assert not any(isinstance(event, EditionMoved) for event in said)
    assert move(old, case, NOON) == EditionMoved(at=NOON, edition=old.edition)
