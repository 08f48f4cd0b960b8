"""What the cases hold for authors: how closed ones went, and what was said that could not be read.

Logs hold no words. Unread words are those of people who were not erased, without their names and numbers as far as the
reading knows them; they leave the casebook only for whoever may open it.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from assistant.casebook import cases, personal
from assistant.conversation.events import Asked, Heard, WaitingFor
from assistant.helpline.house import House
from assistant.helpline.steps_of_belief import Log
from kb.ids import CheckId, Language


@dataclass(frozen=True, slots=True, kw_only=True)
class UnreadWords:
    """A few words of a customer's that nothing was made of."""

    text: str
    language: Language
    check: CheckId | None
    """The question that was open."""


def closed_logs(house: House) -> tuple[Log, ...]:
    """The log of every closed case."""
    with house.casebook.reading() as session:
        return tuple(tuple(cases.events_of(session, case)) for case in cases.case_ids(session, closed=True))


def unread_words(house: House) -> tuple[UnreadWords, ...]:
    """All that was not read, in the order in which it was said; what was erased is missing."""
    with house.casebook.reading() as session:
        found: list[UnreadWords] = []
        for case in cases.case_ids(session):
            heard = tuple(_with_question(cases.events_of(session, case)))
            texts = personal.texts_of(session, personal.MESSAGE, [event.message for event, _ in heard])
            for event, check in heard:
                text = texts.get(event.message, "")
                found += [
                    UnreadWords(text=text[start:end], language=event.language, check=check)
                    for start, end in event.unread
                    if text[start:end].strip()
                ]
        return tuple(found)


def _with_question(log: Log) -> Iterator[tuple[Heard, CheckId | None]]:
    """Every message with the check that it answered."""
    check: CheckId | None = None
    for _, event in log:
        if isinstance(event, Heard):
            yield event, check
        elif isinstance(event, WaitingFor | Asked):
            check = event.check
