"""`option`: an answer that cannot be offered, because it has no label or two answers have the same.

The first wording of a state is its label, in each language.

passes:
    finding: filter
    states: {clean: {is: [clean], en: [clean], es: [limpio]}, clogged: {is: [dirty], en: [clogged], es: [tapado]}}
fails:
    finding: filter
    states: {clean: {is: [clean], en: [clean], es: [limpio]}, clogged: {is: [dirty], en: [clogged]}}
"""

from collections.abc import Iterator

from kb.ids import LANGUAGES, Language
from kb.knowledge import Knowledge
from kb.linting.rule import Rule
from kb.linting.words import heard
from kb.problems import Problem
from kb.schema import Check, Finding
from kb.shelf import Shelf


def search(shelf: Shelf, knowledge: Knowledge) -> Iterator[Problem]:
    """Options of checks that ask for words; a check that asks for a number offers none."""
    for check in knowledge.checks.values():
        for language in LANGUAGES if check.measures is None else ():
            yield from _of_check(shelf, check, knowledge.findings[check.finds], language)


def _of_check(shelf: Shelf, check: Check, finding: Finding, language: Language) -> Iterator[Problem]:
    labels: dict[str, str] = {}
    for state in check.offers or finding.states:
        wordings = finding.states[state].in_(language)
        earlier = labels.setdefault(heard(wordings[0]), state) if wordings else state
        if not wordings:
            what = f"`{state}` has no wording in `{language}`, so `{check.check}` cannot offer it"
        elif earlier != state:
            what = f"`{earlier}` and `{state}` are both offered as “{wordings[0]}”"
        else:
            continue
        yield shelf.problem(
            "finding",
            finding.finding,
            "states",
            state,
            key=True,
            what=what,
            why="the customer could not choose it",
            mend=f"write a first wording in `{language}` that no other state has",
            rule=RULE.name,
        )


RULE = Rule("option", search)
