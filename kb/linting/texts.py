"""Every text that somebody reads, with its place: the rules about wording all walk this one list."""

from collections.abc import Iterator
from dataclasses import dataclass

from pydantic import BaseModel

from kb.files import Kind
from kb.ids import LANGUAGES, Language
from kb.knowledge import Knowledge
from kb.problems import Problem, Severity
from kb.schema import Text, Wordings
from kb.shelf import Shelf
from kb.written import Location


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """One text of a node in both languages: `at` leads to the mapping that holds `en` and `es`."""

    kind: Kind
    id: str
    at: Location
    text: Text

    @property
    def name(self) -> str:
        """The text's name in the whole knowledge: `check:look_at_filter:ask`."""
        return ":".join((self.kind, self.id, *map(str, self.at)))

    def problem(
        self,
        shelf: Shelf,
        language: Language,
        *,
        what: str,
        why: str,
        mend: str,
        rule: str,
        severity: Severity = "error",
    ) -> Problem:
        """A problem at the text in one language."""
        return shelf.problem(
            self.kind,
            self.id,
            *self.at,
            language,
            what=what,
            why=why,
            mend=mend,
            rule=rule,
            severity=severity,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Wording:
    """One way of saying a state, a complaint or a hazard."""

    kind: Kind
    id: str
    at: Location
    words: str
    language: Language

    def problem(
        self, shelf: Shelf, *, what: str, why: str, mend: str, rule: str, severity: Severity = "error"
    ) -> Problem:
        """A problem at the wording."""
        return shelf.problem(
            self.kind, self.id, *self.at, what=what, why=why, mend=mend, rule=rule, severity=severity
        )


def texts(shelf: Shelf) -> Iterator[Written]:
    """Every text in order of kind, id and key."""
    for kind, nodes in shelf.nodes.items():
        for id_, node in nodes.items():
            for at, text in _parts(node, ()):
                if isinstance(text, Text):
                    yield Written(kind=kind, id=id_, at=at, text=text)


def state_wordings(knowledge: Knowledge) -> Iterator[Wording]:
    """Every wording of every state, sayings and answers included."""
    for id_, finding in knowledge.findings.items():
        for state, wordings in finding.states.items():
            yield from _each("finding", id_, ("states", state), wordings)
        for state, said in finding.sayings.items():
            yield from _each("finding", id_, ("sayings", state), said)
        for state, said in finding.answers.items():
            yield from _each("finding", id_, ("answers", state), said)


def sayings(knowledge: Knowledge) -> Iterator[Wording]:
    """Every saying of every complaint and hazard."""
    for symptom_id, symptom in knowledge.symptoms.items():
        yield from _each("symptom", symptom_id, ("sayings",), symptom.sayings)
    for hazard_id, hazard in knowledge.hazards.items():
        yield from _each("hazard", hazard_id, ("sayings",), hazard.sayings)


def _each(kind: Kind, id_: str, at: Location, wordings: Wordings) -> Iterator[Wording]:
    for language in LANGUAGES:
        for index, words in enumerate(wordings.in_(language)):
            yield Wording(kind=kind, id=id_, at=(*at, language, index), words=words, language=language)


def _parts(value: object, at: Location) -> Iterator[tuple[Location, BaseModel]]:
    """Every model inside a node, the node apart, with the keys that lead to it."""
    if isinstance(value, BaseModel):
        if at:
            yield at, value
        for name, field in type(value).model_fields.items():
            yield from _parts(getattr(value, name), (*at, field.alias or name))
    elif isinstance(value, dict):
        for key, item in value.items():
            yield from _parts(item, (*at, key))
    elif isinstance(value, tuple):
        for index, item in enumerate(value):
            yield from _parts(item, (*at, index))
