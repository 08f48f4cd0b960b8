"""The conversation as a colleague reads it: how each message was understood, ours in their language, what fits next."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import reduce
from typing import Final

from assistant.conversation.case import Case, apply, new_case
from assistant.conversation.events import (
    ComplaintHeard,
    Event,
    FactLearned,
    HazardRaised,
    Heard,
    NumberLearned,
    Said,
)
from assistant.conversation.ids import MessageId
from assistant.conversation.known import fact_words, number_words
from assistant.helpline.glossing import gloss
from assistant.helpline.steps_of_belief import Log
from kb.ids import Language
from kb.knowledge import Knowledge

LIKELY: Final = 0.10
MOST_CAUSES: Final = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Talk:
    """What stands beside the messages; a message by its place in the log."""

    read_as: Mapping[int, tuple[str, ...]]
    """What was understood of a customer's message, in words."""
    glosses: Mapping[int, str]
    """What we said in another language, in the colleague's."""
    suggested: tuple[str, ...]
    """Sentences to hand that fit this case, by their ids."""


def talk_of(knowledge: Knowledge, log: Log, language: Language) -> Talk:
    """The talk of a case from its log."""
    case = reduce(apply, (event for _, event in log), new_case())
    region = case.opened.region if case.opened else "unknown"
    return Talk(
        read_as=read_as(knowledge, log, case, language),
        glosses={
            place: words
            for place, event in log
            if isinstance(event, Said) and (words := gloss(knowledge, event, language, region)) is not None
        },
        suggested=suggested(knowledge, case),
    )


def read_as(knowledge: Knowledge, log: Log, case: Case, language: Language) -> dict[int, tuple[str, ...]]:
    """What each message told, as it was read then; a colleague's corrections stand on the sheet."""
    places: dict[MessageId, int] = {}
    told: dict[int, list[str]] = {}
    for place, event in log:
        if isinstance(event, Heard):
            places[event.message] = place
        message = getattr(event, "message", None)
        if message in places and (words := _words(knowledge, event, case, language)) is not None:
            told.setdefault(places[message], []).append(words)
    return {place: tuple(dict.fromkeys(words)) for place, words in told.items()}


def _words(knowledge: Knowledge, event: Event, case: Case, language: Language) -> str | None:
    match event:
        case FactLearned() if event.source != "implied" and event.finding in knowledge.findings:
            return fact_words(knowledge, event.finding, event.state, language)
        case NumberLearned() if event.quantity in knowledge.quantities:
            return number_words(knowledge, event.quantity, event.si, case, language)
        case ComplaintHeard() if event.symptom in knowledge.symptoms:
            return knowledge.symptoms[event.symptom].say_back.in_(language)
        case HazardRaised() if event.hazard in knowledge.hazards:
            return knowledge.hazards[event.hazard].means
        case _:
            return None


def suggested(knowledge: Knowledge, case: Case) -> tuple[str, ...]:
    """Safety first, then what mends the likely causes, then what we always need."""
    hazards = [f"hazard:{raised.hazard}" for raised in case.hazards if raised.hazard in knowledge.hazards]
    likely = [cause for cause, share in case.believed.causes if share >= LIKELY] if case.believed else []
    fixes = [
        f"fix:{fix}"
        for cause in likely[:MOST_CAUSES]
        if cause in knowledge.causes
        for fix in knowledge.causes[cause].fixes[:1]
        if knowledge.fixes[fix].steps
    ]
    return tuple(dict.fromkeys([*hazards, *fixes, "desk_looking", "desk_number", "product_first"]))
