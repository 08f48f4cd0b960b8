"""What a colleague at the desk does with a case: one voice at a time, and never past a message they have not seen."""

from datetime import datetime

from sqlalchemy.orm import Session

from assistant.casebook import KeptCase, cases, inbox, personal
from assistant.conversation.happenings import ColleagueTookOver, ColleagueWrote, Happening
from assistant.conversation.ids import ASSISTANT, NOBODY, MessageId
from assistant.helpline.house import House
from assistant.helpline.keys import digest, id_from
from assistant.helpline.settling import Written, happen, settle
from assistant.helpline.taking_in import (
    answer_to,
    case_of,
    check_client_id,
    checked_text,
    refuse_other_content,
)
from assistant.helpline.views import Answer, replies_between
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


def write(
    house: House, case_id: str, colleague: str, text: str, *, seen: int, client_id: str, at: datetime
) -> Answer:
    """A colleague's words, unless the customer wrote something that they have not seen."""
    check_client_id(client_id)
    text = checked_text(house, text)
    settle(house, case_id)
    sender, content = f"colleague:{case_id}", digest(house.key, "content", text)
    with house.casebook.reading() as session:
        case_of(session, case_id)
        before = inbox.find_message(session, sender, client_id)
        if before is not None:
            refuse_other_content(before.content_digest, content)
            return answer_to(session, before.id)
    message_id = MessageId(id_from(house.key, "message", sender, client_id))
    inbox_ids: list[int] = []

    def check(session: Session, kept: KeptCase) -> bool:
        if inbox.find_message(session, sender, client_id) is not None:
            return False
        check_voice(kept, colleague)
        _check_seen(session, kept, seen)
        personal.add_text(session, personal.MESSAGE, message_id, text, kept.person_id)
        taken = inbox.take_in(
            session,
            sender=sender,
            client_id=client_id,
            message_id=message_id,
            content_digest=content,
            at=at,
            case_id=case_id,
            state="answered",
        )
        inbox_ids.append(taken.id)
        return True

    def note(session: Session, written: Written) -> None:
        inbox.note_answer(
            session, inbox_ids[-1], first=written.first, last=written.last, case_state=written.case.state
        )

    happen(
        house,
        case_id,
        ColleagueWrote(at=at, colleague=colleague, message=message_id),
        wanted=check,
        then=note,
    )
    with house.casebook.reading() as session:
        kept_message = inbox.find_message(session, sender, client_id)
        assert kept_message is not None  # noqa: S101 - just written, by us or by the same request before
        return answer_to(session, kept_message.id)


def check_voice(kept: KeptCase, colleague: str) -> None:
    """Fails with `RequestError` unless the colleague holds the floor."""
    if kept.voice != colleague:
        raise RequestError(
            f"{kept.voice} speaks in this case, not {colleague}",
            mend="take the case over first",
            kind="conflict",
        )


def _check_seen(session: Session, kept: KeptCase, seen: int) -> None:
    if kept.heard_sequence > seen or inbox.next_waiting(session, kept.id) is not None:
        raise RequestError(
            "the customer wrote since",
            mend=f"read what came after message {seen}, then send again",
            kind="conflict",
        )


def _nothing_more(_session: Session, _written: Written) -> None:
    """The events say it all."""


def _done(house: House, case_id: str, written: Written | None) -> Answer:
    with house.casebook.reading() as session:
        kept = case_of(session, case_id)
        said = replies_between(session, case_id, written.first, written.last) if written else ()
    return Answer(messages=said, state=kept.state, case=kept.id)
