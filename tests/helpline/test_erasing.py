from sqlalchemy import select, text

from assistant.casebook import Casebook, load_case
from assistant.casebook.tables import Base, InboxRow
from tests.helpline.fakes import NOON, OTHER, TEXAS, Post, after, small_helpline


def everything(book: Casebook) -> str:
    """All that the database holds, as one text."""
    with book.reading() as session:
        rows = [session.execute(select(table)).all() for table in Base.metadata.sorted_tables]
    return repr(rows)


def test_an_erased_person_leaves_no_word_and_the_case_still_folds(book: Casebook) -> None:
    helpline = small_helpline(book, Post())
    case = helpline.receive_from("sms", TEXAS, "zebra is too warm", "s1", NOON).case
    assert case is not None
    helpline.run_due(NOON)
    helpline.name_room(case, "zebra room")
    helpline.take_over(case, "Ana", after(1))
    seen = helpline.messages_after(case)[-1].id
    helpline.write(case, "Ana", "Hello zebra", seen=seen, client_id="w1", at=after(2))
    with book.reading() as session:
        before = load_case(session, case)
    assert "zebra" in everything(book)

    helpline.erase_person(helpline.person_of(case))

    left = everything(book)
    assert "zebra" not in left
    assert TEXAS not in left
    with book.reading() as session:
        assert load_case(session, case) == before
    assert [message.text for message in helpline.messages_after(case)] == ["", "Question 1?"]


def test_an_erased_person_gets_no_follow_up(book: Casebook) -> None:
    post = Post()
    helpline = small_helpline(book, post)
    case = helpline.receive_from("sms", TEXAS, "ask me later", "s1", NOON).case
    assert case is not None

    helpline.erase_person(helpline.person_of(case))
    helpline.run_due(after(5 * 60))

    assert post.texts() == []


def test_who_opted_out_stays_so_when_erased(book: Casebook) -> None:
    post = Post()
    helpline = small_helpline(book, post)
    case = helpline.receive_from("sms", TEXAS, "too warm", "s1", NOON).case
    assert case is not None
    helpline.receive_from("sms", TEXAS, "stop", "s2", after(1))
    helpline.run_due(after(2))
    helpline.erase_person(helpline.person_of(case))
    post.carried.clear()

    again = helpline.receive_from("sms", TEXAS, "too warm", "s3", after(3))
    helpline.run_due(after(4))

    assert again.case not in (case, None)
    assert post.texts() == []


def test_an_erased_number_that_writes_again_is_somebody_new(book: Casebook) -> None:
    helpline = small_helpline(book)
    case = helpline.receive_from("sms", TEXAS, "too warm", "s1", NOON).case
    assert case is not None
    helpline.erase_person(helpline.person_of(case))

    again = helpline.receive_from("sms", TEXAS, "too warm", "s2", after(1)).case

    assert again not in (case, None)
    assert helpline.person_of(str(again)) != helpline.person_of(case)


def test_a_shared_number_stays_with_the_other_person(book: Casebook) -> None:
    post = Post()
    helpline = small_helpline(book, post)
    mine = helpline.receive_from("sms", TEXAS, "too warm", "s1", NOON).case
    theirs = helpline.receive_from("sms", OTHER, "too warm", "o1", NOON).case
    assert mine is not None
    assert theirs is not None
    helpline.share_address(mine, theirs)
    helpline.erase_person(helpline.person_of(mine))

    answer = helpline.receive_from("sms", TEXAS, "loud", "s2", after(1))
    helpline.run_due(after(2))

    assert answer.case == theirs


def test_a_message_erased_before_it_was_answered_is_never_answered(book: Casebook) -> None:
    helpline = small_helpline(book)
    case = helpline.open_case(client_id="c1", at=NOON, text="too warm").case
    with book.writing() as session:
        session.execute(text("UPDATE inbox SET state = 'waiting'"))

    helpline.erase_person(helpline.person_of(case))

    assert helpline.run_due(after(1)) == 0
    with book.reading() as session:
        assert session.scalars(select(InboxRow.state)).all() == ["erased"]
