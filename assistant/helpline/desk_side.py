"""What a colleague at the desk does with a case: one voice at a time, and never past a message they have not seen."""

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy.orm import Session

from assistant.casebook import KeptCase, Taken, cases, inbox, people, personal
from assistant.conversation.happenings import ColleagueSaid, ColleagueTookOver, ColleagueWrote, Happening
from assistant.conversation.ids import ASSISTANT, NOBODY, MessageId
from assistant.helpline.house import House
from assistant.helpline.keys import digest, id_from
from assistant.helpline.settling import Written, happen, settle
from assistant.helpline.taking_in import (
    answer_to,
    case_of,
    check_client_id,
    refuse_other_content,
)
from assistant.helpline.views import Answer, replies_between
from assistant.thread import is_opted_out
from kb.errors import RequestError


def act(house: House, case_id: str, happening: Happening, *, speaking: str | None = None) -> Answer:
    """Let something happen at the desk's word. `speaking`: only while this colleague holds the floor."""
    settle(house, case_id)

    def check(session: Session, kept: KeptCase) -> bool:
        if speaking is not None:
            check_voice(kept, speaking)
        cases.note_phone_now(session, kept.id, None)
        return True

    return _done(house, case_id, happen(house, case_id, happening, wanted=check, then=_nothing_more))


def take_over(house: House, case_id: str, happening: ColleagueTookOver, instead_of: str | None) -> Answer:
    """The colleague speaks from now on; from another colleague only by name, so that nobody is cut off by chance."""
    settle(house, case_id)

    def check(session: Session, kept: KeptCase) -> bool:
        if kept.voice not in (ASSISTANT, NOBODY, happening.colleague, instead_of):
            raise RequestError(
                f"{kept.voice} speaks in this case",
                mend=f"ask them, or take it over in place of {kept.voice}",
                kind="conflict",
            )
        cases.note_phone_now(session, kept.id, None)
        return kept.voice != happening.colleague

    return _done(house, case_id, happen(house, case_id, happening, wanted=check, then=_nothing_more))


def write(house: House, letter: "Letter") -> Answer:
    """A colleague's words, unless the customer wrote something that they have not seen."""
    check_client_id(letter.client_id)
    settle(house, letter.case_id)
    with house.casebook.reading() as session:
        case_of(session, letter.case_id)
        sent = letter.kept_before(session, house)
    if sent is None:
        happen(
            house,
            letter.case_id,
            letter.happening(house),
            wanted=lambda session, kept: letter.keep(session, house, kept),
            then=lambda session, written: letter.note(session, house, written),
        )
    with house.casebook.reading() as session:
        sent = letter.kept_before(session, house)
        assert sent is not None  # noqa: S101 - just written, by us or by the same request before
        return answer_to(session, sent.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class Letter:
    """What a colleague wants to send: words of their own, or a sentence of ours by its id."""

    case_id: str
    colleague: str
    text: str
    seen: int
    """The last message that they saw."""
    client_id: str
    at: datetime
    by_id: bool = False
    """`text` is a sentence's id."""

    def happening(self, house: House) -> ColleagueWrote | ColleagueSaid:
        """What happens to the case when it is sent."""
        if self.by_id:
            return ColleagueSaid(at=self.at, colleague=self.colleague, sentence=self.text)
        return ColleagueWrote(at=self.at, colleague=self.colleague, message=self.message(house))

    def message(self, house: House) -> MessageId:
        """The id under which its words stand beside the log."""
        return MessageId(id_from(house.key, "message", self._sender, self.client_id))

    def kept_before(self, session: Session, house: House) -> Taken | None:
        """The very letter, where it came before. Fails with `RequestError` when it said something else then."""
        before = inbox.find_message(session, self._sender, self.client_id)
        if before is not None:
            refuse_other_content(before.content_digest, self._content(house))
        return before

    def keep(self, session: Session, house: House, kept: KeptCase) -> bool:
        """Keep it in the transaction that sends it; false: it was sent meanwhile. Fails with `RequestError`."""
        if self.kept_before(session, house) is not None:
            return False
        check_voice(kept, self.colleague)
        self._check_seen(session, kept)
        if kept.address_id and is_opted_out(people.consent_of(session, kept.address_id)):
            raise RequestError(
                "they opted out of texts, and this would be one", mend="telephone them", kind="conflict"
            )
        if not self.by_id:
            personal.add_text(session, personal.MESSAGE, self.message(house), self.text, kept.person_id)
        inbox.take_in(
            session,
            sender=self._sender,
            client_id=self.client_id,
            message_id=self.message(house),
            content_digest=self._content(house),
            at=self.at,
            case_id=self.case_id,
            state="answered",
        )
        return True

    def note(self, session: Session, house: House, written: Written) -> None:
        """Note its place in the log."""
        sent = self.kept_before(session, house)
        assert sent is not None  # noqa: S101 - `keep` stands in the same transaction
        inbox.note_answer(
            session, sent.id, first=written.first, last=written.last, case_state=written.case.state
        )

    @property
    def _sender(self) -> str:
        return f"colleague:{self.case_id}"

    def _content(self, house: House) -> str:
        return digest(house.key, "sentence" if self.by_id else "content", self.text)

    def _check_seen(self, session: Session, kept: KeptCase) -> None:
        if kept.heard_sequence > self.seen or inbox.next_waiting(session, kept.id) is not None:
            raise RequestError(
                "the customer wrote since",
                mend=f"read what came after message {self.seen}, then send again",
                kind="conflict",
            )


def check_voice(kept: KeptCase, colleague: str) -> None:
    """Fails with `RequestError` unless the colleague holds the floor."""
    if kept.voice != colleague:
        raise RequestError(
            f"{kept.voice} speaks in this case, not {colleague}",
            mend="take the case over first",
            kind="conflict",
        )


def _nothing_more(_session: Session, _written: Written) -> None:
    """The events say it all."""


def _done(house: House, case_id: str, written: Written | None) -> Answer:
    with house.casebook.reading() as session:
        kept = case_of(session, case_id)
        said = replies_between(session, case_id, written.first, written.last) if written else ()
    return Answer(messages=said, state=kept.state, case=kept.id)
