"""What stands on a case's slip besides its messages: where it stands, its room, its two numbers."""

from dataclasses import dataclass

from assistant.casebook import load_case
from assistant.conversation.case import Case
from assistant.conversation.ids import CaseState
from assistant.conversation.known import unit_of
from assistant.helpline.house import House
from assistant.helpline.taking_in import case_of
from assistant.helpline.views import room_name
from assistant.wording import degrees
from kb.ids import QuantityId

TARGET = QuantityId("target_c")
LAST = QuantityId("room_c")


@dataclass(frozen=True, slots=True, kw_only=True)
class Slip:
    """A case at a glance; what is not known is None."""

    state: CaseState
    room: str | None
    target: str | None
    """In the person's own unit, as they would write it."""
    last: str | None


def slip_of(house: House, case_id: str) -> Slip:
    """The case at a glance. Fails with `RequestError` on an unknown case."""
    with house.casebook.reading() as session:
        kept = case_of(session, case_id)
        case, _ = load_case(session, kept.id)
        room = room_name(session, kept.id)
    return Slip(state=kept.state, room=room, target=_degrees(case, TARGET), last=_degrees(case, LAST))


def _degrees(case: Case, quantity: QuantityId) -> str | None:
    number = case.latest_number(quantity)
    return None if number is None else degrees(number.si, unit_of(case))
