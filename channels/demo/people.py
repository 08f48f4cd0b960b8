"""One customer of the demo: how they answer what the assistant asks, from their story."""

from dataclasses import dataclass
from typing import Final

from assistant.conversation.case import Case
from assistant.conversation.events import WaitingFor
from channels.demo.stories import Room, Story, drawn, share
from kb.ids import CheckId, Language
from kb.knowledge import Knowledge

UNSURE: Final = {"en": ("not sure", "no idea", "can't tell"), "es": ("no sé", "ni idea", "no se")}
YES: Final = {"en": "yes", "es": "sí"}
NO: Final = {"en": "no", "es": "no"}
DONE: Final = {"en": ("done", "ok done", "did it"), "es": ("listo", "ya quedó listo", "listo, ya")}
NEXT: Final = {"en": "next", "es": "sigue"}
COLD_AGAIN: Final = 2
"""After the right fix the room comes within so many degrees F of its target."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Customer:
    """Who writes, about which room, in which story."""

    number: int
    name: str
    language: Language
    room: Room
    place: str
    address: str | None
    """Where they text from; None: they write on the page, or call."""
    on_the_line: bool
    story: Story
    lasts: int
    """After so many texts they fall silent; most never do."""

    @property
    def warm_f(self) -> int:
        """What the room stands at when they write."""
        low, high = self.story.warmer
        return self.room.target + low + share(high - low + 1, self.number, "warm")

    def first_text(self) -> str:
        """Their first words."""
        ways = self.story.first.en if self.language == "en" else self.story.first.es
        return drawn(ways, self.number, "first").format(
            room=self.warm_f, target=self.room.target, keeps=self.room.keeps, who=self.name
        )

    def reply(self, knowledge: Knowledge, case: Case, texts: int) -> str | None:
        """What they say to the open question; None: nothing was asked."""
        waiting = case.waiting_for
        if waiting is None:
            return None
        match waiting.kind:
            case "check" if waiting.check is not None:
                return self._answer(knowledge, case, waiting.check)
            case "say_back" if waiting.finding is not None:
                told = self.story.facts.get(waiting.finding)
                return (YES if told in (waiting.state, None) else NO)[self.language]
            case "done":
                under_way = case.fix_under_way
                node = knowledge.fixes[waiting.fix] if waiting.fix else None
                more = under_way is not None and node is not None and under_way.upto < len(node.steps)
                return NEXT[self.language] if more else drawn(DONE[self.language], self.number, texts)
            case "number" | "which_unit":
                return self._number(knowledge, case, waiting)
            case "resolved":
                return YES[self.language]
            case "hazard_done":
                return DONE[self.language][0]
            case "hazard_sign":
                return "2"
            case _:
                return drawn(UNSURE[self.language], self.number, texts)

    def _answer(self, knowledge: Knowledge, case: Case, check: CheckId) -> str:
        node = knowledge.checks[check]
        if node.measures is not None:
            return self._told_number(case, str(node.measures))
        state = self.story.facts.get(node.finds)
        said = self.story.says.get(node.finds)
        if said is not None and case.times_asked(check) <= 1:
            return said.in_(self.language)
        offers = node.offers or tuple(knowledge.findings[node.finds].states)
        if state not in offers:
            return drawn(UNSURE[self.language], self.number, check)
        if share(3, self.number, check) == 0:
            return knowledge.findings[node.finds].states[state].in_(self.language)[0]
        return f"{offers.index(state) + 1}"

    def _number(self, knowledge: Knowledge, case: Case, waiting: WaitingFor) -> str:
        if waiting.kind == "which_unit":
            return "F"
        if waiting.quantity == "room_c" and self._is_mended(knowledge, case):
            return f"{self.room.target + share(COLD_AGAIN + 1, self.number, case.held_times)} F"
        return self._told_number(case, str(waiting.quantity))

    def _told_number(self, case: Case, quantity: str) -> str:
        if quantity == "room_c":
            return f"{self.warm_f + share(3, self.number, len(case.numbers)) - 1} F"
        if quantity == "target_c":
            return f"{self.room.target} F"
        told = {str(name): words for name, words in self.story.numbers.items()}.get(quantity)
        return told or UNSURE[self.language][0]

    def _is_mended(self, knowledge: Knowledge, case: Case) -> bool:
        """A fix that was done some time ago is one that their cause needs."""
        mends = knowledge.causes[self.story.cause].fixes if self.story.cause else ()
        done = [fix for fix in case.fixes if fix.done_at is not None and fix.fix in mends]
        asked_since = case.waiting_for.at if case.waiting_for else None
        return any(
            asked_since is None or (asked_since - fix.done_at).total_seconds() > 1800  # noqa: PLR2004 - half an hour
            for fix in done
            if fix.done_at is not None
        )
