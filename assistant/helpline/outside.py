"""What is said to an address outside any case: about our texts themselves, and which room a number is of."""

from datetime import datetime
from typing import Final

from sqlalchemy.orm import Session

from assistant.casebook import Address, outbox, people, personal
from assistant.conversation.ids import ASSISTANT
from assistant.helpline.house import House
from assistant.helpline.keys import id_from
from assistant.thread import ThreadSentence, in_words
from kb.ids import Language

NOTICE: Final = "notice"
"""The voice of a text about our limits, which they do not hold back."""


def language_to(session: Session, address: Address) -> Language:
    """The language of what is said to an address outside any case."""
    spoken = [people.language_of(session, person) for person in people.persons_of(session, address.id)]
    return next((language for language in spoken if language), None) or address.language or "en"


def say_outside(
    session: Session,
    house: House,
    address_id: str,
    answers: str,
    sentence: ThreadSentence,
    at: datetime,
    *,
    language: Language | None = None,
    despite_optout: bool = False,
    voice: str = ASSISTANT,
    **values: str,
) -> int:
    """Put out a text that no case says; its number. `answers`: what it answers, once for each sentence."""
    address = people.address(session, address_id)
    words = in_words(
        sentence,
        language or language_to(session, address),
        desk=house.desk.name,
        contact=house.desk.contact,
        **values,
    )
    text_id = id_from(house.key, "reply", answers, sentence)
    personal.write_text(session, personal.REPLY, text_id, words, None)
    return outbox.put_out(
        session,
        case_id=None,
        sequence=None,
        text_id=text_id,
        channel=address.channel,
        address_id=address_id,
        made_at=at,
        due_after=at,
        voice=voice,
        version=0,
        safety=False,
        names_room=False,
        despite_optout=despite_optout,
    )
