"""A case taken along from a page to a phone, or back, by a short code.

To a phone: the page shows the code, and a text from the phone proves whose it is; nothing is ever sent to a number that
was merely typed. To a page: the phone is sent the code. A code is good once, for ten minutes; five wrong ones in
that time, from one phone or one network address, and no other is taken.
"""

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from sqlalchemy.orm import Session

from assistant.casebook import KeptCase, Taken, cases, codes, inbox, load_case, meters, people
from assistant.casebook.codes import To
from assistant.conversation.ids import CaseId
from assistant.helpline.house import House
from assistant.helpline.keys import derived, digest, token_for
from assistant.helpline.outside import say_outside
from assistant.helpline.taking_in import case_of, once_more
from assistant.helpline.views import Opening, messages_between
from assistant.thread import ConsentGiven
from kb.errors import RequestError

GOOD_FOR: Final = timedelta(minutes=10)
MOST_TRIES: Final = 5
MOST_TRIES_ALL: Final = 100
"""Wrong codes from everywhere in ten minutes: guessing from many places stays as hopeless as from one."""
DIGITS: Final[dict[To, int]] = {"phone": 6, "page": 8}
"""A phone's number stands behind each of its tries; a page can be asked by anybody, so its code is longer."""
SHORT_ENOUGH: Final = 160


@dataclass(frozen=True, slots=True, kw_only=True)
class CodeShown:
    """A code as a page shows it."""

    code: str
    number: str
    """Our telephone number, to which it is to be texted."""
    until: datetime


def code_to_phone(house: House, case: str, at: datetime) -> CodeShown:
    """A code for a case's page. Fails with `RequestError` where there is no telephone line, or too many were asked for."""
    if house.line is None:
        raise RequestError("there is no telephone line here", mend="go on at the page", kind="not_found")
    number = house.line

    def make() -> CodeShown:
        with house.casebook.writing() as session:
            kept = case_of(session, case)
            made = meters.count(session, f"code made:{case}", meters.stretch_of(at, GOOD_FOR))
            if made > MOST_TRIES:
                raise RequestError(
                    "too many codes were asked for", mend="wait ten minutes", kind="too_many", again_in_s=600
                )
            code = _new_code(session, house, "phone", kept.id, at)
        return CodeShown(code=f"{code[:3]} {code[3:]}", number=number, until=at + GOOD_FOR)

    return once_more(make)


def code_to_page(session: Session, house: House, case_id: CaseId, at: datetime) -> str:
    """A code for a case's phone, as it is read off."""
    code = _new_code(session, house, "page", case_id, at)
    return f"{code[:4]} {code[4:]}"


def open_by_code(house: House, code: str, who: str | None, at: datetime) -> Opening:
    """The case that a code carries to a page. Fails with `RequestError`: `not_found`, `too_many`."""
    given, from_where = "".join(code.split()), digest(house.key, "network", who or "")

    def use() -> tuple[CaseId | None, bool]:
        with house.casebook.writing() as session:
            if _tried_out(session, from_where, at):
                return None, True
            found = codes.use_code(session, _digest(house, "page", given), "page", at)
            if found is None:
                _count_wrong(session, from_where, at)
            return found, False

    case_id, tried_out = once_more(use)
    if tried_out:
        raise RequestError(
            "too many wrong codes",
            mend="wait ten minutes, then text PAGE for a new one",
            kind="too_many",
            again_in_s=600,
        )
    if case_id is None:
        raise RequestError(
            "that code is wrong or no longer good", mend="text PAGE to get a new one", kind="not_found"
        )
    with house.casebook.reading() as session:
        kept = case_of(session, case_id)
        said = messages_between(session, case_id, 0)
    return Opening(case=kept.id, token=token_for(house.key, case_id), messages=said, state=kept.state)


def take_along(
    session: Session, house: House, taken: Taken, address_id: str, code: str, *, busy: bool
) -> bool:
    """A text with a code from a phone: the case goes on there. False: it is no code of ours, and may be read.

    `busy`: the phone has a running case, in which six digits may be something else.
    """
    at = taken.at
    if _tried_out(session, address_id, at):
        if not busy:
            inbox.set_aside(session, taken.id, "answered")
        return not busy
    case_id = codes.use_code(session, _digest(house, "phone", code), "phone", at)
    if case_id is None:
        if busy:
            return False
        _count_wrong(session, address_id, at)
        reply = say_outside(session, house, address_id, taken.message_id, "code_wrong", at)
        inbox.set_aside(session, taken.id, "answered", reply_id=reply)
        return True
    kept = case_of(session, case_id)
    _join(session, kept, address_id)
    given = ConsentGiven(kind="opt_in", at=at, source="code", scope="follow_up", message_id=taken.message_id)
    people.note_consent(session, address_id, given)
    reply = say_outside(
        session, house, address_id, taken.message_id, "taken_along", at,
        language=kept.language or people.language_of(session, kept.person_id), question=_question(session, case_id),
    )  # fmt: skip
    inbox.set_aside(session, taken.id, "answered", reply_id=reply)
    return True


def _join(session: Session, kept: KeptCase, address_id: str) -> None:
    """The page's person is the phone's, unless several share the phone: then they are one more of them."""
    persons = people.persons_of(session, address_id)
    if len(persons) == 1 and kept.person_id != persons[0] and kept.address_id is None:
        people.set_language(session, persons[0], people.language_of(session, kept.person_id))
        people.merge(session, kept.person_id, persons[0])
    else:
        people.link(session, kept.person_id, address_id)
    cases.speak_over(session, kept.id, address_id)


def _question(session: Session, case_id: CaseId) -> str:
    """The open question once more, where it is short."""
    case, _ = load_case(session, case_id)
    said = [text for _, text in case.said if text]
    return said[-1] if case.waiting_for is not None and said and len(said[-1]) <= SHORT_ENOUGH else ""


def _new_code(session: Session, house: House, to: To, case_id: CaseId, at: datetime) -> str:
    """A code that nobody can guess without the server's key, and that no other case has just now."""
    for nth in range(MOST_TRIES_ALL):
        number = int.from_bytes(derived(house.key, "code", to, case_id, at.isoformat(), str(nth))[:8], "big")
        code = f"{number % 10 ** DIGITS[to]:0{DIGITS[to]}d}"
        if codes.keep_code(session, _digest(house, to, code), to, case_id, at + GOOD_FOR, at):
            return code
    msg = f"{MOST_TRIES_ALL} codes in a row belong to other cases"
    raise ValueError(msg)


def _digest(house: House, to: To, code: str) -> str:
    return digest(house.key, "code", to, code)


def _tried_out(session: Session, who: str, at: datetime) -> bool:
    """Too many wrong ones in this stretch of ten minutes and the one before it: a code lives across two."""
    now = meters.stretch_of(at, GOOD_FOR)
    for name, most in ((f"wrong code:{who}", MOST_TRIES), ("wrong code", MOST_TRIES_ALL)):
        wrong = sum(meters.counted(session, name, since) for since in (now, now - GOOD_FOR))
        if wrong >= most:
            return True
    return False


def _count_wrong(session: Session, who: str, at: datetime) -> None:
    since = meters.stretch_of(at, GOOD_FOR)
    meters.count(session, f"wrong code:{who}", since)
    meters.count(session, "wrong code", since)
