"""What the desk's pages ask for: the queue, a case's sheet with its talk, asides, and what is done about a case."""

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy.orm import Session

from assistant.casebook import KeptCase, cases, staff
from assistant.casebook.staff import Aside, Deed
from assistant.conversation.moving import edition_in
from assistant.helpline.house import House
from assistant.helpline.keys import id_from
from assistant.helpline.photos import photo_in
from assistant.helpline.queue import QueueLine, queue_of
from assistant.helpline.sheets import Sheet
from assistant.helpline.slips import Slip, slip_of
from assistant.helpline.taking_in import case_of, check_client_id, checked_text
from assistant.helpline.views import MessageView, messages_between
from kb.errors import RequestError
from kb.ids import Language


@dataclass(frozen=True, slots=True, kw_only=True)
class Folder:
    """Everything about one case, for a page of it."""

    case: KeptCase
    slip: Slip
    sheet: Sheet
    talk: tuple[MessageView, ...]
    asides: tuple[Aside, ...]
    deeds: tuple[Deed, ...]
    earlier: tuple[KeptCase, ...]
    """Other cases of the same room, the latest first."""

    @property
    def seen(self) -> int:
        """The last message that stands here: what a colleague has seen."""
        return self.talk[-1].id if self.talk else 0


@dataclass(frozen=True, slots=True)
class DeskRoom:
    """The desk's own views over a helpline."""

    house: House

    def queue(self, at: datetime, language: Language = "en") -> tuple[QueueLine, ...]:
        """Every running case, the most urgent first."""
        with self.house.casebook.reading() as session:
            return queue_of(session, self.house, at, language)

    def folder(self, case: str, at: datetime, language: Language = "en") -> Folder:
        """A case with all that belongs to it. Fails with `RequestError` where there is none."""
        with self.house.casebook.reading() as session:
            edition = edition_in(cases.events_of(session, case))
        sheet = self.house.conversing_of(edition).sheet
        if sheet is None:
            raise RequestError(
                "this helpline has no desk", mend="serve it with its knowledge", kind="not_found"
            )
        slip = slip_of(self.house, case)
        with self.house.casebook.reading() as session:
            kept = case_of(session, case)
            log = cases.events_of(session, kept.id)
            return Folder(
                case=kept,
                slip=slip,
                sheet=sheet(log, at, language),
                talk=messages_between(session, case, 0),
                asides=staff.asides(session, case),
                deeds=staff.deeds(session, case),
                earlier=_earlier(session, kept),
            )

    def photo(self, case: str, photo: str) -> bytes:
        """A picture of a case, as JPEG; somebody has looked. Fails with `RequestError` where there is none."""
        picture = photo_in(self.house, case, photo)
        with self.house.casebook.writing() as session:
            cases.note_photo(session, case, None)
        return picture

    def note_aside(self, case: str, name: str, text: str, client_id: str, at: datetime) -> None:
        """Keep a colleague's note beside a case; the same `client_id` again changes nothing."""
        check_client_id(client_id)
        words = checked_text(self.house, text)
        with self.house.casebook.writing() as session:
            kept = case_of(session, case)
            text_id = id_from(self.house.key, "aside", case, client_id)
            staff.add_aside(session, case, name, words, text_id, kept.person_id, at)


def _earlier(session: Session, kept: KeptCase) -> tuple[KeptCase, ...]:
    return tuple(case for case in cases.cases_of_room(session, kept.room_id) if case.id != kept.id)
