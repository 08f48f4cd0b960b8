import pytest
from sqlalchemy import select

from assistant.casebook import Casebook, personal
from assistant.casebook.tables import CaseRow, InboxRow
from assistant.conversation import Case
from assistant.conversation import events as ev
from assistant.conversation import happenings as hp
from kb.errors import RequestError
from kb.ids import FindingId, StateId
from tests.helpline.fakes import NOON, OTHER, TEXAS, Post, after, small_helpline, small_step


def test_a_text_opens_a_case_and_the_answer_goes_out_once(book: Casebook) -> None:
    post = Post()
    helpline = small_helpline(book, post)

    answer = helpline.receive_from("sms", "(512) 555-0100", "too warm", "s1", NOON)
    helpline.run_due(NOON)
    helpline.run_due(after(1))

    assert [message.text for message in answer.messages] == ["Question 1?"]
    assert post.carried == [(TEXAS, "Question 1? 1 yes, 2 no")]
    assert helpline.receive_from("sms", TEXAS, "too warm", "s1", after(2)) == answer


def test_the_number_tells_zone_and_emergency_region(book: Casebook) -> None:
    helpline = small_helpline(book)

    helpline.receive_from("sms", TEXAS, "too warm", "s1", NOON)

    with book.reading() as session:
        row = session.scalars(select(CaseRow)).one()
    assert (row.zone, row.region) == ("America/Chicago", "911")


@pytest.mark.parametrize("address", ["32665", "whatever:+15125550100", "+1512", ""])
def test_what_nobody_could_answer_to_is_refused(book: Casebook, address: str) -> None:
    with pytest.raises(RequestError):
        small_helpline(book).receive_from("sms", address, "too warm", "s1", NOON)


def test_a_new_problem_opens_another_case_of_another_room(book: Casebook) -> None:
    helpline = small_helpline(book)
    first = helpline.receive_from("sms", TEXAS, "too warm", "s1", NOON).case

    second = helpline.receive_from("sms", TEXAS, "New problem in the flower cooler", "s2", after(1)).case

    assert first is not None
    assert second not in (first, None)
    assert {row.room for row in helpline.desk_list()} == {None, "the flower cooler"}


def two_rooms(book: Casebook, post: Post) -> tuple[str, str]:
    """Two cases of one number, of which both wait for a number after their follow-ups."""
    helpline = small_helpline(book, post)
    first = helpline.receive_from("sms", TEXAS, "ask me later", "s1", NOON).case
    helpline.receive_from("sms", TEXAS, "new problem in the flower cooler", "s2", after(1))
    second = helpline.receive_from("sms", TEXAS, "ask me later", "s3", after(2)).case
    assert first is not None
    assert second is not None
    helpline.run_due(after(3))
    post.carried.clear()
    return first, second


def test_with_two_rooms_a_follow_up_names_its_room(book: Casebook) -> None:
    post = Post()
    two_rooms(book, post)

    small_helpline(book, post).run_due(after(4 * 60 + 5))

    assert post.texts() == ["How is it now room 1?", "How is it now the flower cooler?"]


def test_a_bare_number_goes_to_the_only_case_that_waits_for_one(book: Casebook) -> None:
    post = Post()
    first, _ = two_rooms(book, post)
    helpline = small_helpline(book, post)
    helpline.run_due(after(4 * 60 + 1))  # only the first has come due

    answer = helpline.receive_from("sms", TEXAS, "49", "s4", after(4 * 60 + 1.5))

    assert answer.case == first


def test_when_two_rooms_wait_for_a_number_we_ask_which_and_the_number_is_not_lost(book: Casebook) -> None:
    post = Post()
    _, second = two_rooms(book, post)
    helpline = small_helpline(book, post)
    helpline.run_due(after(4 * 60 + 5))

    asked = helpline.receive_from("sms", TEXAS, "49", "s4", after(4 * 60 + 6))
    again = helpline.receive_from("sms", TEXAS, "7", "s5", after(4 * 60 + 7))
    chosen = helpline.receive_from("sms", TEXAS, "2", "s6", after(4 * 60 + 8))

    assert asked.case is None
    assert asked.messages[0].text == "49: for which room? 1 room 1, 2 the flower cooler"
    assert again.messages[0].text.startswith("Please send the number")
    assert chosen.case == second
    heard = [message.text for message in helpline.messages_after(second) if message.from_ == "customer"]
    assert heard[-1] == "49"
    assert "2" not in heard


def test_the_room_can_be_named_in_place_of_its_number(book: Casebook) -> None:
    post = Post()
    _, second = two_rooms(book, post)
    helpline = small_helpline(book, post)
    helpline.run_due(after(4 * 60 + 5))

    helpline.receive_from("sms", TEXAS, "49", "s4", after(4 * 60 + 6))

    assert helpline.receive_from("sms", TEXAS, "the Flower Cooler!", "s5", after(4 * 60 + 7)).case == second


def test_words_while_a_number_is_held_go_to_the_case_that_asked_last(book: Casebook) -> None:
    post = Post()
    _, second = two_rooms(book, post)
    helpline = small_helpline(book, post)
    helpline.run_due(after(4 * 60 + 5))
    helpline.receive_from("sms", TEXAS, "49", "s4", after(4 * 60 + 6))

    answer = helpline.receive_from("sms", TEXAS, "there is a fire", "s5", after(4 * 60 + 7))

    assert (answer.case, answer.state) == (second, "danger")


def test_written_again_within_fourteen_days_the_case_goes_on_and_later_a_new_one_begins(
    book: Casebook,
) -> None:
    helpline = small_helpline(book)
    case = helpline.receive_from("sms", TEXAS, "too warm", "s1", NOON).case
    assert case is not None
    helpline.close(case, "Ana", after(1))

    within = helpline.receive_from("sms", TEXAS, "it is back", "s2", after(13 * 24 * 60))
    helpline.close(case, "Ana", after(13 * 24 * 60))
    beyond = helpline.receive_from("sms", TEXAS, "it is back", "s3", after(28 * 24 * 60))

    assert within.case == case
    assert beyond.case not in (case, None)


def test_what_is_known_of_a_room_goes_with_it_into_its_next_case(book: Casebook) -> None:
    begun: list[hp.CaseBegun] = []

    def learns(case: Case, happening: hp.Happening) -> tuple[ev.Event, ...]:
        events = small_step(case, happening)
        if isinstance(happening, hp.CaseBegun):
            begun.append(happening)
        elif isinstance(happening, hp.MessageHeard):
            walls = ev.FactLearned(
                at=happening.at, finding=FindingId("walls"), state=StateId("foam"), likelihood=(), confidence=1.0,
                source="said",
            )  # fmt: skip
            return (*events, walls)
        return events

    helpline = small_helpline(book, step=learns)
    case = helpline.receive_from("sms", TEXAS, "too warm", "s1", NOON).case
    assert case is not None
    helpline.close(case, "Ana", after(1))

    helpline.receive_from("sms", TEXAS, "too warm again", "s2", after(30 * 24 * 60))

    assert [one.carried for one in begun] == [(), (("walls", "foam"),)]
    assert begun[0].room == begun[1].room
    assert begun[1].language == "en"


def test_an_opt_out_is_confirmed_once_and_nothing_else_is_sent(book: Casebook) -> None:
    post = Post()
    helpline = small_helpline(book, post)
    helpline.receive_from("sms", TEXAS, "too warm", "s1", NOON)

    answer = helpline.receive_from("sms", TEXAS, "STOP", "s2", after(1))
    helpline.receive_from("sms", TEXAS, "it is loud", "s3", after(2))
    helpline.run_due(after(3))

    assert answer.case is None
    assert [text.split(":")[0] for text in post.texts()] == ["Cold room helpline"]
    row = helpline.desk_list()[0]
    assert (row.no_texts, row.state, row.voice) == (True, "with_person", "nobody")


def test_a_danger_of_somebody_who_opted_out_reaches_the_desk_as_phone_them_now(book: Casebook) -> None:
    post = Post()
    helpline = small_helpline(book, post)
    helpline.receive_from("sms", TEXAS, "too warm", "s1", NOON)
    helpline.receive_from("sms", OTHER, "fire", "o1", NOON)
    helpline.receive_from("sms", TEXAS, "stop", "s2", after(1))

    helpline.receive_from("sms", TEXAS, "there is a fire", "s3", after(2))
    helpline.run_due(after(3))

    assert not any("Everyone out" in text for address, text in post.carried if address == TEXAS)
    assert [row.phone_now for row in helpline.desk_list()] == [False, True]


def test_a_first_text_after_an_opt_out_is_read_all_the_same(book: Casebook) -> None:
    post = Post()
    helpline = small_helpline(book, post)
    helpline.receive_from("sms", TEXAS, "stop", "s1", NOON)

    helpline.receive_from("sms", TEXAS, "there is a fire", "s2", after(1))
    helpline.run_due(after(2))

    assert len(post.texts()) == 1
    assert [(row.state, row.phone_now, row.no_texts) for row in helpline.desk_list()] == [
        ("danger", True, True)
    ]


def test_start_brings_the_assistant_back(book: Casebook) -> None:
    post = Post()
    helpline = small_helpline(book, post)
    helpline.receive_from("sms", TEXAS, "too warm", "s1", NOON)
    helpline.receive_from("sms", TEXAS, "stop", "s2", after(1))

    helpline.receive_from("sms", TEXAS, "start", "s3", after(2))
    helpline.run_due(after(3))

    assert [row.voice for row in helpline.desk_list()] == ["assistant"]
    assert post.texts()[-1] == "Let us go on."
    assert "are on again" in post.texts()[-2]


@pytest.mark.parametrize("word", ["baja", "Alto.", "ALTA"])
def test_a_trade_word_that_answers_the_open_question_is_its_answer(book: Casebook, word: str) -> None:
    post = Post()
    helpline = small_helpline(book, post)
    helpline.receive_from("sms", TEXAS, "too warm", "s1", NOON)

    answer = helpline.receive_from("sms", TEXAS, word.strip("."), "s2", after(1))
    helpline.run_due(after(2))

    assert [message.text for message in answer.messages] == ["Question 2?"]
    assert any("as your answer" in text for text in post.texts()) == (word != "ALTA")


def test_the_same_word_with_nothing_open_is_an_opt_out_answered_in_its_language(book: Casebook) -> None:
    helpline = small_helpline(book)
    helpline.receive_from("sms", TEXAS, "number", "s1", NOON)
    helpline.receive_from("sms", TEXAS, "4", "s2", after(1))

    answer = helpline.receive_from("sms", TEXAS, "baja", "s3", after(2))

    assert answer.case is None
    assert "ya no recibirá más mensajes" in answer.messages[0].text


def test_help_names_us_and_a_person_but_in_danger_it_calls_the_desk(book: Casebook) -> None:
    helpline = small_helpline(book)
    calm = helpline.receive_from("sms", OTHER, "HELP", "o1", NOON)
    helpline.receive_from("sms", TEXAS, "fire", "s1", NOON)

    in_danger = helpline.receive_from("sms", TEXAS, "help", "s2", after(1))

    assert "Cold room helpline" in calm.messages[0].text
    assert in_danger.case is not None
    assert [row.phone_now for row in helpline.desk_list()] == [True]


def test_a_number_may_be_shared_and_a_named_room_finds_its_person(book: Casebook) -> None:
    helpline = small_helpline(book)
    mine = helpline.receive_from("sms", TEXAS, "too warm", "s1", NOON).case
    theirs = helpline.receive_from("sms", OTHER, "too warm", "o1", NOON).case
    assert mine is not None
    assert theirs is not None
    helpline.name_room(theirs, "the barn")
    helpline.share_address(mine, theirs)

    answer = helpline.receive_from("sms", TEXAS, "the barn is loud", "s2", after(1))

    assert answer.case == theirs


def test_two_messages_at_once_are_answered_in_order(book: Casebook) -> None:
    """The second came in while the first was still being thought about."""
    slow = small_helpline(book)
    hooked: list[bool] = []

    def interrupted(case: Case, happening: hp.Happening) -> tuple[ev.Event, ...]:
        if isinstance(happening, hp.MessageHeard) and not hooked:
            hooked.append(True)
            slow.receive_from("sms", TEXAS, "second", "s2", after(1))
        return small_step(case, happening)

    answer = small_helpline(book, step=interrupted).receive_from("sms", TEXAS, "first", "s1", NOON)

    assert answer.case is not None
    listed = [message.text for message in slow.messages_after(answer.case)]
    assert listed == ["first", "Question 1?", "second", "Question 2?"]


def test_the_words_of_a_message_are_kept_beside_the_log_alone(book: Casebook) -> None:
    helpline = small_helpline(book)
    helpline.receive_from("sms", TEXAS, "zebra", "s1", NOON)

    with book.reading() as session:
        message = session.scalars(select(InboxRow)).one()
        assert personal.text_of(session, personal.MESSAGE, message.message_id) == "zebra"
