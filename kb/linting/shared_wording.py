"""`shared-wording`: words that lead to two findings, or to two states of one.

A thing with a word of a quality, in one clause, gives a state; so does a wording said of one of the finding's things. Where the same
words give two, the reading has to guess.

passes:
    finding: filter
    things: [filter]
    states: {clean: {is: [clean], en: [clean], es: [limpio]}, clogged: {is: [dirty], en: [clogged], es: [tapado]}}
fails:
    finding: filter
    things: [filter]
    states: {clean: {is: [dirty], en: [clean], es: [limpio]}, clogged: {is: [dirty], en: [clogged], es: [tapado]}}
"""

from collections.abc import Iterator
from dataclasses import dataclass

from kb.ids import LANGUAGES
from kb.knowledge import Knowledge
from kb.linting.rule import Rule
from kb.linting.words import heard
from kb.problems import Problem
from kb.schema import Finding, Wordings
from kb.shelf import Shelf
from kb.written import Location


@dataclass(frozen=True, slots=True)
class _Claim:
    """Words that one state of one finding claims for itself; `thing` is empty for words that need none."""

    thing: str
    words: str
    finding: str
    state: str
    at: Location


def search(shelf: Shelf, knowledge: Knowledge) -> Iterator[Problem]:
    """Every later claim to the same words, told once at its place, whatever number of things it is about."""
    first: dict[tuple[str, str], _Claim] = {}
    told: set[tuple[str, Location]] = set()
    for claim in (claim for finding in knowledge.findings.values() for claim in _claims(knowledge, finding)):
        earlier = first.setdefault((claim.thing, claim.words), claim)
        same = (earlier.finding, earlier.state) == (claim.finding, claim.state)
        if not same and (claim.finding, claim.at) not in told:
            told.add((claim.finding, claim.at))
            yield _told(shelf, earlier, claim)


def _claims(knowledge: Knowledge, finding: Finding) -> Iterator[_Claim]:
    for state, wordings in finding.states.items():
        for about in finding.things or (f"the question about {finding.finding}",):
            for index, quality in enumerate(wordings.is_):
                for language in LANGUAGES:
                    for words in knowledge.qualities[quality].in_(language):
                        yield _Claim(
                            about, heard(words), finding.finding, state, ("states", state, "is", index)
                        )
            yield from _each(about, finding, state, ("states", state), wordings)
    for state, sayings in finding.sayings.items():
        yield from _each("", finding, state, ("sayings", state), sayings)
    asked = f"the question about {finding.finding}"
    for state, answers in finding.answers.items():
        yield from _each(asked, finding, state, ("answers", state), answers)


def _each(about: str, finding: Finding, state: str, at: Location, wordings: Wordings) -> Iterator[_Claim]:
    for language in LANGUAGES:
        for index, words in enumerate(wordings.in_(language)):
            yield _Claim(about, heard(words), finding.finding, state, (*at, language, index))


def _told(shelf: Shelf, earlier: _Claim, claim: _Claim) -> Problem:
    said = f"“{claim.words}”" + (f" said of `{claim.thing}`" if claim.thing else "")
    return shelf.problem(
        "finding",
        claim.finding,
        *claim.at,
        what=f"{said} means `{earlier.finding}: {earlier.state}` already",
        why=f"the reading would have to guess between that and `{claim.finding}: {claim.state}`",
        mend="keep the words where most people mean them, and take them out of the other",
        rule=RULE.name,
    )


RULE = Rule("shared-wording", search)
