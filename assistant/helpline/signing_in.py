"""Who is at the desk: passwords, sessions that end, and who did what."""

import base64
import secrets
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import lru_cache
from typing import Final, Literal

from argon2 import PasswordHasher
from argon2.exceptions import VerificationError

from assistant.casebook import Casebook, staff
from assistant.casebook.staff import Deed, SignedIn
from assistant.conversation.ids import ASSISTANT, NOBODY
from assistant.helpline.keys import token_hash
from kb.errors import RequestError

Role = Literal["desk", "author", "lead"]
IDLE: Final = timedelta(hours=1)
LONGEST: Final = timedelta(hours=12)
"""A shift; after it everybody signs in again."""
SEEN_EVERY: Final = timedelta(minutes=1)
SHORTEST_PASSWORD: Final = 12
LOOKED: Final = "looked"
ONE_LOOK: Final = timedelta(minutes=30)
LONGEST_NAME: Final = 40
FREE_TRIES: Final = 5
"""Wrong passwords before the next ones have to wait, twice as long each time."""
FIRST_SHUT: Final = timedelta(minutes=1)
LONGEST_SHUT: Final = timedelta(minutes=30)
WRONG: Final = RequestError(
    "name and password do not go together", mend="try again, or ask for a reset", kind="forbidden"
)


@dataclass(frozen=True, slots=True)
class Door:
    """The desk's door. `hasher` is argon2 at the library's defaults; tests take a quicker one."""

    casebook: Casebook
    hasher: PasswordHasher

    def add(self, name: str, role: Role, password: str, at: datetime) -> None:
        """Let somebody in from now on, or give them a new password. Fails with `RequestError`."""
        name = name.strip()
        if not name or len(name) > LONGEST_NAME or name in (ASSISTANT, NOBODY):
            raise RequestError("no name for a colleague", mend=f"give one of 1 to {LONGEST_NAME} characters")
        if len(password) < SHORTEST_PASSWORD:
            raise RequestError(
                "the password is too short", mend=f"take at least {SHORTEST_PASSWORD} characters"
            )
        with self.casebook.writing() as session:
            staff.put_colleague(session, name, role, self.hasher.hash(password), at)

    def sign_in(self, name: str, password: str, at: datetime) -> str:
        """The key of a new session. Fails with `RequestError`, in the same words whatever was wrong."""
        with self.casebook.reading() as session:
            known = staff.find_colleague(session, name.strip())
        if known is not None and known.shut_until is not None and at < known.shut_until:
            raise RequestError(
                "too many wrong passwords", mend="wait a while, or ask for a reset", kind="forbidden"
            )
        right = self._verify(known.secret_hash if known else _nobodys(self.hasher), password)
        if known is None:
            raise WRONG
        if not right:
            with self.casebook.writing() as session:
                failures = known.failures + 1
                staff.note_failures(session, known.name, failures, _shut_until(failures, at))
            raise WRONG
        key = secrets.token_urlsafe(32)
        with self.casebook.writing() as session:
            staff.note_failures(session, known.name, 0, None)
            staff.open_session(session, token_hash(key), known.name, at)
            staff.note_deed(session, Deed(at=at, name=known.name, deed="signed in", case_id=None))
        return key

    def who(self, key: str, at: datetime) -> SignedIn | None:
        """Who stands behind a session's key; None once it has ended."""
        hashed = token_hash(key)
        with self.casebook.reading() as session:
            found = staff.find_session(session, hashed)
        if found is None:
            return None
        if at - found.seen_at > IDLE or at - found.since > LONGEST:
            with self.casebook.writing() as session:
                staff.end_session(session, hashed)
            return None
        if at - found.seen_at > SEEN_EVERY:
            with self.casebook.writing() as session:
                staff.note_seen(session, hashed, at)
        return found

    def sign_out(self, key: str) -> None:
        """End a session."""
        with self.casebook.writing() as session:
            staff.end_session(session, token_hash(key))

    def note(self, name: str, deed: str, case_id: str | None, at: datetime) -> None:
        """Write down who looked at or did what."""
        with self.casebook.writing() as session:
            staff.note_deed(session, Deed(at=at, name=name, deed=deed, case_id=case_id))

    def note_look(self, name: str, case_id: str, at: datetime) -> None:
        """Write down that somebody looked at a case; a page left open looks again and again, and counts once."""
        with self.casebook.reading() as session:
            before = staff.deeds(session, case_id)
        if any(deed.name == name and deed.deed == LOOKED and at - deed.at < ONE_LOOK for deed in before):
            return
        self.note(name, LOOKED, case_id, at)

    def _verify(self, kept: str, password: str) -> bool:
        try:
            return bool(self.hasher.verify(kept, password))
        except VerificationError:
            return False


@lru_cache(maxsize=4)
def _nobodys(hasher: PasswordHasher) -> str:
    """A hash that nothing fits: an unknown name takes as long as a wrong password."""
    return hasher.hash(base64.b64encode(secrets.token_bytes(24)).decode())


def _shut_until(failures: int, at: datetime) -> datetime | None:
    if failures < FREE_TRIES:
        return None
    longer: int = 2 ** min(failures - FREE_TRIES, 10)
    return at + min(FIRST_SHUT * longer, LONGEST_SHUT)
