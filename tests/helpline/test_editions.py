"""Which edition speaks in which case."""

from dataclasses import replace

import pytest

from assistant.casebook import Casebook
from assistant.conversation import Case
from assistant.conversation import events as ev
from assistant.conversation.happenings import MessageHeard, TimerDue
from assistant.conversation.ids import MessageId, TimerName
from assistant.helpline import Conversing, Editions
from kb.errors import KnowledgeError
from kb.ids import CheckId
from tests.helpline.fakes import NOON, small_helpline

WROTE = MessageHeard(at=NOON, message=MessageId("m"), text="clogged")
FILES = {"old": {"a.yaml": "a"}, "broken": {"b.yaml": "b"}}
ASKED = ev.WaitingFor(at=NOON, kind="check", check=CheckId("look_at_filter"))


@pytest.fixture
def today(book: Casebook) -> Conversing:
    return replace(small_helpline(book).house.conversing, edition="new", safety="s")


def editions(today: Conversing, *, safety: str = "s") -> Editions:
    def load(files: dict[str, str]) -> Conversing:
        if files is FILES["broken"]:
            raise KnowledgeError(())
        return replace(today, edition="old", safety=safety)

    return Editions(today, load)  # type: ignore[arg-type]  # dicts, not any mapping: these are ours


def test_who_answers_a_question_is_read_by_the_edition_that_asked(today: Conversing) -> None:
    case = Case(edition="old", waiting_for=ASKED)

    assert editions(today).speaking_in(case, WROTE, FILES.get).edition == "old"


@pytest.mark.parametrize(
    ("case", "happening"),
    [
        (Case(edition="old"), WROTE),
        (Case(edition="old", waiting_for=ASKED), TimerDue(at=NOON, timer=TimerName("verify"))),
        (Case(edition="new", waiting_for=ASKED), WROTE),
        (Case(), WROTE),
        (Case(edition="unheard of", waiting_for=ASKED), WROTE),
        (Case(edition="broken", waiting_for=ASKED), WROTE),
    ],
)
def test_elsewhere_todays_speaks(today: Conversing, case: Case, happening: MessageHeard | TimerDue) -> None:
    assert editions(today).speaking_in(case, happening, FILES.get).edition == "new"


def test_where_a_caution_changed_nobody_is_left_with_the_old_one(today: Conversing) -> None:
    case = Case(edition="old", waiting_for=ASKED)

    assert editions(today, safety="other").speaking_in(case, WROTE, FILES.get).edition == "new"


def test_a_new_edition_leaves_the_last_one_ready_without_loading_it(today: Conversing) -> None:
    held = editions(today)
    held.take(replace(today, edition="newer"))

    assert held.today.edition == "newer"
    assert held.of("new", lambda _: pytest.fail("it was at hand")).edition == "new"
