"""`long-sentence` (warning): a sentence that loses a reader with wet hands.

The reviewed sentences of hazards are exempt: they were weighed word by word.

passes:
    fix: clean_filter
    should_change: {en: The air should blow stronger., es: El aire debe salir más fuerte.}
fails:
    fix: clean_filter
    should_change:
      en: The air that comes out of the front of the unit should blow a good deal stronger than it did.
      es: El aire debe salir más fuerte.
"""

from collections.abc import Iterator
from typing import Final

from kb.ids import LANGUAGES
from kb.knowledge import Knowledge
from kb.linting.rule import Rule
from kb.linting.texts import texts
from kb.linting.words import count_words, sentences
from kb.problems import Problem
from kb.shelf import Shelf

MOST_WORDS: Final = 14


def search(shelf: Shelf, knowledge: Knowledge) -> Iterator[Problem]:
    """Sentences of more than fourteen words in checks and fixes."""
    for written in texts(shelf):
        if written.kind not in {"check", "fix"}:
            continue
        for language in LANGUAGES:
            longest = max(map(count_words, sentences(written.text.in_(language))), default=0)
            if longest > MOST_WORDS:
                yield written.problem(
                    shelf,
                    language,
                    what=f"a sentence has {longest} words; {MOST_WORDS} are enough",
                    why="it is read once, outdoors, on a small screen",
                    mend="make two sentences of it",
                    rule=RULE.name,
                    severity="warning",
                )


RULE = Rule("long-sentence", search)
