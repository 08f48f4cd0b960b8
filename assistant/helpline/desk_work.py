"""What a colleague does beyond talking: sentences by id, promised hours, closing, one reply to many, the shift."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from sqlalchemy.orm import Session

from assistant.casebook import KeptCase, load_case, people, personal, staff
from assistant.casebook.personal import CLOSING, PLACE
from assistant.conversation.happenings import (
    ColleagueClosed,
    ColleagueHandedBack,
    ColleaguePromised,
    ColleagueTookOver,
)
from assistant.conversation.ids import ASSISTANT, NOBODY
from assistant.helpline import desk_side
from assistant.helpline.desk_side import Letter
from assistant.helpline.house import House
from assistant.helpline.keys import id_from
from assistant.helpline.settling import Written, happen, settle
from assistant.helpline.taking_in import case_of, check_client_id, checked_text
from assistant.helpline.views import Answer
from assistant.thread import is_opted_out
from kb.errors import RequestError
from kb.ids import Language

ASKED_AFTER_DAYS: Final = (1, 3, 7)
"""When we may ask whether it held; later than two weeks a text opens a new case."""
FARTHEST_PROMISE: Final = timedelta(days=14)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ending:
    """How a colleague closes a case."""

    cause: str | None = None
    new_cause: str = ""
    """In their words, where the knowledge lists none."""
    fix: str | None = None
    mended_by: str = ""
    """In their words, where the knowledge lists none."""
    held: bool | None = None
    ask_after_days: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Sending:
    """One reply to many: words by language, or one sentence by its id."""

    words: dict[Language, str]
    sentence: str | None
    keep: bool
    """The colleague goes on speaking in the cases; else the assistant does."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reached:
    """What became of a reply to many in one case: `why_not` is empty where it went out."""

    case: str
    why_not: str
    by: str | None = None
    """Who speaks there, where that is why."""


@dataclass(frozen=True, slots=True)
class DeskWork:
    """The desk's own deeds over a helpline."""

    house: House

    def say(
        self, case: str, colleague: str, sentence: str, *, seen: int, client_id: str, at: datetime
    ) -> Answer:
        """Send a sentence of ours by its id. Fails with `RequestError` on an unknown one, and as `write` does."""
        if sentence not in self.house.conversing.sentences.get("en", {}):
            raise RequestError(f"no sentence {sentence[:60]!r}", mend="choose one of the list")
        letter = Letter(
            case_id=case,
            colleague=colleague,
            text=sentence,
            seen=seen,
            client_id=client_id,
            at=at,
            by_id=True,
        )
        return desk_side.write(self.house, letter)

    def promise(self, case: str, colleague: str, due: datetime, at: datetime, *, tell: bool) -> Answer:
        """Be back at an hour: it stands in the queue, and the desk is called when it passes unkept.

        Only who speaks in the case promises; with `tell` the customer is told. Fails with `RequestError`.
        """
        if not at < due <= at + FARTHEST_PROMISE:
            raise RequestError(
                "an hour that cannot be promised", mend="choose one that is to come, within two weeks"
            )
        with self.house.casebook.reading() as session:
            if case_of(session, case).state == "closed":
                raise RequestError(
                    "the case is closed", mend="nothing more is promised in it", kind="conflict"
                )
        happening = ColleaguePromised(at=at, colleague=colleague, due=due, tell=tell)
        return desk_side.act(self.house, case, happening, speaking=colleague)

    def close(self, case: str, colleague: str, ending: Ending, at: datetime) -> Answer:
        """The case is over: what was wrong, what mended it, whether it held, and when to ask. Fails with `RequestError`."""
        self._check(ending)
        words = "\n".join(filter(None, (ending.new_cause.strip(), ending.mended_by.strip())))
        with self.house.casebook.writing() as session:
            kept = case_of(session, case)
            if kept.state == "closed":
                raise RequestError("the case is closed already", mend="look at how it ended", kind="conflict")
            if words:
                checked = checked_text(self.house, words)
                personal.write_text(session, CLOSING, case, checked, kept.person_id)
        days = ending.ask_after_days
        happening = ColleagueClosed(
            at=at,
            colleague=colleague,
            cause=ending.cause,
            is_new=bool(ending.new_cause.strip()),
            fix=ending.fix,
            held=ending.held,
            ask_at=None if days is None else at + timedelta(days=days),
        )
        return desk_side.act(self.house, case, happening)

    def place(self, case: str, place: str) -> None:
        """Where the room of a case is, as its people call the place."""
        with self.house.casebook.writing() as session:
            kept = case_of(session, case)
            personal.write_text(session, PLACE, kept.room_id, checked_text(self.house, place), kept.person_id)

    def reply_to_many(
        self, seen: Sequence[tuple[str, int]], colleague: str, sending: Sending, client_id: str, at: datetime
    ) -> tuple[Reached, ...]:
        """One reply to each of many cases, each checked for itself; who did not get it, and why.

        `seen`: each case with the last message of it that the colleague saw.
        """
        check_client_id(client_id)
        return tuple(
            self._reply(case, last, colleague, sending, f"{client_id}:{case}", at) for case, last in seen
        )

    def hand_over_shift(
        self, notes: Sequence[tuple[str, str]], colleague: str, to: str, client_id: str, at: datetime
    ) -> int:
        """Another colleague speaks in these cases from now on, each with its note; how many. Fails with `RequestError`."""
        with self.house.casebook.reading() as session:
            if to == colleague or staff.find_colleague(session, to) is None:
                raise RequestError(
                    f"nobody here is called {to[:40]!r}", mend="choose a colleague of the list"
                )
        return sum(self._hand_on(case, note, colleague, to, client_id, at) for case, note in notes)

    # -- how -------------------------------------------------------------------------------------------------------

    def _check(self, ending: Ending) -> None:
        conversing = self.house.conversing
        if ending.cause is not None and ending.new_cause.strip():
            raise RequestError("two causes at once", mend="choose one of the list, or write a new one")
        if ending.cause is not None and conversing.causes and ending.cause not in conversing.causes["en"]:
            raise RequestError(
                f"no cause {ending.cause[:60]!r}", mend="choose one of the list, or write a new one"
            )
        if ending.fix is not None and conversing.fixes and ending.fix not in conversing.fixes["en"]:
            raise RequestError(
                f"no fix {ending.fix[:60]!r}", mend="choose one of the list, or write it in words"
            )
        if ending.ask_after_days is not None and ending.ask_after_days not in ASKED_AFTER_DAYS:
            raise RequestError("no day to ask on", mend=f"choose one of {ASKED_AFTER_DAYS} days")

    def _reply(
        self, case: str, seen: int, colleague: str, sending: Sending, client_id: str, at: datetime
    ) -> Reached:
        with self.house.casebook.reading() as session:
            kept = case_of(session, case)
            language = load_case(session, case)[0].language or kept.language or "en"
            why_not = _why_not(session, kept, colleague)
        text = sending.sentence or sending.words.get(language, "").strip()
        if why_not or not text:
            return Reached(case=case, why_not=why_not or "no_words", by=kept.voice)
        letter = Letter(
            case_id=case, colleague=colleague, text=text, seen=seen, client_id=client_id, at=at,
            by_id=sending.sentence is not None,
        )  # fmt: skip
        try:
            if kept.heard_sequence > seen:
                return Reached(case=case, why_not="wrote_since")
            desk_side.take_over(self.house, case, ColleagueTookOver(at=at, colleague=colleague), None)
            desk_side.write(self.house, letter)
        except RequestError as refused:
            return Reached(case=case, why_not="wrote_since" if "since" in refused.what else "spoken_for")
        if not sending.keep:
            desk_side.act(self.house, case, ColleagueHandedBack(at=at, colleague=colleague))
        return Reached(case=case, why_not="")

    def _hand_on(self, case: str, note: str, colleague: str, to: str, client_id: str, at: datetime) -> bool:
        settle(self.house, case)

        def still_theirs(session: Session, kept: KeptCase) -> bool:
            if kept.voice != colleague:
                return False
            if note.strip():
                text_id = id_from(self.house.key, "aside", case, client_id)
                words = checked_text(self.house, f"→ {to}: {note.strip()}")
                staff.add_aside(session, case, colleague, words, text_id, kept.person_id, at)
            return True

        handed = happen(
            self.house, case, ColleagueTookOver(at=at, colleague=to), wanted=still_theirs, then=_nothing_more
        )
        return handed is not None


def _why_not(session: Session, kept: KeptCase, colleague: str) -> str:
    """Why a reply to many may not go to this case; empty where it may."""
    if kept.state == "closed":
        return "closed"
    if kept.state == "danger":
        return "danger"
    if kept.voice not in (ASSISTANT, NOBODY, colleague):
        return "spoken_for"
    if kept.channel == "call":
        return "telephone"
    if kept.address_id is not None:
        if is_opted_out(people.consent_of(session, kept.address_id)):
            return "opted_out"
        if people.is_unreachable(session, kept.address_id):
            return "unreachable"
    return ""


def _nothing_more(_session: Session, _written: Written) -> None:
    """The events say it all."""
