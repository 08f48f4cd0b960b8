"""A conversation in a test: what the customer texts, what comes back, what is remembered."""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import TypeVar

import pytest

from assistant.conversation.events import Event
from assistant.workbench.replay import Player, as_text
from kb.ids import Language
from kb.knowledge import Knowledge

E = TypeVar("E", bound=Event)
NOON_IN_NEW_YORK = datetime(2026, 7, 14, 16, 0, tzinfo=UTC)


class Talk:
    """One customer's conversation."""

    def __init__(self, knowledge: Knowledge, language: Language | None = None, region: str = "911") -> None:
        self.knowledge = knowledge
        self.player = Player(knowledge, NOON_IN_NEW_YORK, "America/New_York", region)
        self.player.begin(language)
        self.replies: list[str] = []

    def text(self, words: str) -> str:
        """The customer texts; our reply, several texts joined by a line break."""
        return self._keep([as_text(said) for said in self.player.hear(words)])

    def photo(self, words: str = "") -> str:
        """The customer sends a photo, perhaps with words."""
        return self._keep([as_text(said) for said in self.player.hear(words, photos=1)])

    def wait(self, **span: float) -> str:
        return self._keep([as_text(said) for said in self.player.wait(timedelta(**span))])

    def desk(self, deed: str) -> str:
        return self._keep([as_text(said) for said in self.player.desk("Ines", deed)])

    def do_the_fix(self) -> str:
        """Every step that comes, then "done"; our last reply."""
        while self._has_more():
            self.text("next")
        return self.text("done")

    def _has_more(self) -> bool:
        fix = self.player.case.fix_under_way
        return fix is not None and fix.upto < len(self.knowledge.fixes[fix.fix].steps)

    def _keep(self, texts: list[str]) -> str:
        self.replies += texts
        return "\n".join(texts)

    def events(self, kind: type[E]) -> list[E]:
        return [event for event in self.player.events if isinstance(event, kind)]

    @property
    def state(self) -> str:
        return self.player.case.state

    def known(self, finding: str) -> str | None:
        fact = self.player.case.latest_fact(finding)  # type: ignore[arg-type]  # tests write ids as plain words
        return None if fact is None else str(fact.state)

    @property
    def open_check(self) -> str | None:
        waiting = self.player.case.waiting_for
        return None if waiting is None or waiting.check is None else str(waiting.check)


@pytest.fixture
def talk(knowledge: Knowledge) -> Callable[..., Talk]:
    def begin(*texts: str, language: Language | None = None, region: str = "911") -> Talk:
        one = Talk(knowledge, language, region)
        for words in texts:
            one.text(words)
        return one

    return begin
