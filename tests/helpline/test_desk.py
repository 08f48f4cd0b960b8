import pytest

from assistant.casebook import Casebook, cases
from kb.errors import RequestError
from tests.helpline.fakes import NOON, OTHER, TEXAS, Post, after, small_helpline


def test_taking_over_withdraws_what_the_assistant_had_not_yet_sent(book: Casebook) -> None:
    post = Post()
    helpline = small_helpline(book, post)
    case = helpline.receive_from("sms", TEXAS, "too warm", "s1", NOON).case
    assert case is not None

    helpline.take_over(case, "Ana", after(1))
    helpline.run_due(after(2))

    assert post.texts() == []
    assert [message.from_ for message in helpline.messages_after(case)] == ["customer"]


def test_a_danger_goes_out_whoever_speaks(book: Casebook) -> None:
    post = Post()
    helpline = small_helpline(book, post)
    case = helpline.receive_from("sms", TEXAS, "fire", "s1", NOON).case
    assert case is not None

    helpline.take_over(case, "Ana", after(1))
    helpline.receive_from("sms", TEXAS, "more fire", "s2", after(2))
    helpline.run_due(after(3))

    assert post.texts() == ["Everyone out.", "Everyone out."]


def test_under_a_colleague_the_assistant_reads_on_and_is_silent(book: Casebook) -> None:
    helpline = small_helpline(book)
    case = helpline.open_case(client_id="c1", at=NOON, text="too warm").case
    helpline.take_over(case, "Ana", after(1))

    answer = helpline.receive(case, None, "loud", "m1", after(2))

    assert (answer.messages, answer.state) == ((), "with_person")
    assert helpline.messages_after(case)[-1].text == "loud"


def test_a_colleague_writes_in_their_own_words_once(book: Casebook) -> None:
    post = Post()
    helpline = small_helpline(book, post)
    case = helpline.receive_from("sms", TEXAS, "too warm", "s1", NOON).case
    assert case is not None
    helpline.run_due(NOON)
    helpline.take_over(case, "Ana", after(1))
    seen = helpline.messages_after(case)[-1].id

    first = helpline.write(case, "Ana", "Hello, Ana here.", seen=seen, client_id="w1", at=after(2))
    again = helpline.write(case, "Ana", "Hello, Ana here.", seen=seen, client_id="w1", at=after(3))
    helpline.run_due(after(4))

    assert first == again
    assert [(message.from_, message.text) for message in first.messages] == [("staff", "Hello, Ana here.")]
    assert post.texts() == ["Question 1? 1 yes, 2 no", "Hello, Ana here."]


def test_a_message_that_the_colleague_has_not_seen_stops_their_text(book: Casebook) -> None:
    helpline = small_helpline(book)
    case = helpline.open_case(client_id="c1", at=NOON, text="too warm").case
    helpline.take_over(case, "Ana", after(1))
    seen = helpline.messages_after(case)[-1].id
    helpline.receive(case, None, "wait, it is loud too", "m1", after(2))

    with pytest.raises(RequestError, match="wrote since") as stopped:
        helpline.write(case, "Ana", "Just clean it.", seen=seen, client_id="w1", at=after(3))

    assert stopped.value.kind == "conflict"
    newer = helpline.messages_after(case, seen)
    assert [message.text for message in newer] == ["wait, it is loud too"]
    sent = helpline.write(case, "Ana", "Loud how?", seen=newer[-1].id, client_id="w1", at=after(4))
    assert sent.messages[0].text == "Loud how?"


def test_one_voice_a_case(book: Casebook) -> None:
    helpline = small_helpline(book)
    case = helpline.open_case(client_id="c1", at=NOON, text="too warm").case
    helpline.take_over(case, "Ana", after(1))

    with pytest.raises(RequestError, match="Ana speaks"):
        helpline.take_over(case, "Ben", after(2))
    with pytest.raises(RequestError, match="Ana speaks"):
        helpline.write(case, "Ben", "Hello", seen=99, client_id="w1", at=after(2))
    with pytest.raises(RequestError, match="Ana speaks"):
        helpline.hand_back(case, "Ben", after(2))
    helpline.take_over(case, "Ben", after(3), instead_of="Ana")

    assert helpline.desk_list()[0].voice == "Ben"


def test_taking_over_twice_changes_nothing(book: Casebook) -> None:
    helpline = small_helpline(book)
    case = helpline.open_case(client_id="c1", at=NOON, text="too warm").case

    helpline.take_over(case, "Ana", after(1))
    with book.reading() as session:
        first = cases.events_of(session, case)
    helpline.take_over(case, "Ana", after(2))

    with book.reading() as session:
        assert cases.events_of(session, case) == first


def test_handed_back_the_assistant_goes_on(book: Casebook) -> None:
    helpline = small_helpline(book)
    case = helpline.open_case(client_id="c1", at=NOON, text="too warm").case
    helpline.take_over(case, "Ana", after(1))

    answer = helpline.hand_back(case, "Ana", after(2))

    assert ([message.text for message in answer.messages], answer.state) == (["Let us go on."], "asking")


def test_only_a_case_in_danger_is_reopened(book: Casebook) -> None:
    helpline = small_helpline(book)
    case = helpline.open_case(client_id="c1", at=NOON, text="too warm").case
    with pytest.raises(RequestError, match="not in danger"):
        helpline.reopen_after_danger(case, "Ana", NOON)
    helpline.receive(case, None, "fire", "m1", after(1))

    assert helpline.reopen_after_danger(case, "Ana", after(2)).state == "asking"


@pytest.mark.parametrize("name", ["", " ", "assistant", "nobody"])
def test_a_colleague_has_a_name_of_their_own(book: Casebook, name: str) -> None:
    helpline = small_helpline(book)
    case = helpline.open_case(client_id="c1", at=NOON).case

    with pytest.raises(RequestError, match="name"):
        helpline.take_over(case, name, NOON)


def test_the_desk_sees_danger_first_then_who_waits_longest_then_the_rest(book: Casebook) -> None:
    helpline = small_helpline(book)
    calm = helpline.open_case(client_id="c1", at=NOON, text="too warm").case
    late = helpline.open_case(client_id="c2", at=after(1), text="too warm").case
    early = helpline.open_case(client_id="c3", at=after(2), text="too warm").case
    danger = helpline.open_case(client_id="c4", at=after(3), text="fire").case
    closed = helpline.open_case(client_id="c5", at=after(3), text="too warm").case
    helpline.receive(early, None, "break", "m1", after(4))
    helpline.receive(late, None, "break", "m2", after(5))
    helpline.close(closed, "Ana", after(6))

    assert [row.case for row in helpline.desk_list()] == [danger, early, late, calm]


def test_who_is_answered_by_a_colleague_no_longer_waits(book: Casebook) -> None:
    helpline = small_helpline(book)
    case = helpline.receive_from("sms", OTHER, "break", "s1", NOON).case
    assert case is not None
    helpline.take_over(case, "Ana", after(1))
    seen = helpline.messages_after(case)[-1].id
    helpline.write(case, "Ana", "I look at it.", seen=seen, client_id="w1", at=after(2))

    assert helpline.desk_list()[0].needs_since is None
    helpline.receive_from("sms", OTHER, "thanks", "s2", after(3))
    assert helpline.desk_list()[0].needs_since == after(3)
