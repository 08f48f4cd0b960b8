"""The use cases, each a few lines: what is kept first, what is settled then, what is shown."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Final, Literal, Unpack

from assistant.casebook import DeskRow, cases, desk, inbox, load_case, people, personal
from assistant.conversation.happenings import (
    ColleagueClosed,
    ColleagueHandedBack,
    ColleagueLearned,
    ColleagueReopened,
    ColleagueTookOver,
)
from assistant.conversation.ids import CaseId
from assistant.helpline import desk_side, due, phone
from assistant.helpline.admitting import count_in
from assistant.helpline.couriers import Refused
from assistant.helpline.house import House
from assistant.helpline.keys import digest, fits, id_from, token_for
from assistant.helpline.photos import drop_erased, fetch_waiting
from assistant.helpline.reasons import reasons_of, sums_of
from assistant.helpline.sending import Handed, hand_out, hand_to_caller, note_delivery
from assistant.helpline.settling import case_at, settle
from assistant.helpline.taking_in import (
    answer_to,
    case_of,
    check_client_id,
    checked_photos,
    checked_text,
    checked_zone,
    keep_message,
    new_case_row,
    once_more,
    open_row,
    refuse_other_content,
)
from assistant.helpline.views import Answer, MessageView, Opening, messages_between, replies_between
from assistant.thread import Place, Where
from kb.errors import RequestError
from kb.ids import FindingId, Language, StateId

CALL: Final = "call"
"""A colleague has the customer on the telephone, and says things themselves."""
LONGEST_ID: Final = 18
"""Digits; a database's whole numbers end there."""


@dataclass(frozen=True, slots=True)
class Helpline:
    """Everything that a channel may ask for. Times come from the channel's case clock, aware."""

    house: House

    # -- the customer ------------------------------------------------------------------------------------------------

    def open_case(
        self,
        *,
        client_id: str,
        at: datetime,
        text: str | None = None,
        language: Language | None = None,
        channel: str = "web",
        zone: str | None = None,
        region: Where | None = None,
    ) -> Opening:
        """Open a case, with a first message or a greeting; the same `client_id` opens the same case again.

        Fails with `RequestError`: `conflict` on other content under a client id, `too_long`, `invalid`.
        """
        check_client_id(client_id)
        text = None if text is None else checked_text(self.house, text)
        place = Place(
            zone=checked_zone(zone or self.house.home.zone), region=region or self.house.home.region
        )
        person_id = id_from(self.house.key, "person", channel, client_id)
        new = new_case_row(
            self.house,
            sender=channel,
            client_id=client_id,
            content=digest(self.house.key, "opening", "" if text is None else f"={text}", language or ""),
            person_id=person_id,
            room_id=f"{person_id}.1",
            channel=channel,
            place=place,
            at=at,
            language=language,
            greet=text is None and channel != CALL,
        )

        def keep() -> None:
            with self.house.casebook.writing() as session:
                before = cases.find_case_opened_by(session, channel, client_id)
                if before is None:
                    open_row(session, self.house, new, text)
                else:
                    refuse_other_content(before.content_digest, new.content_digest)

        once_more(keep)
        settle(self.house, new.id)
        return self._opening(new.id, client_id)

    def receive(
        self,
        case: str,
        token: str | None,
        text: str,
        client_id: str,
        at: datetime,
        *,
        photos: Sequence[bytes] = (),
    ) -> Answer:
        """Take in a message and answer it; the same `client_id` again gets the same answer, and is not read twice.

        `token` None: the channel vouches for the caller. Fails with `RequestError`: `not_found`, `forbidden`,
        `conflict`, `too_long`, `too_large`, `invalid`.
        """
        if token is not None:
            self.authorise(case, token)
        check_client_id(client_id)
        text = checked_text(self.house, text)
        pictures = checked_photos(self.house, photos)

        def keep() -> int:
            with self.house.casebook.writing() as session:
                kept = case_of(session, case)
                return keep_message(
                    session, self.house, kept, text, client_id=client_id, at=at, photos=pictures
                ).id

        inbox_id = once_more(keep)
        settle(self.house, case)
        with self.house.casebook.reading() as session:
            return answer_to(session, inbox_id)

    def receive_from(
        self,
        channel: str,
        address: str,
        text: str,
        client_id: str,
        at: datetime,
        **more: Unpack[phone.Besides],
    ) -> Answer:
        """Take in a text from an address: the thread finds its case; what answers it goes out by the courier.

        Fails with `RequestError` when nobody could answer to the address, and as `receive` does.
        """
        inbox_id = phone.take_in(self.house, channel, address, text, client_id, at, **more)
        with self.house.casebook.reading() as session:
            return answer_to(session, inbox_id)

    def exchange(
        self,
        channel: str,
        address: str,
        text: str,
        client_id: str,
        at: datetime,
        **more: Unpack[phone.Besides],
    ) -> tuple[Handed, ...]:
        """The same, for a caller that carries texts back with its own answer: those due now, the same for a repeat."""
        return hand_to_caller(
            self.house, phone.take_in(self.house, channel, address, text, client_id, at, **more), at
        )

    def admit(self, what: Literal["message", "case"], who: str | None, at: datetime) -> None:
        """Count what comes from a network address; None is not counted. Fails with `RequestError`: `too_many`."""
        if who is not None:
            count_in(self.house, what, who, at)

    @property
    def takes_photos(self) -> bool:
        """Pictures can be kept here."""
        return self.house.album is not None

    def note_delivery(
        self,
        once: str,
        word: str,
        at: datetime,
        *,
        provider_id: str | None = None,
        refusal: Refused | None = None,
    ) -> None:
        """A provider's word on a text of ours; one that is no text of ours is passed over."""
        if once.isdecimal() and len(once) < LONGEST_ID:
            note_delivery(self.house, int(once), word=word, provider_id=provider_id, refusal=refusal, at=at)

    def messages_after(self, case: str, after: int = 0) -> tuple[MessageView, ...]:
        """What came after a message, the customer's own included. Fails with `RequestError` on an unknown case."""
        with self.house.casebook.reading() as session:
            case_of(session, case)
            return messages_between(session, case, after)

    def authorise(self, case: str, token: str) -> None:
        """Fails with `RequestError` unless the token opens the case; an unknown case is told apart from nothing."""
        with self.house.casebook.reading() as session:
            kept = cases.find_case(session, case)
        if kept is None or not fits(token, kept.token_hash):
            raise RequestError(
                "the token does not open this case", mend="send the token that came with it", kind="forbidden"
            )

    # -- the hours ---------------------------------------------------------------------------------------------------

    def run_due(self, now: datetime) -> int:
        """Do all that waits: what a crash left, promised hours that have come, texts to send; how many things."""
        swept = due.sweep(self.house)
        kept = due.keep_promises(self.house, now)
        fetched = fetch_waiting(self.house, now)
        drop_erased(self.house)
        return swept + kept + fetched + hand_out(self.house, now)

    # -- the desk ----------------------------------------------------------------------------------------------------

    def desk_list(self) -> tuple[DeskRow, ...]:
        """The desk's queue: danger, food, who waits longest, the rest."""
        with self.house.casebook.reading() as session:
            return desk.desk_rows(session)

    def take_over(self, case: str, colleague: str, at: datetime, *, instead_of: str | None = None) -> Answer:
        """A colleague speaks from now on; what the assistant had not yet sent is withdrawn, but for danger."""
        self._check(case, colleague)
        happening = ColleagueTookOver(at=at, colleague=colleague)
        return desk_side.take_over(self.house, case, happening, instead_of)

    def write(
        self, case: str, colleague: str, text: str, *, seen: int, client_id: str, at: datetime
    ) -> Answer:
        """A colleague's words. `seen`: the last message they saw; a newer one stops the send, as a `conflict`."""
        self._check(case, colleague)
        words = checked_text(self.house, text)
        letter = desk_side.Letter(
            case_id=case, colleague=colleague, text=words, seen=seen, client_id=client_id, at=at
        )
        return desk_side.write(self.house, letter)

    def learn(self, case: str, colleague: str, finding: str, state: str, at: datetime) -> Answer:
        """A colleague's word on a finding, in place of what was read of it. Fails with `RequestError` on an unknown one."""
        self._check(case, colleague)
        with self.house.casebook.reading() as session:
            edition = load_case(session, case)[0].edition
        if state not in self.house.conversing_of(edition).states.get(finding, ()):
            raise RequestError(
                f"no finding {finding[:40]!r} with a state {state[:40]!r}", mend="choose one of the list"
            )
        happening = ColleagueLearned(
            at=at, colleague=colleague, finding=FindingId(finding), state=StateId(state)
        )
        return desk_side.act(self.house, case, happening)

    def hand_back(self, case: str, colleague: str, at: datetime) -> Answer:
        """The assistant speaks again, and goes on where the facts stand."""
        self._check(case, colleague)
        happening = ColleagueHandedBack(at=at, colleague=colleague)
        return desk_side.act(self.house, case, happening, speaking=colleague)

    def reopen_after_danger(self, case: str, colleague: str, at: datetime) -> Answer:
        """Repair may go on. Fails with `RequestError` when the case is in no danger."""
        self._check(case, colleague, only_in="danger")
        return desk_side.act(self.house, case, ColleagueReopened(at=at, colleague=colleague))

    def close(self, case: str, colleague: str, at: datetime, *, cause: str | None = None) -> Answer:
        """The case is over, with the confirmed cause where there is one."""
        self._check(case, colleague)
        happening = ColleagueClosed(at=at, colleague=colleague, cause=cause)
        return desk_side.act(self.house, case, happening)

    def reasoning(self, case: str, at: datetime | None = None) -> Mapping[str, object]:
        """What is known, asked, worked out and believed in a case, and what asking would tell; plain data for JSON.

        `at` None: as things stood when something last happened.
        """
        with self.house.casebook.reading() as session:
            return reasons_of(session, self.house, case_of(session, case), at)

    def sums(self, case: str, at: datetime) -> Mapping[str, object]:
        """The latest of each sum on its sheet, with its picture, and the product's hours; plain data for JSON."""
        with self.house.casebook.reading() as session:
            return sums_of(session, case_of(session, case), at)

    # -- people ------------------------------------------------------------------------------------------------------

    def person_of(self, case: str) -> str:
        """Whose case it is."""
        with self.house.casebook.reading() as session:
            return case_of(session, case).person_id

    def name_room(self, case: str, name: str) -> None:
        """What the person calls the room of a case."""
        with self.house.casebook.writing() as session:
            kept = case_of(session, case)
            personal.write_text(session, personal.ROOM_NAME, kept.room_id, name, kept.person_id)

    def share_address(self, case: str, with_case: str) -> None:
        """The person of `with_case` writes from the address of `case`, too."""
        with self.house.casebook.writing() as session:
            address_id = case_of(session, case).address_id
            if address_id is None:
                raise RequestError("this case has no address", mend="name a case that came by telephone")
            people.link(session, case_of(session, with_case).person_id, address_id)

    def erase_person(self, person: str) -> int:
        """Empty all that is personal of somebody; how many texts went. Their cases stay, without words."""
        with self.house.casebook.writing() as session:
            gone = personal.erase(session, person)
        drop_erased(self.house)
        return gone

    def edition_files(self, edition: str) -> dict[str, str] | None:
        """The knowledge of an edition that spoke here, file by file."""
        files = self.house.files_of(edition)
        return None if files is None else dict(files)

    def _check(self, case: str, colleague: str, only_in: Literal["danger"] | None = None) -> None:
        if not colleague.strip() or colleague in ("assistant", "nobody"):
            raise RequestError("a colleague without a name of their own", mend="sign in with your name")
        with self.house.casebook.reading() as session:
            state = case_of(session, case).state
        if only_in is not None and state != only_in:
            raise RequestError(
                f"the case is not in {only_in}", mend="nothing is to be reopened", kind="conflict"
            )

    def _opening(self, case_id: CaseId, client_id: str) -> Opening:
        with self.house.casebook.reading() as session:
            kept = case_of(session, case_id)
            first = inbox.find_message(session, f"case:{case_id}", client_id)
            until = (first.answer_until if first else None) or kept.begun_until or 0
            said = replies_between(session, case_id, 1, until)
            state = case_at(session, case_id, until).state
        return Opening(case=case_id, token=token_for(self.house.key, case_id), messages=said, state=state)
