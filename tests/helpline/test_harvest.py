from assistant.casebook import Casebook
from assistant.conversation.events import CaseClosed
from assistant.helpline import Helpline, House, conversing_with
from assistant.helpline.editions import Editions
from assistant.helpline.harvest import closed_logs, unread_words
from channels.knowledge import our_knowledge
from tests.helpline.fakes import NOON, after


def real(book: Casebook) -> Helpline:
    return Helpline(House(casebook=book, editions=Editions(conversing_with(our_knowledge())), key=b"k"))


def test_closed_cases_and_unread_words_are_found_and_erased_words_are_not(book: Casebook) -> None:
    helpline = real(book)
    first = helpline.open_case(
        client_id="a", at=NOON, text="my room is warm, flurbled gronk in the wizzle", language="en"
    )
    helpline.open_case(client_id="b", at=NOON, text="the room is warm, blorp snizzle", language="en")
    helpline.close(first.case, "Robin", after(5), cause="filter_clogged")

    (log,) = closed_logs(helpline.house)
    words = " / ".join(one.text for one in unread_words(helpline.house))

    assert [event.cause for _, event in log if isinstance(event, CaseClosed)] == ["filter_clogged"]
    assert "gronk" in words
    assert "snizzle" in words
    helpline.erase_person(helpline.person_of(first.case))
    words = " / ".join(one.text for one in unread_words(helpline.house))
    assert "gronk" not in words
    assert "snizzle" in words
