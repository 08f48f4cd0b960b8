"""A case taken along to a phone and back by a code: once, for ten minutes, with five tries, proved by a text."""

from dataclasses import replace

import pytest

from assistant.casebook import Casebook
from assistant.helpline import Helpline, code_to_phone, open_by_code
from kb.errors import RequestError
from tests.helpline.fakes import NOON, OTHER, TEXAS, Post, after, small_helpline

OURS = "+15125550199"


def with_line(book: Casebook, post: Post | None = None) -> Helpline:
    house = small_helpline(book, post).house
    return Helpline(replace(house, line=OURS, page="https://help.example.org"))


def on_page(helpline: Helpline, text: str = "too warm", client_id: str = "page") -> str:
    return helpline.open_case(client_id=client_id, at=NOON, text=text).case


def text(
    helpline: Helpline, words: str, client_id: str, minutes: float = 1, sender: str = TEXAS
) -> list[str]:
    answer = helpline.receive_from("sms", sender, words, client_id, after(minutes))
    return [message.text for message in answer.messages]


def test_a_code_by_text_takes_the_pages_case_to_the_phone(book: Casebook) -> None:
    post = Post()
    helpline = with_line(book, post)
    case = on_page(helpline)
    shown = code_to_phone(helpline.house, case, NOON)
    assert shown.number == OURS

    said = text(helpline, shown.code, "s1")

    assert "your case goes on here" in said[0]
    assert said[0].endswith("Question 1?")
    assert text(helpline, "yes", "s2", 2) == ["Question 2?"]
    assert [message.text for message in helpline.messages_after(case)][-2:] == ["yes", "Question 2?"]
    assert len(helpline.desk_list()) == 1


def test_nothing_is_sent_before_a_text_proves_the_number(book: Casebook) -> None:
    post = Post()
    helpline = with_line(book, post)
    code_to_phone(helpline.house, on_page(helpline), NOON)
    helpline.run_due(after(60))
    assert post.carried == []


def test_what_is_answered_on_the_page_is_not_texted_but_a_follow_up_is(book: Casebook) -> None:
    post = Post()
    helpline = with_line(book, post)
    case = on_page(helpline)
    text(helpline, code_to_phone(helpline.house, case, NOON).code, "s1")
    helpline.run_due(after(2))
    post.carried.clear()

    helpline.receive(case, None, "ask me later", "m2", after(3))
    helpline.run_due(after(4))
    assert post.texts() == []
    helpline.run_due(after(4 * 60 + 4))
    assert post.texts() == ["How is it now?"]
    helpline.receive(case, None, "fire", "m3", after(4 * 60 + 5))
    helpline.run_due(after(4 * 60 + 6))
    assert post.texts()[-1] == "Everyone out."


def test_a_code_is_good_once_and_for_ten_minutes(book: Casebook) -> None:
    helpline = with_line(book)
    code = code_to_phone(helpline.house, on_page(helpline), NOON).code
    assert "goes on here" in text(helpline, code, "s1")[0]
    assert "wrong or no longer good" in text(helpline, code, "o1", 2, OTHER)[0]

    late = code_to_phone(helpline.house, on_page(helpline, client_id="p2"), NOON).code
    assert "wrong or no longer good" in text(helpline, late, "o2", 10.1, OTHER)[0]


def test_a_new_code_ends_the_old_one(book: Casebook) -> None:
    helpline = with_line(book)
    case = on_page(helpline)
    old = code_to_phone(helpline.house, case, NOON).code
    new = code_to_phone(helpline.house, case, after(1)).code
    assert "wrong" in text(helpline, old, "s1")[0]
    assert "goes on" in text(helpline, new, "s2")[0]


def wrong_codes(right: str, count: int) -> list[str]:
    digits = right.replace(" ", "")
    return [f"{(int(digits) + n) % 1_000_000:06d}" for n in range(1, count + 1)]


def test_after_five_wrong_codes_the_right_one_is_not_taken_either(book: Casebook) -> None:
    helpline = with_line(book)
    right = code_to_phone(helpline.house, on_page(helpline), after(4)).code
    said = [text(helpline, code, f"s{n}", 9.9) for n, code in enumerate(wrong_codes(right, 5))]
    assert all("wrong" in words[0] for words in said)

    assert text(helpline, right, "s9", 10.1) == []  # another stretch of ten minutes has begun
    assert "goes on" in text(helpline, right, "o1", 10.2, OTHER)[0]  # somebody else is not held up


def test_six_digits_in_a_running_case_are_read_there(book: Casebook) -> None:
    helpline = with_line(book)
    text(helpline, "too warm", "s1")
    assert text(helpline, "123456", "s2", 2) == ["Number 2."]
    assert text(helpline, "page", "s3", 3)[0].startswith("To go on at a page: open https://help.example.org")


def test_a_repeated_webhook_with_a_code_gets_the_same_answer(book: Casebook) -> None:
    helpline = with_line(book)
    code = code_to_phone(helpline.house, on_page(helpline), NOON).code
    assert text(helpline, code, "s1") == text(helpline, code, "s1", 3)


def test_a_phone_that_is_known_has_one_person_with_two_rooms_then(book: Casebook) -> None:
    helpline = with_line(book)
    first = helpline.receive_from("sms", TEXAS, "too warm", "s0", NOON).case
    assert first is not None
    case = on_page(helpline)
    text(helpline, code_to_phone(helpline.house, case, NOON).code, "s1")

    assert helpline.person_of(case) == helpline.person_of(first)
    helpline.erase_person(helpline.person_of(first))
    assert all(message.text != "too warm" for message in helpline.messages_after(case))


def page_code(helpline: Helpline, minutes: float = 2, client_id: str = "s2") -> str:
    return text(helpline, "PAGE", client_id, minutes)[0].split("code ")[1][:9]


def test_a_case_goes_from_the_phone_to_a_page(book: Casebook) -> None:
    helpline = with_line(book)
    text(helpline, "too warm", "s1")
    code = page_code(helpline)

    opened = open_by_code(helpline.house, code, "198.51.100.1", after(3))

    helpline.authorise(opened.case, opened.token)
    assert [message.text for message in opened.messages] == ["too warm", "Question 1?"]
    assert helpline.receive(opened.case, None, "yes", "m1", after(4)).messages[0].text == "Question 2?"
    with pytest.raises(RequestError, match="wrong or no longer good"):
        open_by_code(helpline.house, code, "198.51.100.1", after(4))


def test_a_page_has_five_tries_too(book: Casebook) -> None:
    helpline = with_line(book)
    text(helpline, "too warm", "s1")
    code = page_code(helpline)
    for _ in range(5):
        with pytest.raises(RequestError, match="wrong"):
            open_by_code(helpline.house, "0000 0000", "198.51.100.1", after(3))
    with pytest.raises(RequestError, match="too many wrong codes"):
        open_by_code(helpline.house, code, "198.51.100.1", after(3))
    assert open_by_code(helpline.house, code, "198.51.100.2", after(3)).case


def test_guessing_from_many_places_is_as_hopeless(book: Casebook) -> None:
    helpline = with_line(book)
    for place in range(100):
        with pytest.raises(RequestError, match="wrong"):
            open_by_code(helpline.house, "0000 0000", f"198.51.100.{place}", after(3))
    with pytest.raises(RequestError, match="too many"):
        open_by_code(helpline.house, "0000 0000", "203.0.113.1", after(3))


def test_without_a_line_there_is_no_code(book: Casebook) -> None:
    helpline = small_helpline(book)
    with pytest.raises(RequestError, match="no telephone line"):
        code_to_phone(helpline.house, on_page(helpline), NOON)


def test_who_opted_out_takes_nothing_along(book: Casebook) -> None:
    post = Post()
    helpline = with_line(book, post)
    text(helpline, "stop", "s0", 0)
    helpline.run_due(after(0.5))
    post.carried.clear()
    text(helpline, code_to_phone(helpline.house, on_page(helpline), NOON).code, "s1")
    helpline.run_due(after(2))
    assert post.texts() == []
