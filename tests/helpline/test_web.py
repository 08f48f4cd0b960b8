import pytest
from sqlalchemy import func, select

from assistant.casebook import Casebook
from assistant.casebook.tables import EventRow, InboxRow
from kb.errors import RequestError
from tests.helpline.fakes import NOON, after, small_helpline


def test_a_page_is_greeted_before_any_message(book: Casebook) -> None:
    opening = small_helpline(book).open_case(client_id="c1", at=NOON)

    assert [message.text for message in opening.messages] == ["What is wrong?"]
    assert opening.state == "asking"


def test_the_same_client_id_opens_the_same_case_with_the_same_token(book: Casebook) -> None:
    helpline = small_helpline(book)

    first = helpline.open_case(client_id="c1", at=NOON, text="too warm")
    helpline.receive(first.case, first.token, "and loud", "m1", after(1))
    again = helpline.open_case(client_id="c1", at=after(2), text="too warm")

    assert again == first


def test_other_content_under_a_client_id_is_a_conflict(book: Casebook) -> None:
    helpline = small_helpline(book)
    opening = helpline.open_case(client_id="c1", at=NOON, text="too warm")
    helpline.receive(opening.case, None, "loud", "m1", after(1))

    with pytest.raises(RequestError) as opened:
        helpline.open_case(client_id="c1", at=NOON, text="too cold")
    with pytest.raises(RequestError) as received:
        helpline.receive(opening.case, None, "silent", "m1", after(1))

    assert opened.value.kind == received.value.kind == "conflict"


def test_a_repeated_message_gets_the_same_answer_and_is_read_once(book: Casebook) -> None:
    helpline = small_helpline(book)
    case = helpline.open_case(client_id="c1", at=NOON, text="too warm").case

    first = helpline.receive(case, None, "loud", "m1", after(1))
    helpline.receive(case, None, "on fire", "m2", after(2))
    again = helpline.receive(case, None, "loud", "m1", after(3))

    assert again == first
    assert again.state == "asking"
    with book.reading() as session:
        heard = session.scalar(select(func.count()).select_from(EventRow).where(EventRow.kind == "Heard"))
    assert heard == 3


def test_an_answer_holds_replies_and_the_list_holds_the_customer_too_with_rising_ids(book: Casebook) -> None:
    helpline = small_helpline(book)
    case = helpline.open_case(client_id="c1", at=NOON, text="too warm").case

    answer = helpline.receive(case, None, "loud", "m1", after(1))
    listed = helpline.messages_after(case)

    assert [message.from_ for message in answer.messages] == ["assistant"]
    assert [(message.from_, message.text) for message in listed] == [
        ("customer", "too warm"), ("assistant", "Question 1?"), ("customer", "loud"), ("assistant", "Question 2?"),
    ]  # fmt: skip
    assert [message.id for message in listed] == sorted({message.id for message in listed})
    assert helpline.messages_after(case, listed[1].id) == listed[2:]
    assert answer.messages == listed[3:]


def test_a_token_opens_its_own_case_alone(book: Casebook) -> None:
    helpline = small_helpline(book)
    mine = helpline.open_case(client_id="c1", at=NOON)
    theirs = helpline.open_case(client_id="c2", at=NOON)

    helpline.authorise(mine.case, mine.token)
    for case in (theirs.case, "nocase"):
        with pytest.raises(RequestError) as refused:
            helpline.authorise(case, mine.token)
        assert refused.value.kind == "forbidden"


def test_what_cannot_be_taken_in_is_refused_with_its_reason(book: Casebook) -> None:
    helpline = small_helpline(book)
    case = helpline.open_case(client_id="c1", at=NOON).case

    refusals = {
        "too_long": (case, "a" * 10_001, "m1"),
        "not_found": ("nocase", "a", "m1"),
        "invalid": (case, "a", ""),
    }
    for kind, (where, text, client_id) in refusals.items():
        with pytest.raises(RequestError) as refused:
            helpline.receive(where, None, text, client_id, NOON)
        assert refused.value.kind == kind
    with pytest.raises(RequestError, match="no time zone"):
        helpline.open_case(client_id="c2", at=NOON, zone="Mars/Olympus")


def test_letters_that_no_database_keeps_are_shown_as_lost(book: Casebook) -> None:
    helpline = small_helpline(book)
    case = helpline.open_case(client_id="c1", at=NOON).case

    helpline.receive(case, None, "a\x00b\ud800c 🙏", "m1", NOON)

    assert helpline.messages_after(case)[-2].text == "a\ufffdb\ufffdc 🙏"


def test_a_step_that_fails_twice_is_owned_up_to_and_goes_to_the_desk(book: Casebook) -> None:
    helpline = small_helpline(book)
    case = helpline.open_case(client_id="c1", at=NOON, text="too warm").case

    answer = helpline.receive(case, None, "break it", "m1", after(1))

    assert [message.text for message in answer.messages] == ["That failed on our side."]
    assert answer.state == "with_person"
    assert helpline.messages_after(case)[-2].text == "break it"
    row = helpline.desk_list()[0]
    assert (row.why, row.fault) == ("fault", "ZeroDivisionError")


def test_when_nothing_at_all_can_be_decided_the_customer_still_hears_so(book: Casebook) -> None:
    def broken(*_: object) -> tuple[()]:
        raise ZeroDivisionError

    helpline = small_helpline(book, step=broken)

    opening = helpline.open_case(client_id="c1", at=NOON, text="too warm")

    assert "wrong on our side" in opening.messages[-1].text
    assert opening.state == "with_person"


def test_a_step_that_fails_once_is_tried_again(book: Casebook) -> None:
    from tests.helpline.fakes import small_step

    calls: list[object] = []

    def stumbles(case: object, happening: object) -> object:
        calls.append(happening)
        if len(calls) == 2:
            raise ZeroDivisionError
        return small_step(case, happening)  # type: ignore[arg-type]  # passed on as they came

    helpline = small_helpline(book, step=stumbles)  # type: ignore[arg-type]  # passed on as they came

    opening = helpline.open_case(client_id="c1", at=NOON, text="too warm")

    assert [message.text for message in opening.messages] == ["Question 1?"]


def test_the_edition_and_its_files_are_kept_with_the_events(book: Casebook) -> None:
    helpline = small_helpline(book)
    helpline.open_case(client_id="c1", at=NOON)

    with book.reading() as session:
        editions = set(session.scalars(select(EventRow.edition)))
    assert editions == {"small"}
    assert helpline.edition_files("small") == {"shared/findings/filter.yaml": "finding: filter\n"}


def test_reasoning_is_plain_data_in_the_agreed_shape(book: Casebook) -> None:
    helpline = small_helpline(book)
    case = helpline.open_case(client_id="c1", at=NOON, text="too warm").case

    reasons = helpline.reasoning(case)

    agreed = {"edition", "beliefs", "marginals", "findings", "asked", "sums", "next", "entropy_bits"}
    assert agreed <= set(reasons)


def test_every_message_taken_in_is_answered(book: Casebook) -> None:
    helpline = small_helpline(book)
    case = helpline.open_case(client_id="c1", at=NOON, text="too warm").case
    for number in range(5):
        helpline.receive(case, None, f"more {number}", f"m{number}", after(number))

    with book.reading() as session:
        assert set(session.scalars(select(InboxRow.state))) == {"answered"}
