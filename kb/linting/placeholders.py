"""`placeholder`: a `{…}` that the program does not fill, or that only one language has.

Hazards know `{call}` and, where Spanish speaks to several people, `{call_all}`; no other text has any.

passes:
    hazard: shut_in
    first: {en: "Open the door. {call}", es: "Abran la puerta. {call_all}"}
fails:
    hazard: shut_in
    first: {en: "Open the door. {call}", es: Abra la puerta.}
"""

import re
from collections.abc import Iterator
from typing import Final

from kb.ids import LANGUAGES, Language
from kb.knowledge import Knowledge
from kb.linting.rule import Rule
from kb.linting.texts import Written, texts
from kb.problems import Problem
from kb.shelf import Shelf

KNOWN: Final = frozenset({"call", "call_all"})


def search(shelf: Shelf, knowledge: Knowledge) -> Iterator[Problem]:
    """Unknown placeholders, then those of one language only."""
    for written in texts(shelf):
        en, es = (re.findall(r"\{(.*?)\}", written.text.in_(language)) for language in LANGUAGES)
        for language, names in zip(LANGUAGES, (en, es), strict=True):
            for name in names:
                if name not in KNOWN or written.kind != "hazard":
                    yield _unknown(shelf, written, language, name)
        if len(en) != len(es):
            yield written.problem(
                shelf,
                "es",
                what=f"English has {len(en)} places to fill, Spanish {len(es)}",
                why="half of the customers would not be told whom to call",
                mend="write `{call}` in both (`{call_all}` where Spanish speaks to several people)",
                rule=RULE.name,
            )


def _unknown(shelf: Shelf, written: Written, language: Language, name: str) -> Problem:
    return written.problem(
        shelf,
        language,
        what=f"nothing fills `{{{name}}}` here",
        why="the customer would read the braces",
        mend="write the words themselves; hazards know `{call}` and `{call_all}`",
        rule=RULE.name,
    )


RULE = Rule("placeholder", search)
