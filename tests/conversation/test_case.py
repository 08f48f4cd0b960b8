from datetime import UTC, datetime
from functools import reduce
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.conversation import Case, apply, new_case
from assistant.conversation import events as ev
from assistant.conversation.ids import MessageId, SentenceId
from assistant.conversation.record import KINDS, Record, from_record, to_record
from kb.ids import CauseId, FindingId, FixId, StateId

AT = datetime(2026, 7, 14, 16, 0, tzinfo=UTC)


def fact(finding: str, state: str, *, epoch: int = 0, replaces: bool = False) -> ev.FactLearned:
    return ev.FactLearned(
        at=AT,
        finding=FindingId(finding),
        state=StateId(state),
        likelihood=((StateId(state), 1.0),),
        confidence=1.0,
        source="said",
        epoch=epoch,
        replaces=replaces,
    )


def fold(*events: ev.Event) -> Case:
    return reduce(apply, events, new_case())


def folded(*events: ev.Event) -> tuple[str, ...]:
    return tuple(str(f.state) for f in fold(*events).facts)


def test_a_correction_replaces_what_was_said_in_the_same_epoch() -> None:
    assert folded(fact("coil_ice", "solid"), fact("coil_ice", "none", replaces=True)) == ("none",)


def test_a_change_after_a_fix_stands_beside_what_was_before() -> None:
    offered = ev.FixOffered(at=AT, fix=FixId("thaw_coil"), cause=CauseId("x"), probability=0.9)
    done = ev.FixDone(at=AT, fix=FixId("thaw_coil"), touches=(FindingId("coil_ice"),))

    states = folded(
        fact("coil_ice", "solid"), offered, done, fact("coil_ice", "none", epoch=1, replaces=True)
    )

    assert states == ("solid", "none")


def test_doing_a_fix_begins_a_new_epoch() -> None:
    offered = ev.FixOffered(at=AT, fix=FixId("thaw_coil"), cause=CauseId("x"), probability=0.9)
    done = ev.FixDone(at=AT, fix=FixId("thaw_coil"), touches=())

    assert fold(offered, done).epoch == 1


def test_every_kind_of_event_has_a_record() -> None:
    assert set(KINDS.values()) == set(get_args(ev.Event))


@given(
    text=st.text(max_size=40),
    options=st.lists(st.tuples(st.text(max_size=5), st.text(max_size=5)), max_size=3),
    at=st.datetimes(timezones=st.just(UTC)),
)
def test_what_was_said_survives_being_stored(text: str, options: list[tuple[str, str]], at: datetime) -> None:
    said = ev.Said(at=at, sentence=SentenceId("noted"), language="es", text=text, options=tuple(options))

    assert from_record(to_record(said)) == said


def test_an_event_of_a_newer_program_is_refused_with_a_reason() -> None:
    record = to_record(ev.Heard(at=AT, message=MessageId("m1"), language="en"))

    with pytest.raises(ValueError, match="newer program"):
        from_record(Record(record.kind, 99, record.body))
