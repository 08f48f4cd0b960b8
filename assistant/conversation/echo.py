"""What is said back of a message, as a person would: the numbers, what is out of order, and what is doubtful.

What is sure and as it should be needs no echo, and what kind of unit it is neither.
"""

from collections.abc import Sequence
from datetime import datetime
from typing import Final

from assistant.conversation.events import NumberLearned
from assistant.conversation.known import NOW, fact_said, number_words, readings_list, unit_of
from assistant.conversation.room_readings import ROOM, TARGET
from assistant.conversation.turn import Turn
from assistant.reading import TAKE, FindingSaid
from assistant.wording import degrees, variant

MOST_FACTS: Final = 3
OBVIOUS: Final = frozenset({"equipment", "room_level", "target_level"})
SEVERAL: Final = 2


def facts_to_echo(turn: Turn, findings: Sequence[FindingSaid]) -> list[str]:
    """The doubtful ones always; the sure ones where several came at once or nothing was said back yet."""
    first = turn.case.heard <= 1
    odd = [said for said in findings if said.confidence < TAKE or _out_of_order(turn, said)]
    told = [said for said in odd if said.confidence < TAKE or first or len(findings) >= SEVERAL]
    return [fact_said(turn.knowledge, said.finding, said.state, turn.language) for said in told[:MOST_FACTS]]


def _out_of_order(turn: Turn, said: FindingSaid) -> bool:
    normal = turn.knowledge.findings[said.finding].normal
    return normal is not None and said.state != normal and str(said.finding) not in OBVIOUS


def numbers_to_echo(turn: Turn, numbers: Sequence[NumberLearned]) -> list[str]:
    """The room and its target in one breath; other numbers by their names."""
    rooms = [number for number in numbers if number.quantity == ROOM]
    targets = [number for number in numbers if number.quantity == TARGET]
    words = [
        number_words(turn.knowledge, number.quantity, number.si, turn.case, turn.language)
        for number in numbers
        if number.quantity not in (ROOM, TARGET)
    ]
    return [*_room_and_target(turn, rooms, targets, turn.at), *words]


def _room_and_target(
    turn: Turn, rooms: Sequence[NumberLearned], targets: Sequence[NumberLearned], at: datetime
) -> list[str]:
    unit = unit_of(turn.case)
    target = degrees(targets[-1].si, unit) if targets else ""
    course = len(rooms) > 1 or (bool(rooms) and at - rooms[0].read_at >= NOW)
    if course:
        readings = readings_list(rooms, turn.case, at, turn.language)
        said = [variant("was_at", turn.language, 0, readings=readings)]
        return [*said, variant("should_be", turn.language, 0, target=target)] if target else said
    if rooms and target:
        room = degrees(rooms[0].si, unit)
        sentence = "is_as_it_should" if room == target else "is_and_should"
        return [variant(sentence, turn.language, 0, now=room, target=target)]
    if rooms:
        return [variant("is_at", turn.language, 0, now=degrees(rooms[0].si, unit))]
    return [variant("should_be", turn.language, 0, target=target)] if target else []
