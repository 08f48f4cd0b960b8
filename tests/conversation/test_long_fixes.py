"""A long fix comes one numbered step at a time, and goes on where it stopped, whatever came between."""

import re
from collections.abc import Callable

import pytest

from assistant.conversation import apply
from assistant.conversation.events import FixDone, Said
from assistant.conversation.fixing import offer
from assistant.conversation.turn import Turn
from assistant.workbench.replay import as_text
from kb.gsm7 import fold_for_sms, segments
from kb.ids import CauseId, FixId, Language
from kb.knowledge import Knowledge
from tests.conversation.conftest import Talk

Begin = Callable[..., Talk]
LONG = FixId("thaw_coil")


def offered(talk: Begin, knowledge: Knowledge, language: Language = "en") -> tuple[Talk, list[str]]:
    """A talk in which the long fix has just been offered; and what was said."""
    first = "my cooler is at 52, set to 38" if language == "en" else "mi cuarto está a 52, puesto a 38"
    one = talk(first, language=language)
    turn = Turn(knowledge=knowledge, case=one.player.case, at=one.player.at)
    cause = next(cause for cause, node in knowledge.causes.items() if LONG in node.fixes)
    offer(turn, LONG, CauseId(cause), 0.9)
    events = turn.finish()
    for event in events:
        one.player.case = apply(one.player.case, event)
    one.player.events.extend(events)
    return one, [as_text(event) for event in events if isinstance(event, Said)]


def steps_in(text: str) -> list[int]:
    return [int(number) for number in re.findall(r"(?:Step|Paso) (\d) (?:of|de)", text)]


@pytest.mark.parametrize(("language", "word"), [("en", "next"), ("es", "siguiente")])
def test_it_comes_in_numbered_steps_of_two_sms_parts_each(
    talk: Begin, knowledge: Knowledge, language: Language, word: str
) -> None:
    one, said = offered(talk, knowledge, language)
    total = len(knowledge.fixes[LONG].steps)
    assert steps_in("\n".join(said)) == [1]

    rest = [one.text(word) for _ in range(total - 1)]

    assert [steps_in(text) for text in rest] == [[number] for number in range(2, total + 1)]
    assert f"{total} {'of' if language == 'en' else 'de'} {total}" in rest[-1]
    assert all(segments(fold_for_sms(text)) <= 2 for text in [*said, *"\n".join(rest).split("\n")])


@pytest.mark.parametrize(
    "between", ["why?", "hello", "banana", "photo", "desk", "how?", "how much water is there?"]
)
def test_whatever_comes_between_next_brings_the_rest(talk: Begin, knowledge: Knowledge, between: str) -> None:
    one, said = offered(talk, knowledge)
    if between == "photo":
        one.photo()
    elif between == "desk":
        one.desk("takes over")
        one.desk("hands back")
    else:
        one.text(between)

    assert steps_in(one.text("NEXT"))[0] == steps_in("\n".join(said))[-1] + 1


def test_what_interrupts_is_answered_with_the_way_to_the_rest(talk: Begin, knowledge: Knowledge) -> None:
    one, _ = offered(talk, knowledge)
    assert "NEXT" in one.text("banana")


def test_done_after_a_step_is_not_done_before_the_last(talk: Begin, knowledge: Knowledge) -> None:
    one, _ = offered(talk, knowledge)

    for number in range(2, len(knowledge.fixes[LONG].steps) + 1):
        assert steps_in(one.text("done")) == [number]
        assert one.events(FixDone) == []
    one.text("done")
    assert len(one.events(FixDone)) == 1
