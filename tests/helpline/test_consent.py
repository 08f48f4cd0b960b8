"""Consent kept and followed: one confirmation, nothing afterwards, and the desk knows of every danger."""

import pytest

from assistant.casebook import Casebook, people
from assistant.conversation import Case
from assistant.conversation import events as ev
from assistant.conversation import happenings as hp
from assistant.conversation.line_events import ConsentAnswered
from assistant.helpline import Helpline
from kb.errors import RequestError
from tests.helpline.fakes import NOON, TEXAS, Post, after, small_helpline, small_step
from tests.helpline.test_limits import limited


def consents(book: Casebook) -> list[tuple[str, str, str]]:
    with book.reading() as session:
        from assistant.casebook.tables import AddressRow

        (address,) = session.query(AddressRow.id).one()
        return [(one.kind, one.scope, one.source) for one in people.consent_of(session, address)]


def say(helpline: Helpline, text: str, client_id: str, minutes: float = 0) -> list[str]:
    answer = helpline.receive_from("sms", TEXAS, text, client_id, after(minutes))
    return [message.text for message in answer.messages]


def test_a_stop_is_confirmed_once(book: Casebook) -> None:
    helpline = small_helpline(book)

    assert "no more texts" in say(helpline, "stop", "s1")[0]
    assert say(helpline, "stop texting me", "s2") == []
    assert say(helpline, "HELP", "s3") == []
    assert consents(book) == [("opt_out", "texts", "text"), ("opt_out", "texts", "text")]
    assert "on again" in say(helpline, "START", "s4")[0]


def test_a_colleague_cannot_text_who_opted_out_and_is_told_to_telephone(book: Casebook) -> None:
    post = Post()
    helpline = small_helpline(book, post)
    case = helpline.receive_from("sms", TEXAS, "too warm", "s1", NOON).case
    assert case is not None
    say(helpline, "stop", "s2", 1)
    helpline.run_due(after(2))
    helpline.take_over(case, "Ana", after(3))
    seen = helpline.messages_after(case)[-1].id

    with pytest.raises(RequestError, match="opted out") as refused:
        helpline.write(case, "Ana", "Hello", seen=seen, client_id="w1", at=after(4))
    helpline.run_due(after(5))

    assert "telephone" in refused.value.mend
    assert not any("Hello" in text for text in post.texts())


def test_a_stop_that_tells_of_a_danger_has_the_desk_telephone(book: Casebook) -> None:
    post = Post()
    helpline = limited(book, post)
    said = say(helpline, "stop texting me, there is fire everywhere", "s1")
    helpline.run_due(after(1))

    row = helpline.desk_list()[0]
    assert (row.state, row.phone_now, row.no_texts) == ("danger", True, True)
    assert said == [
        "Everyone out."
    ]  # what the page of the case shows; by telephone goes only the confirmation
    assert [text.split(":")[1][:14] for text in post.texts()] == [" no more texts"]


@pytest.mark.parametrize("word", ["stop", "start", "help"])
def test_what_the_carrier_took_it_for_is_recorded_and_not_answered_again(book: Casebook, word: str) -> None:
    helpline = small_helpline(book)
    answer = helpline.receive_from("sms", TEXAS, "whatever they set up", "s1", NOON, carrier_word=word)  # type: ignore[arg-type]  # one of the three
    assert answer.messages == ()
    kind = {"stop": [("opt_out", "texts", "carrier")], "start": [("opt_in", "texts", "carrier")], "help": []}
    assert consents(book) == kind[word]


def test_a_carriers_help_during_a_danger_has_the_desk_telephone(book: Casebook) -> None:
    helpline = small_helpline(book)
    say(helpline, "fire", "s1")
    say(helpline, "stop", "s2")
    helpline.take_over(helpline.desk_list()[0].case, "Ana", after(1))
    assert not helpline.desk_list()[0].phone_now

    helpline.receive_from("sms", TEXAS, "AYUDA", "s3", after(2), carrier_word="help")

    assert helpline.desk_list()[0].phone_now


def asking_step(case: Case, happening: hp.Happening) -> tuple[ev.Event, ...]:
    """The small conversation, in which "agreed" says yes to follow-ups."""
    events = small_step(case, happening)
    if isinstance(happening, hp.MessageHeard) and "agreed" in happening.text:
        return (
            *events,
            ConsentAnswered(at=happening.at, scope="follow_up", yes=True, message=happening.message),
        )
    return events


def test_a_yes_is_kept_with_the_message_that_said_it_and_known_to_the_next_case(book: Casebook) -> None:
    begun: list[hp.CaseBegun] = []

    def step(case: Case, happening: hp.Happening) -> tuple[ev.Event, ...]:
        if isinstance(happening, hp.CaseBegun):
            begun.append(happening)
        return asking_step(case, happening)

    helpline = small_helpline(book, step=step)
    say(helpline, "agreed", "s1")
    say(helpline, "new problem in the flower cooler", "s2", 1)
    assert consents(book) == [("opt_in", "follow_up", "text")]
    say(helpline, "stop", "s3", 2)
    say(helpline, "start", "s4", 3)
    say(helpline, "new problem in the shop", "s5", 4)
    helpline.open_case(client_id="page", at=after(5), text="too warm")

    assert [one.agreed for one in begun] == [(), ("follow_up",), (), None]


def test_the_first_yes_is_confirmed_once_with_what_the_rules_ask_for(book: Casebook) -> None:
    # CTIA Messaging Principles (May 2023) 5.1.2.1: the confirmation of recurring texts names sender, rates, help, stop
    post = Post()
    helpline = small_helpline(book, post, step=asking_step)
    say(helpline, "agreed", "s1")
    say(helpline, "agreed", "s2", 1)
    helpline.run_due(after(2))
    (told,) = [text for text in post.texts() if "rates" in text]
    assert all(word in told for word in ("Cold room helpline", "HELP", "STOP", "Frequency"))
