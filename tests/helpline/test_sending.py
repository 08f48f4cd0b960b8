"""What a courier answers, and what follows from it."""

from assistant.casebook import Casebook
from assistant.helpline import Accepted, Later, Refused
from tests.helpline.fakes import NOON, TEXAS, Post, after, small_helpline


def test_a_text_put_back_keeps_its_place_and_waits_longer_each_time(book: Casebook) -> None:
    post = Post(outcome=Later(why="busy"))
    helpline = small_helpline(book, post)
    helpline.receive_from("sms", TEXAS, "too warm", "s1", NOON)
    helpline.receive_from("sms", TEXAS, "yes", "s2", NOON)

    tried = [helpline.run_due(after(tenth / 10)) or len(post.carried) for tenth in range(0, 40, 2)]

    assert tried[0] == 1
    assert 3 <= len(post.carried) <= 5  # at 0, then after 30 s, 60 s, 120 s
    assert {text for _, text in post.carried} == {"Question 1? 1 yes, 2 no"}
    post.outcome = Accepted()
    helpline.run_due(after(30))
    assert [text for _, text in post.carried[-2:]] == ["Question 1? 1 yes, 2 no", "Question 2? 1 yes, 2 no"]


def test_what_was_surely_not_sent_is_no_possible_duplicate(book: Casebook) -> None:
    post = Post(outcome=Later(why="busy"))
    helpline = small_helpline(book, post)
    helpline.receive_from("sms", TEXAS, "too warm", "s1", NOON)
    for minute in range(0, 60, 5):
        helpline.run_due(after(minute))

    post.outcome = Accepted()
    helpline.run_due(after(95))

    assert post.carried[-1] == (TEXAS, "Question 1? 1 yes, 2 no")


def test_after_four_hours_it_is_given_up_and_the_desk_knows(book: Casebook) -> None:
    post = Post(outcome=Later(why="busy"))
    helpline = small_helpline(book, post)
    helpline.receive_from("sms", TEXAS, "too warm", "s1", NOON)

    for minute in range(0, 300, 5):
        helpline.run_due(after(minute))
    tries = len(post.carried)
    helpline.run_due(after(600))

    assert len(post.carried) == tries
    assert helpline.desk_list()[0].needs_since is not None


def test_who_stopped_us_at_the_carrier_gets_nothing_more(book: Casebook) -> None:
    post = Post(outcome=Refused(why="21610", kind="opted_out"))
    helpline = small_helpline(book, post)
    helpline.receive_from("sms", TEXAS, "too warm", "s1", NOON)
    helpline.receive_from("sms", TEXAS, "yes", "s2", NOON)

    helpline.run_due(NOON)
    helpline.run_due(after(60))

    assert len(post.carried) == 1
    assert helpline.desk_list()[0].no_texts


def test_a_number_that_takes_no_texts_gets_none_until_it_writes(book: Casebook) -> None:
    post = Post(outcome=Refused(why="21614", kind="unusable"))
    helpline = small_helpline(book, post)
    helpline.receive_from("sms", TEXAS, "ask me later", "s1", NOON)
    helpline.run_due(NOON)
    helpline.run_due(after(300))  # the promised hour comes, and nothing is put out
    assert len(post.carried) == 1

    post.outcome = Accepted()
    helpline.receive_from("sms", TEXAS, "too warm", "s2", after(301))
    helpline.run_due(after(301))

    assert len(post.carried) == 2
