"""`reserved-word`: a wording that, sent alone, would stop the messages, start them or ask for help.

A longer wording with such a word in it is fine: "it quit cooling".

passes:
    finding: filter
    states: {clean: {is: [clean], en: [clean], es: [limpio]}, clogged: {is: [dirty], en: [it quit letting air through], es: [tapado]}}
fails:
    finding: filter
    states: {clean: {is: [clean], en: [clean], es: [limpio]}, clogged: {is: [dirty], en: [quit], es: [tapado]}}
"""

from collections.abc import Iterator
from typing import Final

from kb.knowledge import Knowledge
from kb.linting.rule import Rule
from kb.linting.texts import sayings, state_wordings
from kb.linting.words import heard
from kb.problems import Problem
from kb.shelf import Shelf

RESERVED: Final = frozenset(
    (
        *(
            "stop",
            "stopall",
            "stop all",
            "unsubscribe",
            "cancel",
            "end",
            "quit",
            "revoke",
            "optout",
            "opt out",
            "opt-out",
        ),
        *("alto", "parar", "pare", "baja", "fin", "cancelar", "salir", "detener", "terminar", "no mas"),
        *("start", "unstop", "iniciar", "alta", "help", "info", "ayuda"),
    )
)
"""English: 47 CFR 64.1200(a)(10) and the keywords that providers act on by themselves; Spanish: ours."""


def search(shelf: Shelf, knowledge: Knowledge) -> Iterator[Problem]:
    """Wordings of states, complaints and hazards that are nothing but such a word."""
    for wording in (*state_wordings(knowledge), *sayings(knowledge)):
        if heard(wording.words) in RESERVED:
            yield wording.problem(
                shelf,
                what=f"“{wording.words}” alone is an order about the messages themselves",
                why="whoever answers with it is cut off, or gets another text than ours",
                mend="say it in two words or more, or take it out",
                rule=RULE.name,
            )


RULE = Rule("reserved-word", search)
