"""Limits: what is too much is answered once, in words; a danger passes all of them."""

from dataclasses import replace

import pytest

from assistant.casebook import Casebook
from assistant.helpline import Editions, Helpline, Limits, figures_of
from kb.errors import RequestError
from tests.helpline.fakes import NOON, OTHER, TEXAS, Post, after, small_helpline

LONDON = "+447400123456"
"""A valid mobile number by the United Kingdom's numbering plan (Ofcom); only its shape matters."""


def limited(book: Casebook, post: Post | None = None, **limits: object) -> Helpline:
    house = small_helpline(book, post).house
    conversing = replace(house.conversing, endangers=lambda text: "fire" in text)
    return Helpline(replace(house, editions=Editions(conversing), limits=replace(Limits(), **limits)))  # type: ignore[arg-type]  # names of fields


def send_many(
    helpline: Helpline, count: int, first: int = 1, minutes: float = 0, sender: str = TEXAS
) -> list[str]:
    answers = [
        helpline.receive_from("sms", sender, "too warm", f"s{number}", after(minutes))
        for number in range(first, first + count)
    ]
    return [message.text for answer in answers for message in answer.messages]


def test_too_many_texts_are_told_so_once_and_read_again_later(book: Casebook) -> None:
    post = Post()
    helpline = limited(book, post, texts_a_quarter=3)

    said = send_many(helpline, 6)

    assert [text[:8] for text in said] == ["Question", "Question", "Question", "That is "]
    assert send_many(helpline, 1, first=7, minutes=15.1)[0].startswith("Question 4")
    helpline.run_due(after(16))
    assert sum("more texts than" in text for text in post.texts()) == 1


def test_the_same_text_again_is_not_counted_and_gets_the_same(book: Casebook) -> None:
    helpline = limited(book, texts_a_quarter=1)
    send_many(helpline, 1)
    told = send_many(helpline, 1, first=2)

    assert "more texts than" in told[0]
    assert send_many(helpline, 1, first=2) == told
    assert send_many(helpline, 1) == ["Question 1?"]


def test_a_danger_and_a_stop_pass_the_limit(book: Casebook) -> None:
    helpline = limited(book, texts_a_quarter=1)
    send_many(helpline, 3)

    fire = helpline.receive_from("sms", TEXAS, "fire", "f", NOON)
    assert fire.messages[0].text == "Everyone out."
    helpline.receive_from("sms", TEXAS, "STOP", "x", NOON)
    assert helpline.desk_list()[0].no_texts


def test_a_flood_is_not_even_kept(book: Casebook) -> None:
    helpline = limited(book, texts_a_quarter=1)
    send_many(helpline, 5)
    with pytest.raises(RequestError, match="far too many"):
        send_many(helpline, 1, first=6)
    assert helpline.receive_from("sms", OTHER, "too warm", "o1", NOON).messages  # nobody else is held up


def test_too_long_a_text_is_told_so_once_a_day(book: Casebook) -> None:
    house = limited(book).house
    helpline = Helpline(replace(house, longest_text=160))
    answers = [helpline.receive_from("sms", TEXAS, "x" * 161, f"s{n}", NOON) for n in range(2)]
    assert [len(answer.messages) for answer in answers] == [1, 0]
    assert "too long" in answers[0].messages[0].text
    fire = helpline.receive_from("sms", TEXAS, "fire " + "x" * 161, "f", NOON)
    assert fire.messages[0].text == "Everyone out."


def test_numbers_elsewhere_are_told_once_and_few_of_them(book: Casebook) -> None:
    post = Post()
    helpline = limited(book, post)
    for number in range(25):
        send_many(helpline, 2, first=2 * number, sender=f"+4474001234{number:02}")
    helpline.run_due(after(1))

    assert len(post.texts()) == 20
    assert all("cannot text to numbers in your country" in text for text in post.texts())
    assert helpline.desk_list() == ()


def test_a_danger_from_elsewhere_has_the_desk_telephone(book: Casebook) -> None:
    post = Post()
    helpline = limited(book, post)
    helpline.receive_from("sms", LONDON, "fire", "f", NOON)
    helpline.run_due(after(1))

    assert post.texts() == []
    assert helpline.desk_list()[0].phone_now


def test_a_place_can_be_a_country_or_the_beginning_of_a_number(book: Casebook) -> None:
    assert send_many(limited(book, places=("GB",)), 1, sender=LONDON) == ["Question 1?"]
    assert send_many(limited(book, places=("+4474",)), 1, first=9, sender=LONDON) == ["Question 2?"]


@pytest.mark.parametrize("limit", [{"parts_a_day": 2}, {"parts_a_day_each": 2}])
def test_the_daily_cap_holds_and_says_so_once_but_not_in_danger(
    book: Casebook, limit: dict[str, int]
) -> None:
    post = Post()
    helpline = limited(book, post, **limit)
    send_many(helpline, 5)
    helpline.run_due(after(1))
    helpline.run_due(after(2))

    assert [text[:10] for text in post.texts()] == ["Question 1", "Question 2", "Cold room "]
    assert "no more" not in post.texts()[2]
    assert helpline.desk_list()[0].needs_since is not None
    helpline.receive_from("sms", TEXAS, "fire", "f", after(3))
    helpline.run_due(after(4))
    assert post.texts()[-1] == "Everyone out."
    send_many(helpline, 1, first=9, minutes=24 * 60)
    helpline.take_over(helpline.desk_list()[0].case, "Ana", after(24 * 60 + 1))


def test_processes_share_one_count(book: Casebook) -> None:
    one, other = limited(book, texts_a_quarter=2), limited(book, texts_a_quarter=2)
    send_many(one, 1)
    send_many(other, 1, first=2)
    assert "more texts than" in send_many(one, 1, first=3)[0]


@pytest.mark.parametrize("what", ["message", "case"])
def test_a_network_address_is_limited_and_told_when_to_come_again(book: Casebook, what: str) -> None:
    helpline = limited(book, page_messages_a_quarter=2, page_cases_an_hour=2)

    def admit(who: str) -> None:
        helpline.admit(what, who, after(5))  # type: ignore[arg-type]  # one of the two

    admit("198.51.100.1")
    admit("198.51.100.1")
    with pytest.raises(RequestError) as refused:
        admit("198.51.100.1")
    assert refused.value.again_in_s == (10 * 60 if what == "message" else 55 * 60)
    admit("198.51.100.2")
    helpline.admit(what, "198.51.100.1", after(65))  # type: ignore[arg-type]  # one of the two


def test_the_figures_tell_of_all_this(book: Casebook) -> None:
    helpline = limited(book, Post(), texts_a_quarter=2)
    send_many(helpline, 4)
    helpline.run_due(after(1))
    found = {figure.name: dict(figure.samples) for figure in figures_of(helpline.house, after(1))}
    assert found["helpline_messages"][(("state", "turned_away:too_many"),)] == 2
    assert found["helpline_sms_parts"][()] == 4  # two questions of one part, one notice of two
    assert found["helpline_texts"][(("state", "sent"), ("why", ""))] == 3
