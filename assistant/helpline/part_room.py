"""Parts and warranty at the desk: what is known of a room's parts, whether they are covered, and what is to be sent."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Final
from zoneinfo import ZoneInfo

from assistant.casebook import parts, personal
from assistant.casebook.parts import PartRequest, RoomPart
from assistant.helpline.house import House
from assistant.helpline.keys import id_from
from assistant.helpline.taking_in import case_of, check_client_id, checked_text
from assistant.helpline.warranty import Covered, Rule, covered
from kb.errors import RequestError
from kb.ids import Language

OLDEST: Final = date(1990, 1, 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What a colleague writes down of a part; None: not known."""

    bought_on: date | None
    proof: bool | None
    misused: bool | None


@dataclass(frozen=True, slots=True)
class PartRoom:
    """Parts over a helpline."""

    house: House

    def covers(self, case: str, at: datetime, language: Language) -> tuple[Covered, ...]:
        """Every part that the policy names, as it stands today where the room is."""
        with self.house.casebook.reading() as session:
            kept = case_of(session, case)
            known = {part.part: part for part in parts.parts_of(session, kept.room_id)}
        today = at.astimezone(ZoneInfo(kept.zone)).date()
        return tuple(covered(rule, known.get(rule.part), today, language) for rule in self.house.policy.rules)

    def tell(self, case: str, part: str, told: Told, name: str, at: datetime) -> None:
        """Write down what is known of a part, in place of what was known. Fails with `RequestError`."""
        rule = self._rule(part)
        with self.house.casebook.writing() as session:
            kept = case_of(session, case)
            today = at.astimezone(ZoneInfo(kept.zone)).date()
            if told.bought_on is not None and not OLDEST <= told.bought_on <= today:
                raise RequestError(
                    f"bought on {told.bought_on:%Y-%m-%d}", mend="give a day that has been, since 1990"
                )
            parts.put_part(
                session,
                RoomPart(
                    room_id=kept.room_id, part=rule.part, bought_on=told.bought_on, proof=told.proof,
                    misused=told.misused, name=name, at=at,
                ),
            )  # fmt: skip

    def ask_for(self, case: str, part: str, note: str, name: str, client_id: str, at: datetime) -> None:
        """Ask for a part to be sent, with how it stands today; the same `client_id` again changes nothing."""
        check_client_id(client_id)
        rule = self._rule(part)
        if not note.strip():
            raise RequestError("a part without a place", mend="write where it goes to, and to whom")
        stands = next(one for one in self.covers(case, at, "en") if one.part == part)
        with self.house.casebook.writing() as session:
            kept = case_of(session, case)
            text_id = id_from(self.house.key, "part", case, client_id)
            if personal.text_of(session, personal.PART_NOTE, text_id) is not None:
                return
            personal.add_text(
                session, personal.PART_NOTE, text_id, checked_text(self.house, note.strip()), kept.person_id
            )
            parts.ask_for(
                session, case, rule.part, standing=stands.standing, rule=rule.rule.en, name=name, at=at,
                text_id=text_id,
            )  # fmt: skip

    def note_sent(self, request: int, name: str, at: datetime) -> None:
        """Somebody has sent it. Fails with `RequestError` where somebody else had, or there is none."""
        with self.house.casebook.writing() as session:
            if not parts.note_done(session, request, name, at):
                raise RequestError(
                    "nothing is to be sent under this number", mend="look at the list again", kind="conflict"
                )

    def requests(self, case: str | None = None) -> tuple[PartRequest, ...]:
        """What is to be sent, of one case or of all."""
        with self.house.casebook.reading() as session:
            return parts.requests(session, case)

    def _rule(self, part: str) -> Rule:
        rule = self.house.policy.rule_for(part)
        if rule is None:
            raise RequestError(f"the policy names no part {part[:40]!r}", mend="choose one of the list")
        return rule
