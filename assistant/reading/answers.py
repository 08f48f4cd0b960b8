"""What people say who were asked, as it is heard in a message: right beside the name of the thing."""

from collections.abc import Iterable
from typing import Final

from assistant.reading import everyday
from assistant.reading.matching import DETERMINERS, LIGHT, PhraseBook
from assistant.reading.normalise import words_of
from assistant.reading.senses import Sense
from kb.ids import LANGUAGES
from kb.knowledge import Knowledge

_THIN: Final = everyday.ENGLISH | everyday.SPANISH | DETERMINERS | LIGHT


def add_answers(book: PhraseBook[Sense], knowledge: Knowledge) -> frozenset[str]:
    """Put answers into the book that tell something unasked, too: two words, one of them no everyday one.

    Returns the words of all answers: they are written on purpose, though no misspelt word becomes one of them.
    """
    seen: set[str] = set()
    for sense, answer in _answers(knowledge):
        words = words_of(answer)
        seen.update(words)
        if len(words) > 1 and any(word not in _THIN for word in words):
            book.add(words, sense)
    return frozenset(seen)


def _answers(knowledge: Knowledge) -> Iterable[tuple[Sense, str]]:
    for finding_id, finding in knowledge.findings.items():
        for state_id, said in finding.answers.items():
            for language in LANGUAGES:
                for answer in said.in_(language):
                    yield Sense("answer", finding_id, state_id, language), answer
