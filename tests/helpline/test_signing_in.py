"""The desk's door: who comes in, for how long, and how often a wrong password is looked at."""

from datetime import timedelta

import pytest
from argon2 import PasswordHasher

from assistant.casebook import Casebook, staff
from assistant.helpline import Door
from kb.errors import RequestError
from tests.helpline.fakes import NOON, after

QUICK = PasswordHasher(time_cost=1, memory_cost=8, parallelism=1)
GOOD = "a long enough one"


@pytest.fixture
def door(book: Casebook) -> Door:
    door = Door(book, QUICK)
    door.add("Robin", "desk", GOOD, NOON)
    return door


def test_who_signs_in_is_known_until_the_shift_ends(door: Door) -> None:
    key = door.sign_in("Robin", GOOD, NOON)

    for hour in range(12):
        found = door.who(key, NOON + timedelta(hours=hour))
        assert found is not None
        assert (found.name, found.role) == ("Robin", "desk")
    assert door.who(key, NOON + timedelta(hours=12, minutes=1)) is None
    assert door.who(key, NOON) is None  # ended, not only late


def test_a_desk_left_alone_is_signed_out(door: Door) -> None:
    key = door.sign_in("Robin", GOOD, NOON)
    assert door.who(key, after(61)) is None


def test_signing_out_ends_it(door: Door) -> None:
    key = door.sign_in("Robin", GOOD, NOON)
    door.sign_out(key)
    assert door.who(key, after(1)) is None


@pytest.mark.parametrize(("name", "password"), [("Robin", "wrong"), ("Nobody", GOOD), ("", "")])
def test_what_was_wrong_is_not_told(door: Door, name: str, password: str) -> None:
    with pytest.raises(RequestError, match="do not go together"):
        door.sign_in(name, password, NOON)


def test_after_five_wrong_passwords_even_the_right_one_waits(door: Door) -> None:
    for _ in range(5):
        with pytest.raises(RequestError, match="do not go together"):
            door.sign_in("Robin", "wrong", NOON)

    with pytest.raises(RequestError, match="too many"):
        door.sign_in("Robin", GOOD, after(0.5))
    assert door.sign_in("Robin", GOOD, after(2))


def test_a_new_password_ends_what_the_old_one_opened(door: Door) -> None:
    key = door.sign_in("Robin", GOOD, NOON)
    door.add("Robin", "lead", "another long one", after(1))

    assert door.who(key, after(2)) is None
    with pytest.raises(RequestError):
        door.sign_in("Robin", GOOD, after(2))
    assert door.sign_in("Robin", "another long one", after(2))


@pytest.mark.parametrize(
    ("name", "password"), [("", GOOD), ("assistant", GOOD), ("x" * 41, GOOD), ("Kim", "short")]
)
def test_what_is_no_name_or_no_password_is_refused(door: Door, name: str, password: str) -> None:
    with pytest.raises(RequestError):
        door.add(name, "desk", password, NOON)


def test_nothing_in_the_book_opens_the_door(door: Door, book: Casebook) -> None:
    """Neither the password nor a session's key stands in the database."""
    key = door.sign_in("Robin", GOOD, NOON)
    with book.reading() as session:
        kept = staff.find_colleague(session, "Robin")
        assert kept is not None
        assert GOOD not in kept.secret_hash
        assert kept.secret_hash.startswith("$argon2id$")
        assert staff.find_session(session, key) is None
