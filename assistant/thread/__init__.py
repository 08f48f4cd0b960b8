"""The thread: which person, room and case a message belongs to; consent, opting out, language, place.

In: a message, and what is known of its address. Out: a decision as a value; the helpline acts on it. Never: a
database, a clock, a word about cold rooms. Start at `choosing`.
"""

from assistant.thread.carrying import lasting_facts
from assistant.thread.choosing import (
    RESUMES_WITHIN,
    AskWhichRoom,
    Choice,
    NewCase,
    OpenCase,
    ToCase,
    choose_case,
    is_bare_number,
    room_offered,
)
from assistant.thread.codes import asks_for_page, code_in
from assistant.thread.consent import ConsentGiven, agreed_to, is_opted_out
from assistant.thread.places import Place, Where, phone_number, place_of, zones_of
from assistant.thread.quiet import first_polite
from assistant.thread.rooms import filled, room_words
from assistant.thread.sentences import ThreadSentence, in_words
from assistant.thread.service_words import (
    ServiceWord,
    is_cry_for_help,
    language_of_word,
    may_be_service_word,
    service_word,
)
from assistant.thread.tidying import plain

__all__ = [
    "RESUMES_WITHIN",
    "AskWhichRoom",
    "Choice",
    "ConsentGiven",
    "NewCase",
    "OpenCase",
    "Place",
    "ServiceWord",
    "ThreadSentence",
    "ToCase",
    "Where",
    "agreed_to",
    "asks_for_page",
    "choose_case",
    "code_in",
    "filled",
    "first_polite",
    "in_words",
    "is_bare_number",
    "is_cry_for_help",
    "is_opted_out",
    "language_of_word",
    "lasting_facts",
    "may_be_service_word",
    "phone_number",
    "place_of",
    "plain",
    "room_offered",
    "room_words",
    "service_word",
    "zones_of",
]
