"""What the desk's pages ask for: the queue, a case's sheet with its talk, asides, and what is done about a case."""

from dataclasses import dataclass
from datetime import datetime
from typing import Final

from sqlalchemy.orm import Session

from assistant.casebook import KeptCase, cases, closings, load_case, parts, personal, searching, staff
from assistant.casebook.folding import folded
from assistant.casebook.parts import PartRequest
from assistant.casebook.searching import Found
from assistant.casebook.staff import Aside, Deed
from assistant.conversation.moving import edition_in
from assistant.helpline.house import House
from assistant.helpline.keys import id_from
from assistant.helpline.photos import photo_in
from assistant.helpline.queue import QueueLine, queue_of
from assistant.helpline.sheets import Sheet
from assistant.helpline.slips import Slip, slip_of
from assistant.helpline.taking_in import case_of, check_client_id, checked_text
from assistant.helpline.talk_sheet import Talk
from assistant.helpline.views import MessageView, messages_between
from kb.errors import RequestError
from kb.ids import Language

AROUND: Final = 50
"""Letters shown around what was found."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ended:
    """How a case ended, in words."""

    case: str
    at: datetime
    reason: str
    name: str | None
    cause: str | None
    is_new: bool
    mended: str | None
    held: bool | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Hit:
    """A case that the search found, with what stands there around the first word."""

    case: KeptCase
    room: str | None
    place: str | None
    kind: str
    sequence: int | None
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Folder:
    """Everything about one case, for a page of it."""

    case: KeptCase
    language: Language
    """The customer's; English while nobody knows."""
    slip: Slip
    sheet: Sheet
    talk: tuple[MessageView, ...]
    asides: tuple[Aside, ...]
    deeds: tuple[Deed, ...]
    beside: Talk
    """What stands beside the messages."""
    place: str | None
    ending: Ended | None
    """How the case ended last."""
    earlier: tuple[tuple[KeptCase, Ended | None], ...]
    """Other cases of the same room, the latest first, each with how it ended."""
    requests: tuple[PartRequest, ...]

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
                language=load_case(session, case)[0].language or kept.language or "en",
                slip=slip,
                sheet=sheet(log, at, language),
                talk=messages_between(session, case, 0),
                asides=staff.asides(session, case),
                deeds=staff.deeds(session, case),
                beside=self.house.conversing_of(edition).talk(log, language),
                place=personal.text_of(session, personal.PLACE, kept.room_id),
                ending=_ended(session, self.house, case, language),
                earlier=_earlier(session, self.house, kept, language),
                requests=parts.requests(session, case),
            )

    def photo(self, case: str, photo: str) -> bytes:
        """A picture of a case, as JPEG; somebody has looked. Fails with `RequestError` where there is none."""
        picture = photo_in(self.house, case, photo)
        with self.house.casebook.writing() as session:
            cases.note_photo(session, case, None)
        return picture

    def search(self, text: str) -> tuple[Hit, ...]:
        """Cases in which every word was said, the latest first, closed ones too."""
        with self.house.casebook.reading() as session:
            return tuple(_hit(session, found, text) for found in searching.search(session, text))

    def new_causes(self, language: Language) -> tuple[Ended, ...]:
        """Cases that ended with a cause that the knowledge does not list, the latest first."""
        with self.house.casebook.reading() as session:
            named = closings.closings(session, new_causes_only=True)
            ended = [_ended(session, self.house, one.case_id, language) for one in named]
        return tuple(one for one in ended if one is not None)

    def draft(self, case: str, language: Language) -> str:
        """A failure path for the author from a case. Fails with `RequestError` where it named no new cause."""
        with self.house.casebook.reading() as session:
            kept = case_of(session, case)
            closing = closings.closing_of(session, kept.id)
            if closing is None or not closing.is_new:
                raise RequestError(
                    "this case named no new cause", mend="close it with one first", kind="not_found"
                )
            log, words = cases.events_of(session, kept.id), closings.words_of(session, kept.id)
        return self.house.conversing.draft(log, words, language)

    def colleagues(self) -> tuple[str, ...]:
        """Who may sign in, by name."""
        with self.house.casebook.reading() as session:
            return staff.names(session)

    def note_aside(self, case: str, name: str, text: str, client_id: str, at: datetime) -> None:
        """Keep a colleague's note beside a case; the same `client_id` again changes nothing."""
        check_client_id(client_id)
        words = checked_text(self.house, text)
        with self.house.casebook.writing() as session:
            kept = case_of(session, case)
            text_id = id_from(self.house.key, "aside", case, client_id)
            staff.add_aside(session, case, name, words, text_id, kept.person_id, at)


def _earlier(
    session: Session, house: House, kept: KeptCase, language: Language
) -> tuple[tuple[KeptCase, Ended | None], ...]:
    others = (case for case in cases.cases_of_room(session, kept.room_id) if case.id != kept.id)
    return tuple((case, _ended(session, house, case.id, language)) for case in others)


def _ended(session: Session, house: House, case: str, language: Language) -> Ended | None:
    closing = closings.closing_of(session, case)
    if closing is None:
        return None
    new, _, mended = closings.words_of(session, case).partition("\n")
    if not closing.is_new:
        new, mended = "", new or mended
    causes, fixes = house.conversing.causes.get(language, {}), house.conversing.fixes.get(language, {})
    return Ended(
        case=case,
        at=closing.at,
        reason=closing.reason,
        name=closing.name,
        cause=new or (causes.get(closing.cause, closing.cause) if closing.cause else None),
        is_new=closing.is_new,
        mended=mended or (fixes.get(closing.fix, closing.fix) if closing.fix else None),
        held=closing.held,
    )


def _hit(session: Session, found: Found, text: str) -> Hit:
    kept = case_of(session, found.case)
    first = folded(text).split()[0]
    at = max(found.folded.find(first), 0)
    begin = max(at - AROUND, 0)
    words = found.folded[begin : at + AROUND * 2]
    return Hit(
        case=kept,
        room=personal.text_of(session, personal.ROOM_NAME, kept.room_id),
        place=personal.text_of(session, personal.PLACE, kept.room_id),
        kind=found.kind,
        sequence=found.sequence,
        words=("… " if begin else "") + words + (" …" if begin + len(words) < len(found.folded) else ""),
    )
