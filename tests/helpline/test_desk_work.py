"""What a colleague does beyond talking: by id, by the hour, to many, at the end, and for the next shift."""

from dataclasses import replace
from datetime import timedelta

import pytest

from assistant.casebook import Casebook, cases, closings, load_case, personal, staff
from assistant.conversation.ids import ASSISTANT
from assistant.helpline import DeskRoom, DeskWork, Editions, Ending, Helpline, Sending
from kb.errors import RequestError
from kb.ids import Language
from tests.helpline.fakes import NOON, OTHER, TEXAS, Post, after, small_helpline

SENTENCES: dict[Language, dict[str, str]] = {
    "en": {"desk_looking": "I look."},
    "es": {"desk_looking": "Ya veo."},
}


def work_over(book: Casebook, post: Post | None = None) -> tuple[Helpline, DeskWork]:
    helpline = small_helpline(book, post)
    conversing = replace(helpline.house.conversing, sentences=SENTENCES)
    house = replace(helpline.house, editions=Editions(conversing))
    return Helpline(house), DeskWork(house)


def text_in(helpline: Helpline, number: str, text: str = "too warm", minutes: float = 0) -> str:
    case = helpline.receive_from("sms", number, text, f"{number}-{minutes}", after(minutes)).case
    assert case is not None
    return case


def last_seen(helpline: Helpline, case: str) -> int:
    with helpline.house.casebook.reading() as session:
        kept = cases.find_case(session, case)
        assert kept is not None
        return kept.heard_sequence


def test_a_sentence_by_its_id_goes_out_once_as_the_colleagues(book: Casebook) -> None:
    post = Post()
    helpline, work = work_over(book, post)
    case = text_in(helpline, TEXAS)
    helpline.take_over(case, "Ana", after(1))
    seen = helpline.messages_after(case)[-1].id

    first = work.say(case, "Ana", "desk_looking", seen=seen, client_id="w1", at=after(2))
    again = work.say(case, "Ana", "desk_looking", seen=seen, client_id="w1", at=after(2))

    assert first == again
    assert [(message.from_, message.sentence) for message in first.messages] == [("staff", "desk_looking")]


@pytest.mark.parametrize("sentence", ["", "nothing", "ask:nothing"])
def test_only_a_known_sentence_is_sent(book: Casebook, sentence: str) -> None:
    helpline, work = work_over(book)
    case = helpline.open_case(client_id="c1", at=NOON, text="too warm").case
    helpline.take_over(case, "Ana", after(1))
    with pytest.raises(RequestError, match="no sentence"):
        work.say(case, "Ana", sentence, seen=99, client_id="w1", at=after(2))


def test_what_a_colleague_wrote_goes_out_though_they_hand_back_at_once(book: Casebook) -> None:
    post = Post()
    helpline, _ = work_over(book, post)
    case = text_in(helpline, TEXAS)
    helpline.run_due(NOON)
    helpline.take_over(case, "Ana", after(1))
    seen = helpline.messages_after(case)[-1].id
    helpline.write(case, "Ana", "Wait for the trade.", seen=seen, client_id="w1", at=after(2))
    helpline.hand_back(case, "Ana", after(2))

    helpline.run_due(after(3))

    assert post.texts()[1:] == ["Wait for the trade.", "Let us go on."]


# -- one reply to many -----------------------------------------------------------------------------------------------


def many(helpline: Helpline, count: int = 3) -> list[tuple[str, int]]:
    numbers = [f"+151255501{place:02d}" for place in range(10, 10 + count)]
    opened = [text_in(helpline, number) for number in numbers]
    return [(case, last_seen(helpline, case)) for case in opened]


def test_one_reply_reaches_each_of_many_in_its_own_case(book: Casebook) -> None:
    post = Post()
    helpline, work = work_over(book, post)
    seen = many(helpline)
    helpline.run_due(NOON)
    sending = Sending(words={"en": "The power is out."}, sentence=None, keep=True)

    reached = work.reply_to_many(seen, "Ana", sending, "once", after(1))
    work.reply_to_many(seen, "Ana", sending, "once", after(2))
    helpline.run_due(after(3))

    assert [one.why_not for one in reached] == ["", "", ""]
    assert post.texts().count("The power is out.") == 3
    assert {row.voice for row in helpline.desk_list()} == {"Ana"}


def test_afterwards_the_assistant_goes_on_where_that_is_wanted(book: Casebook) -> None:
    helpline, work = work_over(book)
    seen = many(helpline, 2)
    sending = Sending(words={"en": "Hold on."}, sentence=None, keep=False)

    work.reply_to_many(seen, "Ana", sending, "once", after(1))

    assert {row.voice for row in helpline.desk_list()} == {ASSISTANT}


def test_who_did_not_get_it_is_told_with_the_reason(book: Casebook) -> None:
    post = Post()
    helpline, work = work_over(book, post)
    (fine, at_fine), (danger, at_danger), (taken, at_taken), (newer, at_newer), (stopped, at_stopped) = many(
        helpline, 5
    )
    helpline.receive_from("sms", "+15125550111", "fire", "d1", after(1))
    helpline.take_over(taken, "Ben", after(1))
    helpline.receive_from("sms", "+15125550113", "loud", "n1", after(1))
    helpline.receive_from("sms", "+15125550114", "STOP", "o1", after(1))
    seen = [(fine, at_fine), (danger, at_danger), (taken, at_taken), (newer, at_newer), (stopped, at_stopped)]

    reached = work.reply_to_many(
        seen, "Ana", Sending(words={"en": "Hold on."}, sentence=None, keep=True), "once", after(2)
    )
    helpline.run_due(after(3))

    assert {one.case: one.why_not for one in reached} == {
        fine: "", danger: "danger", taken: "spoken_for", newer: "wrote_since", stopped: "opted_out",
    }  # fmt: skip
    assert [to for to, text in post.carried if text == "Hold on."] == ["+15125550110"]
    with book.reading() as session:
        assert load_case(session, taken)[0].voice == "Ben"
        assert load_case(session, newer)[0].voice == ASSISTANT


def test_nobody_gets_words_in_a_language_that_is_not_theirs(book: Casebook) -> None:
    helpline, work = work_over(book)
    seen = many(helpline, 1)

    reached = work.reply_to_many(
        seen, "Ana", Sending(words={"es": "Espere."}, sentence=None, keep=True), "once", after(1)
    )

    assert [one.why_not for one in reached] == ["no_words"]


# -- closing ---------------------------------------------------------------------------------------------------------


def test_a_new_cause_is_kept_in_words_that_an_erasure_takes(book: Casebook) -> None:
    helpline, work = work_over(book)
    case = text_in(helpline, TEXAS)

    work.close(case, "Ana", Ending(new_cause="a tarp on the vent", mended_by="tarp off"), after(5))

    with book.reading() as session:
        assert closings.words_of(session, case) == "a tarp on the vent\ntarp off"
    helpline.erase_person(helpline.person_of(case))
    with book.reading() as session:
        assert closings.words_of(session, case) == ""
        assert personal.text_of(session, personal.CLOSING, case) is None


def test_a_case_is_closed_once_and_with_one_cause(book: Casebook) -> None:
    helpline, work = work_over(book)
    case = text_in(helpline, TEXAS)
    with pytest.raises(RequestError, match="two causes"):
        work.close(case, "Ana", Ending(cause="filter_clogged", new_cause="a tarp"), after(5))
    with pytest.raises(RequestError, match="no day"):
        work.close(case, "Ana", Ending(ask_after_days=40), after(5))
    work.close(case, "Ana", Ending(), after(5))
    with pytest.raises(RequestError, match="closed already"):
        work.close(case, "Ana", Ending(), after(6))


def test_a_promise_is_for_an_hour_to_come_and_by_who_speaks(book: Casebook) -> None:
    helpline, work = work_over(book)
    case = text_in(helpline, TEXAS)
    with pytest.raises(RequestError, match="speaks"):
        work.promise(case, "Ana", after(60), after(1), tell=True)
    helpline.take_over(case, "Ana", after(1))
    for due in (after(-5), after(1), after(1) + timedelta(days=20)):
        with pytest.raises(RequestError, match="cannot be promised"):
            work.promise(case, "Ana", due, after(1), tell=True)


# -- the shift -------------------------------------------------------------------------------------------------------


def test_a_shift_is_handed_over_with_its_notes(book: Casebook) -> None:
    helpline, work = work_over(book)
    with book.writing() as session:
        staff.put_colleague(session, "Ben", "desk", "hash", NOON)
    mine, bens = text_in(helpline, TEXAS), text_in(helpline, OTHER)
    helpline.take_over(mine, "Ana", after(1))
    helpline.take_over(bens, "Ben", after(1))

    handed = work.hand_over_shift([(mine, "ring at nine"), (bens, "x")], "Ana", "Ben", "once", after(2))

    assert handed == 1
    with book.reading() as session:
        assert load_case(session, mine)[0].voice == "Ben"
        assert [aside.text for aside in staff.asides(session, mine)] == ["→ Ben: ring at nine"]
        assert staff.asides(session, bens) == ()
    with pytest.raises(RequestError, match="nobody here"):
        work.hand_over_shift([(mine, "")], "Ben", "Zoe", "twice", after(3))


# -- search ----------------------------------------------------------------------------------------------------------


def test_search_finds_every_word_without_accents_wherever_it_was_said(book: Casebook) -> None:
    helpline, work = work_over(book)
    case = text_in(helpline, TEXAS, "la cámara está caliente")
    text_in(helpline, OTHER, "too warm")
    helpline.name_room(case, "Cuarto de Flores")
    work.place(case, "Alder Fork")
    room = DeskRoom(helpline.house)
    room.note_aside(case, "Ana", "sounded tired", "a1", after(1))

    for sought in ("camara", "CÁMARA flores", "tired", "alder camara", "question 1"):
        assert case in [hit.case.id for hit in room.search(sought)], sought
    assert room.search("camara nowhere") == ()
    assert room.search("  ") == ()
    assert room.search("100%") == ()


def test_what_is_erased_is_found_no_more(book: Casebook) -> None:
    helpline, work = work_over(book)
    case = text_in(helpline, TEXAS, "the zebra room is warm")
    helpline.name_room(case, "zebra room")
    work.place(case, "Zebra Creek")
    DeskRoom(helpline.house).note_aside(case, "Ana", "zebra again", "a1", after(1))
    work.close(case, "Ana", Ending(new_cause="a zebra", mended_by="zebra led out"), after(2))
    assert DeskRoom(helpline.house).search("zebra")

    helpline.erase_person(helpline.person_of(case))

    assert DeskRoom(helpline.house).search("zebra") == ()
