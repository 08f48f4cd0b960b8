"""One message from an address: to the case that it belongs to, or answered outside any. The address is held meanwhile."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from sqlalchemy.orm import Session

from assistant.casebook import Address, LiveCase, Taken, cases, inbox, load_case, outbox, people, personal
from assistant.conversation.ids import CaseId
from assistant.helpline.carrying import code_to_page, take_along
from assistant.helpline.house import House
from assistant.helpline.outside import language_to, say_outside
from assistant.helpline.taking_in import new_case_row
from assistant.thread import (
    RESUMES_WITHIN,
    AskWhichRoom,
    Choice,
    ConsentGiven,
    NewCase,
    OpenCase,
    Place,
    ServiceWord,
    ThreadSentence,
    ToCase,
    asks_for_page,
    choose_case,
    code_in,
    is_bare_number,
    is_opted_out,
    language_of_word,
    plain,
    room_offered,
    room_words,
    service_word,
)
from kb.ids import Language


@dataclass(frozen=True, slots=True, kw_only=True)
class Glance:
    """What one look at the address found out before its message is sorted: it needs reading, so no lock is held."""

    answers: bool = False
    """The message fits the question that was asked last."""
    endangered: CaseId | None = None
    """With a cry for help: the case that is, or was, in danger."""
    danger: bool = False
    """It asks for no more texts and tells of a danger as well."""


@dataclass(slots=True)
class Sorting:
    """One message on its way to its case, inside one transaction that holds the address."""

    session: Session
    house: House
    address: Address
    taken: Taken
    text: str

    def sort(self, glance: Glance) -> CaseId | None:
        """Decide, and write what was decided."""
        known = candidates(self.session, self.address.id, self.taken.at)
        opted_out = is_opted_out(people.consent_of(self.session, self.address.id))
        if glance.endangered is not None:
            cases.note_phone_now(self.session, glance.endangered, self.taken.at)
        danger = glance.endangered is not None or any(case.state == "danger" for case in known)
        word = self.taken.carrier_word or service_word(
            self.text, opted_out=opted_out, answers=glance.answers, in_danger=danger
        )
        if word is not None:
            self._serve(word, known, opted_out=opted_out)
            if not (word == "stop" and glance.danger):
                return None
            # no more texts, and somebody in danger: the desk has to know of it
            return self._act(choose_case(self.text, known_as_open(known), self.taken.at), known)
        if glance.answers and service_word(self.text, opted_out=opted_out, answers=False) == "stop":
            self._reply("answer_not_stop")
        if not opted_out and self._carried_over(known):
            return None
        held = self._release(known)
        if held is not None:
            return held or None
        return self._act(choose_case(self.text, known_as_open(known), self.taken.at), known)

    def _serve(self, word: ServiceWord, known: Sequence[LiveCase], *, opted_out: bool) -> None:
        language = language_of_word(self.text, self._language())
        people.speak_to_address_in(self.session, self.address.id, language)
        if word != "help":
            said: Literal["opt_in", "opt_out"] = "opt_out" if word == "stop" else "opt_in"
            source = "text" if self.taken.carrier_word is None else "carrier"
            given = ConsentGiven(kind=said, at=self.taken.at, source=source, message_id=self.taken.message_id)
            people.note_consent(self.session, self.address.id, given)
        if word == "stop":
            outbox.withdraw_all_to(self.session, self.address.id)
            for case in known:
                if case.state == "danger":
                    cases.note_phone_now(self.session, case.id, self.taken.at)
        answered = self.taken.carrier_word is not None or plain(self.text) in self.house.carrier_answers
        if answered or (opted_out and word != "start"):  # one confirmation, and nothing more to who opted out
            inbox.set_aside(self.session, self.taken.id, "answered")
            return
        sentence: ThreadSentence = {"stop": "stopped", "start": "started", "help": "help"}[word]  # type: ignore[assignment]  # three of its members
        reply = self._reply(sentence, language=language, despite_optout=word == "stop")
        inbox.set_aside(self.session, self.taken.id, "answered", reply_id=reply)

    def _carried_over(self, known: Sequence[LiveCase]) -> bool:
        """A code that takes a case along to this phone, or a wish to go on at a page."""
        code, running = code_in(self.text), [case for case in known if case.state != "closed"]
        if code is not None and self.house.line is not None:
            return take_along(self.session, self.house, self.taken, self.address.id, code, busy=bool(running))
        if not known or self.house.page is None or not asks_for_page(self.text):
            return False
        shown = code_to_page(self.session, self.house, (running or known)[-1].id, self.taken.at)
        reply = self._reply("code_for_page", page=self.house.page, code=shown)
        inbox.set_aside(self.session, self.taken.id, "answered", reply_id=reply)
        return True

    def _release(self, known: Sequence[LiveCase]) -> CaseId | None:
        """Where a number is held: the case it was for, `""` where we ask again, None where this is about something else."""
        held, offered = self.address.held_inbox_id, self._offered(known)
        if held is None or not offered:
            return None
        chosen = room_offered(self.text, known_as_open(offered))
        if chosen is not None:
            inbox.sort_into(self.session, held, chosen)
            inbox.set_aside(self.session, self.taken.id, "answered", sorts_id=held)
            people.hold_message(self.session, self.address.id, None, ())
            return chosen
        if not is_bare_number(self.text):
            return None
        reply = self._reply("which_room_again", rooms=self._list(offered))
        inbox.set_aside(self.session, self.taken.id, "answered", reply_id=reply)
        return CaseId("")

    def _offered(self, known: Sequence[LiveCase]) -> tuple[LiveCase, ...]:
        by_id = {case.id: case for case in known}
        return tuple(by_id[case] for case in self.address.offered_cases if case in by_id)

    def _act(self, choice: Choice, known: Sequence[LiveCase]) -> CaseId | None:
        match choice:
            case ToCase():
                return self._into(choice.case)
            case NewCase():
                return self._into(self._begin(choice, known))
            case AskWhichRoom():
                offered = [case for case in known if case.id in choice.cases]
                reply = self._reply("which_room", number=self.text.strip(), rooms=self._list(offered))
                people.hold_message(self.session, self.address.id, self.taken.id, choice.cases)
                inbox.set_aside(self.session, self.taken.id, "held", reply_id=reply)
                return None

    def _into(self, case_id: CaseId) -> CaseId:
        kept = cases.find_case(self.session, case_id)
        if kept is not None:
            personal.belongs_to(self.session, personal.MESSAGE, self.taken.message_id, kept.person_id)
        inbox.sort_into(self.session, self.taken.id, case_id)
        return case_id

    def _begin(self, new: NewCase, known: Sequence[LiveCase]) -> CaseId:
        person_id, room_id, before = self._room(new, known)
        if new.name is not None and new.room is None:
            personal.write_text(self.session, personal.ROOM_NAME, room_id, new.name, person_id)
        carried = self.house.conversing.lasting(load_case(self.session, before)[0]) if before else ()
        row = new_case_row(
            self.house,
            sender=self.taken.sender,
            client_id=self.taken.client_id,
            content=self.taken.content_digest,
            person_id=person_id,
            room_id=room_id,
            channel=self.address.channel,
            place=Place(zone=self.address.zone, region=self.address.region),  # type: ignore[arg-type]  # only ours are written
            at=self.taken.at,
            address_id=self.address.id,
            language=people.language_of(self.session, person_id),
            carried=carried,
        )
        cases.add_case(self.session, row)
        return row.id

    def _room(self, new: NewCase, known: Sequence[LiveCase]) -> tuple[str, str, CaseId | None]:
        """Whose room the new case is of, which, and the room's last case."""
        persons = people.persons_of(self.session, self.address.id)
        person_id = cases.find_case(self.session, known[-1].id).person_id if known else persons[0]  # type: ignore[union-attr]  # just listed
        if new.room is not None:
            owner = people.person_of_room(self.session, new.room) or person_id
            return owner, new.room, cases.latest_case_of_room(self.session, new.room)
        rooms = people.rooms_of(self.session, person_id)
        if new.another_room or not rooms:
            return person_id, people.add_room(self.session, person_id), None
        # with several rooms nobody knows which one is meant, so nothing is carried over
        before = cases.latest_case_of_room(self.session, rooms[0]) if len(rooms) == 1 else None
        return person_id, rooms[0], before

    def _list(self, offered: Sequence[LiveCase]) -> str:
        language = self._language()
        words = [room_words(case.room_name, case.room_number, language) for case in offered]
        return ", ".join(f"{number} {word}" for number, word in enumerate(words, start=1))

    def _language(self) -> Language:
        return language_to(self.session, self.address)

    def _reply(
        self,
        sentence: ThreadSentence,
        *,
        language: Language | None = None,
        despite_optout: bool = False,
        **values: str,
    ) -> int:
        return say_outside(
            self.session,
            self.house,
            self.address.id,
            self.taken.message_id,
            sentence,
            self.taken.at,
            language=language,
            despite_optout=despite_optout,
            **values,
        )


def candidates(session: Session, address_id: str, at: datetime) -> tuple[LiveCase, ...]:
    """The cases that a message of the address may belong to."""
    persons = people.persons_of(session, address_id)
    return cases.cases_of_persons(session, persons, at - RESUMES_WITHIN)


def known_as_open(known: Sequence[LiveCase]) -> tuple[OpenCase, ...]:
    """Cases as the thread chooses among them."""
    return tuple(
        OpenCase(
            case=case.id,
            room=case.room_id,
            name=case.room_name,
            state=case.state,
            waits_for_number=case.asks == "number",
            asked_at=case.asked_at,
            last_at=case.last_at,
        )
        for case in known
    )
