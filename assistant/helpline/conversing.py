"""The real conversation, its knowledge in its place, as the use cases take it."""

from collections.abc import Mapping
from pathlib import Path
from typing import Final

from assistant.conversation import Case, step
from assistant.conversation.moving import move, moved
from assistant.conversation.pending import as_read
from assistant.conversation.turn import Turn
from assistant.helpline.drafting import draft_of
from assistant.helpline.glossing import sentences_to_hand
from assistant.helpline.insight import insight_into
from assistant.helpline.plug import Conversing
from assistant.helpline.sheets import sheet_of
from assistant.helpline.talk_sheet import talk_of
from assistant.reading import SAY_BACK, read
from assistant.thread import lasting_facts
from kb.compiling import compile_
from kb.edition import safety_of
from kb.files import PACKAGED, find_files
from kb.ids import Language
from kb.knowledge import Knowledge
from kb.loading import load_files

LANGUAGES: Final[tuple[Language, ...]] = ("en", "es")


def conversing_with(knowledge: Knowledge, folder: Path = PACKAGED) -> Conversing:
    """The conversation with this knowledge, which was loaded from `folder`."""
    files, _ = find_files(folder)
    return _plugged(knowledge, {file.relative: file.data.decode() for file in files})


def conversing_over(files: Mapping[str, str]) -> Conversing:
    """The conversation with the knowledge in these files, by their path; with all that is worked out beforehand.

    Fails with `KnowledgeError`, which carries every problem found.
    """
    knowledge = load_files(files)
    warm_up(knowledge)
    return _plugged(knowledge, files)


def warm_up(knowledge: Knowledge) -> None:
    """Work out what the first message would else wait for."""
    compile_(knowledge)
    read(knowledge, "hello")


def _plugged(knowledge: Knowledge, files: Mapping[str, str]) -> Conversing:
    return Conversing(
        edition=knowledge.edition,
        safety=safety_of(knowledge),
        step=lambda case, happening: step(knowledge, case, happening),
        answers=lambda case, text: answers_open_question(knowledge, case, text),
        waits_for_number=lambda case: waits_for_number(knowledge, case),
        lasting=lambda case: lasting_facts(knowledge, today(knowledge, case)),
        insight=lambda case, at: insight_into(knowledge, case, at),
        sheet=lambda log, at, language: sheet_of(knowledge, log, at, language),
        states={str(finding): tuple(map(str, node.states)) for finding, node in knowledge.findings.items()},
        causes={language: causes_in_words(knowledge, language) for language in LANGUAGES},
        complaints={
            language: {
                str(symptom): node.say_back.in_(language) for symptom, node in knowledge.symptoms.items()
            }
            for language in LANGUAGES
        },
        endangers=lambda text: tells_of_danger(knowledge, text),
        hazards={
            "en": {str(hazard): node.means for hazard, node in knowledge.hazards.items()},
            "es": {
                str(hazard): node.first.es.partition(".")[0] for hazard, node in knowledge.hazards.items()
            },
        },
        fixes={
            language: {str(fix): node.means.in_(language) for fix, node in knowledge.fixes.items()}
            for language in LANGUAGES
        },
        sentences={language: sentences_to_hand(knowledge, language) for language in LANGUAGES},
        talk=lambda log, language: talk_of(knowledge, log, language),
        draft=lambda log, words, language: draft_of(knowledge, log, words, language),
        files=files,
    )


def answers_open_question(knowledge: Knowledge, case: Case, text: str) -> bool:
    """The text fits the question that is open, surely enough to be taken or said back."""
    if case.waiting_for is None:
        return False
    turn = Turn(knowledge=knowledge, case=case, at=case.waiting_for.at)
    reading = read(knowledge, text, about=as_read(turn), language=case.language)
    return reading.answer.kind in ("state", "number") and reading.outcome != "ask"


def tells_of_danger(knowledge: Knowledge, text: str) -> bool:
    """The text, read by itself, tells surely enough of a danger to people."""
    return any(
        knowledge.hazards[said.hazard].level == "danger" and said.confidence >= SAY_BACK
        for said in read(knowledge, text).hazards
    )


def today(knowledge: Knowledge, case: Case) -> Case:
    """A case of another edition in the ids of this one."""
    if case.edition in (None, knowledge.edition) or case.opened is None:
        return case
    return moved(case, move(knowledge, case, case.opened.at))


def causes_in_words(knowledge: Knowledge, language: Language) -> dict[str, str]:
    """Every cause by its id, and by the ids that it had."""
    words = {str(cause): node.means.in_(language) for cause, node in knowledge.causes.items()}
    old = {id_: knowledge.trail.now(kind, id_) for kind, id_ in knowledge.trail.renamed if kind == "cause"}
    return {id_: words[now] for id_, now in old.items() if now in words} | words


def waits_for_number(knowledge: Knowledge, case: Case) -> bool:
    """The open question wants a number."""
    waiting = case.waiting_for
    if waiting is None:
        return False
    if waiting.kind == "check":
        check = knowledge.checks.get(waiting.check) if waiting.check else None
        return check is not None and check.measures is not None
    return waiting.kind == "number" or (waiting.kind == "consent" and waiting.quantity is not None)
