"""Hazards come first, whatever was being discussed.

*danger*: the one safe thing, who to call, the desk called, and a stop: only a person at the desk reopens repair.
*stop and confirm*: the safe thing, then "done", then on. *care*: said once, and on. A doubtful reading gets the safe
thing and one plain question.
"""

from datetime import timedelta
from typing import Final

from assistant.conversation.events import (
    DeskCalled,
    HazardCleared,
    HazardRaised,
    Heard,
    StateChanged,
    TimerDropped,
    TimerSet,
)
from assistant.conversation.hours import wall_time
from assistant.conversation.ids import MessageId, TimerName
from assistant.conversation.turn import Turn
from assistant.reading import HazardSaid, Reading
from assistant.reading.thresholds import LEAST_HAZARD, SAY_BACK
from kb.ids import FindingId, HazardId, StateId
from kb.schema import Hazard

DANGER_AGAIN: Final = TimerName("danger_again")
CALL_AGAIN_AFTER: Final = timedelta(minutes=5)
CARE_FROM: Final = 0.45
SIGNS: Final = {
    "en": (("sign", "yes"), ("no sign", "none of these"), ("not sure", "not sure")),
    "es": (("sign", "sí"), ("no sign", "nada de eso"), ("not sure", "no sé")),
}
DOUBT_YES: Final = (
    "right now",
    "it is",
    "still",
    "happening now",
    "ahorita sí",
    "todavía",
    "sigue",
    "está pasando",
)
DOUBT_NO: Final = (
    "not now", "not anymore", "no longer", "not any more", "you read me wrong", "read me wrong", "misread", "it stopped",
    "that was before", "not happening", "ahorita no", "ya no", "me entendió mal", "entendió mal", "eso fue antes", "ya pasó",
)  # fmt: skip
"""Replies to "is that so?" that name neither yes nor no."""
_PROTECTION: Final = FindingId("protection_moved")
_LEVER: Final = StateId("breaker")
_ORDER: Final = {"danger": 0, "stop and confirm": 1, "care": 2}
_FIRST_OF_ALL: Final = ("shut_in_self", "shut_in", "held_by_current")
"""Somebody may be dying behind these: their sentence stands before every other danger's."""


def meet_hazards(turn: Turn, reading: Reading, message: MessageId) -> bool:
    """Say what the message's hazards ask for; true when nothing else may be said in this turn."""
    heard = [said for said in reading.hazards if said.confidence >= LEAST_HAZARD]
    sure = [said for said in heard if said.confidence >= _sure_from(turn, said)]
    new = [hazard for said in _most_urgent_first(turn, sure) if (hazard := _to_raise(turn, said)) is not None]
    for hazard in new:
        _raise(turn, hazard, message)
    if any(hazard.level != "care" for hazard in new):
        return True
    doubtful = [said for said in heard if said not in sure and said.hazard not in turn.case.hazards_met]
    if doubtful and turn.case.state != "danger" and _worth_asking(turn, doubtful[0]):
        _ask_whether(turn, doubtful[0].hazard)
        return True
    return False


def _sure_from(turn: Turn, said: HazardSaid) -> float:
    """A care is one sentence, and a doubtful one is not asked about: it is said sooner."""
    return CARE_FROM if turn.knowledge.hazards[said.hazard].level == "care" else SAY_BACK


def _most_urgent_first(turn: Turn, said: list[HazardSaid]) -> list[HazardSaid]:
    def place(one: HazardSaid) -> tuple[int, int, int]:
        level = _ORDER[turn.knowledge.hazards[one.hazard].level]
        first = _FIRST_OF_ALL.index(one.hazard) if one.hazard in _FIRST_OF_ALL else len(_FIRST_OF_ALL)
        return (level, first, one.span.start)

    return sorted(said, key=place)


def _to_raise(turn: Turn, said: HazardSaid) -> Hazard | None:
    """The hazard to raise, what it becomes the second time, or None where it is already on the table."""
    node = turn.knowledge.hazards[said.hazard]
    if any(open_.hazard == said.hazard for open_ in turn.case.hazards):
        return None
    if said.hazard not in turn.case.hazards_met:
        return node
    if node.level == "stop and confirm" and node.becomes is not None:
        return turn.knowledge.hazards[node.becomes]
    return None if node.level == "care" else node


def _worth_asking(turn: Turn, said: HazardSaid) -> bool:
    return turn.knowledge.hazards[said.hazard].level != "care"


def _raise(turn: Turn, node: Hazard, message: MessageId | None) -> None:
    turn.add(HazardRaised(at=turn.at, hazard=node.hazard, level=node.level, message=message))
    if node.after:
        turn.say_text(_place(node), node.first.in_(turn.language), options=SIGNS[turn.language], alone=True)
        turn.wait_for("hazard_sign", hazard=node.hazard)
        return
    turn.say_text(_place(node), node.first.in_(turn.language), alone=True)
    if node.then is not None:
        turn.say_text(_place(node), node.then.in_(turn.language), alone=True)
    if node.level == "danger":
        stop_for_danger(turn)
    elif node.level == "stop and confirm":
        turn.say("hazard_confirm")
        turn.wait_for("hazard_done", hazard=node.hazard)


def _place(node: Hazard) -> str:
    return f"hazard:{node.hazard}"


def stop_for_danger(turn: Turn) -> None:
    """The case stops: the desk is called now, and once more after five minutes."""
    turn.say("danger_desk")
    turn.add(DeskCalled(at=turn.at, why="danger", urgency="now"))
    if turn.case.state != "danger":
        turn.add(StateChanged(at=turn.at, state="danger"))
    turn.wait_for("nothing")
    for timer in turn.case.timers:
        turn.add(TimerDropped(at=turn.at, timer=timer.timer))
    due = turn.at + CALL_AGAIN_AFTER
    turn.add(
        TimerSet(at=turn.at, timer=DANGER_AGAIN, due=due, local=wall_time(due, turn.zone), zone=turn.zone)
    )


def call_again(turn: Turn) -> None:
    """Five minutes have gone and the danger stands: the desk is called a second time, and the customer told."""
    turn.add(TimerDropped(at=turn.at, timer=DANGER_AGAIN))
    if turn.case.state == "danger":
        turn.urgent = True
        turn.add(DeskCalled(at=turn.at, why="danger", urgency="now"))
        turn.say("danger_again")


def _ask_whether(turn: Turn, hazard: HazardId) -> None:
    node = turn.knowledge.hazards[hazard]
    turn.say_text(_place(node), node.first.in_(turn.language), alone=True)
    turn.say("hazard_doubt", options=yes_no(turn))
    turn.wait_for("say_back", hazard=hazard)


def yes_no(turn: Turn) -> tuple[tuple[str, str], ...]:
    """The two options of a plain question."""
    return (("yes", "yes"), ("no", "no")) if turn.language == "en" else (("yes", "sí"), ("no", "no"))


def raise_confirmed(turn: Turn, hazard: HazardId, message: MessageId) -> None:
    """The doubtful hazard is real; its sentence has just been said, so it is not said again."""
    node = turn.knowledge.hazards[hazard]
    turn.add(HazardRaised(at=turn.at, hazard=hazard, level=node.level, message=message))
    if node.level == "danger":
        stop_for_danger(turn)
    else:
        turn.say("hazard_confirm")
        turn.wait_for("hazard_done", hazard=hazard)


def ask_made_safe(turn: Turn, hazard: HazardId) -> None:
    """One word about the danger before anything else, in the words in which people tell of it."""
    told = turn.knowledge.hazards[hazard].told_of
    turn.say("made_safe", danger=told.in_(turn.language), options=yes_no(turn))
    turn.wait_for("made_safe", hazard=hazard)


def not_safe_yet(turn: Turn, hazard: HazardId, message: MessageId) -> None:
    """A colleague had reopened, and the danger is there still: the safe thing once more, and the case stops again."""
    _raise(turn, turn.knowledge.hazards[hazard], message)


def raise_worked_out(turn: Turn, hazard: HazardId) -> None:
    """A hazard that no words told, but a sum: said once."""
    if str(hazard) not in turn.case.hazards_met:
        _raise(turn, turn.knowledge.hazards[hazard], None)


def answer_sign(turn: Turn, hazard: HazardId, sign: str, message: MessageId) -> None:
    """A device or breaker moved: with any sign, or none known for sure, it is a danger; without, one reset."""
    node = turn.knowledge.hazards[hazard]
    _say_after(turn, node, sign)
    if sign == "no sign":
        turn.say("hazard_confirm")
        turn.wait_for("hazard_done", hazard=hazard)
        return
    if node.becomes is not None:
        turn.add(HazardRaised(at=turn.at, hazard=node.becomes, level="danger", message=message))
    stop_for_danger(turn)


def _say_after(turn: Turn, node: Hazard, sign: str) -> None:
    """A breaker has a lever, and no button to press."""
    moved = turn.case.latest_fact(_PROTECTION)
    lever = moved is not None and moved.state == _LEVER and node.becomes is not None
    if lever and sign == "no sign":
        turn.say("breaker_once", alone=True)
    elif lever and node.becomes is not None:
        again = turn.knowledge.hazards[node.becomes]
        turn.say_text(_place(again), again.first.in_(turn.language), alone=True)
    else:
        after = {str(answer): text for answer, text in node.after.items()}[sign]
        turn.say_text(f"{_place(node)}:{sign}", after.in_(turn.language), alone=True)


def clear(turn: Turn, hazard: HazardId, by: str) -> None:
    """What the hazard asked for is done."""
    turn.add(HazardCleared(at=turn.at, hazard=hazard, by=by))


def stay_stopped(turn: Turn, heard: Heard) -> None:
    """A message while the danger stands: no repair talk, and never the same words twice in a row."""
    if "person" in heard.moves:
        turn.add(DeskCalled(at=heard.at, why="danger", urgency="now"))
    turn.say("danger_stay")
