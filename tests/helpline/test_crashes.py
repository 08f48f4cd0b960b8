"""The process dies between any two statements; afterwards nothing acknowledged is lost, and nothing happens twice."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager

import pytest
from sqlalchemy import Engine, event, select

from assistant.casebook import Casebook
from assistant.casebook.tables import EventRow, InboxRow, OutboxRow, PersonalTextRow, TimerRow
from assistant.helpline import Helpline
from kb.errors import RequestError
from tests.casebook.books import empty
from tests.helpline.fakes import NOON, TEXAS, Post, after, small_helpline

LATER = 4 * 60 + 1


class PowerCut(BaseException):
    """No `except Exception` may outlive it."""


class Plug:
    """Pulled before the n-th statement; until then it counts."""

    def __init__(self) -> None:
        self.seen = 0
        self.at: int | None = None

    def look(self, *_: object) -> None:
        self.seen += 1
        if self.at is not None and self.seen >= self.at:
            raise PowerCut


@contextmanager
def plugged(engine: Engine) -> Iterator[Plug]:
    plug = Plug()
    event.listen(engine, "before_cursor_execute", plug.look)
    event.listen(engine, "commit", plug.look)
    try:
        yield plug
    finally:
        event.remove(engine, "before_cursor_execute", plug.look)
        event.remove(engine, "commit", plug.look)


Deed = Callable[[Helpline], object]


def web_day() -> tuple[Deed, ...]:
    def case(helpline: Helpline) -> str:
        return helpline.open_case(client_id="c1", at=NOON, text="too warm").case

    return (
        lambda helpline: helpline.open_case(client_id="c1", at=NOON, text="too warm"),
        lambda helpline: helpline.receive(case(helpline), None, "ask me later", "m1", after(1)),
        lambda helpline: helpline.receive(case(helpline), None, "break", "m2", after(2)),
    )


def phone_day() -> tuple[Deed, ...]:
    return (
        lambda helpline: helpline.receive_from("sms", TEXAS, "ask me later", "s1", NOON),
        lambda helpline: helpline.run_due(after(LATER)),
        lambda helpline: helpline.receive_from("sms", TEXAS, "49", "s2", after(LATER)),
        lambda helpline: helpline.run_due(after(LATER)),
        lambda helpline: helpline.receive_from("sms", TEXAS, "stop", "s3", after(LATER)),
    )


def desk_day() -> tuple[Deed, ...]:
    def case(helpline: Helpline) -> str:
        return helpline.open_case(client_id="c1", at=NOON).case

    return (
        case,
        lambda helpline: helpline.take_over(case(helpline), "Ana", after(1)),
        lambda helpline: helpline.write(case(helpline), "Ana", "Hello", seen=9, client_id="w1", at=after(2)),
        lambda helpline: helpline.receive(case(helpline), None, "hello", "m1", after(3)),
    )


def told(book: Casebook) -> dict[str, list[tuple[object, ...]]]:
    """Everything that matters of what is in the book."""
    columns = {
        "events": select(EventRow.case_id, EventRow.sequence, EventRow.kind, EventRow.body),
        "messages": select(InboxRow.client_id, InboxRow.case_id, InboxRow.state, InboxRow.answer_from, InboxRow.answer_until),
        "timers": select(TimerRow.case_id, TimerRow.name, TimerRow.due),
        "texts": select(OutboxRow.case_id, OutboxRow.sequence, OutboxRow.text_id, OutboxRow.state),
        "words": select(PersonalTextRow.kind, PersonalTextRow.owner, PersonalTextRow.person_id, PersonalTextRow.text),
    }  # fmt: skip
    with book.reading() as session:
        return {name: sorted(map(tuple, session.execute(query)), key=repr) for name, query in columns.items()}


def undisturbed(book: Casebook, day: tuple[Deed, ...], post: Post) -> None:
    helpline = small_helpline(book, post)
    for deed in day:
        deed(helpline)
    helpline.run_due(after(LATER))


def cut_short(book: Casebook, day: tuple[Deed, ...], post: Post, plug: Plug) -> int | None:
    """The deed in which the power failed; None: it held to the end."""
    helpline = small_helpline(book, post)
    for number, deed in enumerate(day):
        try:
            deed(helpline)
        except PowerCut:
            return number
    plug.at = None
    return None


@pytest.mark.parametrize("day", [web_day, phone_day, desk_day])
def test_a_power_cut_before_any_statement_loses_nothing_and_repeats_nothing(
    book: Casebook, engine: Engine, day: Callable[[], tuple[Deed, ...]]
) -> None:
    whole = Post()
    undisturbed(book, day(), whole)
    wanted, statement, failed_in = told(book), 0, 0
    while failed_in is not None:
        empty(engine)
        statement += 1
        post = Post()
        with plugged(engine) as plug:
            plug.at = statement
            failed_in = cut_short(book, day(), post, plug)

        helpline = small_helpline(book, post)  # the next morning: a new process, and clients that try again
        if failed_in is not None:
            helpline.run_due(NOON)
            for deed in day()[failed_in:]:
                deed(helpline)
        helpline.run_due(after(LATER))
        helpline.run_due(after(LATER + 5))

        assert told(book) == wanted, f"cut before statement {statement}"
        assert_carried(post, whole, statement)
    assert statement > 50


def assert_carried(post: Post, whole: Post, statement: int) -> None:
    """Every text arrived in its order; the one whose fate nobody knew may have arrived twice."""
    first_times = list(dict.fromkeys(zip(post.once, post.texts(), strict=True)))
    assert [text for _, text in first_times] == whole.texts(), f"cut before statement {statement}"
    assert len(post.carried) - len(whole.carried) in (0, 1), f"cut before statement {statement}"


def test_what_was_taken_in_is_answered_even_if_the_client_never_comes_back(book: Casebook, engine: Engine) -> None:
    helpline = small_helpline(book)
    case = helpline.open_case(client_id="c1", at=NOON).case
    statement = 0
    while True:
        statement += 1
        with plugged(engine) as plug:
            plug.at = statement
            try:
                helpline.receive(case, None, "loud", f"m{statement}", after(statement))
            except PowerCut:
                pass
            else:
                break
        small_helpline(book).run_due(after(statement))
        with book.reading() as session:
            states = set(session.scalars(select(InboxRow.state)))
        assert states <= {"answered"}, f"cut before statement {statement}"
    with book.reading() as session:
        heard = [body["message"] for body in session.scalars(select(EventRow.body).where(EventRow.kind == "Heard"))]
    assert len(heard) == len(set(heard)) > 1


def test_a_sweep_and_a_client_that_tries_again_do_not_answer_twice(book: Casebook, engine: Engine) -> None:
    helpline = small_helpline(book)
    case = helpline.open_case(client_id="c1", at=NOON).case
    with plugged(engine) as plug:
        plug.at = 8
        with pytest.raises(PowerCut):
            helpline.receive(case, None, "loud", "m1", after(1))

    first = small_helpline(book)
    first.run_due(after(2))
    again = first.receive(case, None, "loud", "m1", after(3))

    assert len([message for message in first.messages_after(case) if message.from_ == "customer"]) == 1
    assert [message.text for message in again.messages] == ["Question 1?"]
    with pytest.raises(RequestError):
        first.receive(case, None, "other", "m1", after(4))
