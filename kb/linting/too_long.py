"""`too-long`: a text that does not fit the texts it is sent in.

Counted as sent: look-alikes replaced, Spanish vowels folded where that saves a part. A question with its numbered options may take
two parts, so may a step with its caution; a hazard's first sentence one part, but for a danger, which may take two.

passes:
    check: look_at_filter
    ask: {en: How does the filter look?, es: ¿Cómo está el filtro?}
fails:
    check: look_at_filter
    ask:
      en: "Please go to the unit and stand in front of it. Find the grille, which is the part with the slots.
        Behind that grille is the mesh that we call the filter. Slide it out and carry it to a window. Hold it up to
        the sky or to a lamp, and look through it. Then tell me what you see between the threads of the mesh."
      es: ¿Cómo está el filtro?
"""

from collections.abc import Iterable, Iterator
from types import MappingProxyType
from typing import Final, NamedTuple

from kb.files import Kind
from kb.gsm7 import fold_for_sms, segments
from kb.ids import LANGUAGES, CheckId, FixId, HazardId, Language
from kb.knowledge import Knowledge
from kb.linting.rule import Rule
from kb.problems import Problem
from kb.schema import Check, Fix, Hazard, Text
from kb.shelf import Shelf
from kb.written import Location

CALL: Final = MappingProxyType[Language, str]({"en": "Call 911 or 112.", "es": "Llame al 911 o al 112."})
"""The longest of the sentences that stand for `{call}` where the region is known by number."""


ROOM: Final = MappingProxyType({1: 150, 2: 290})
"""Characters to aim at, by parts."""


class Sent(NamedTuple):
    """One text as it goes out, with the parts it may take."""

    at: Location
    language: Language
    text: str
    at_most: int
    named: str


def search(shelf: Shelf, knowledge: Knowledge) -> Iterator[Problem]:
    """Texts of checks, fixes and hazards that take more parts than they may."""
    for check in knowledge.checks.values():
        yield from _told(shelf, "check", check.check, _of_check(knowledge, check))
    for fix in knowledge.fixes.values():
        yield from _told(shelf, "fix", fix.fix, _of_fix(fix))
    for hazard in knowledge.hazards.values():
        yield from _told(shelf, "hazard", hazard.hazard, _of_hazard(hazard))


def sent_texts(knowledge: Knowledge, kind: str, id_: str) -> tuple[Sent, ...]:
    """The texts of a check, fix or hazard as they go out; none of other kinds."""
    match kind:
        case "check":
            return tuple(_of_check(knowledge, knowledge.checks[CheckId(id_)]))
        case "fix":
            return tuple(_of_fix(knowledge.fixes[FixId(id_)]))
        case "hazard":
            return tuple(_of_hazard(knowledge.hazards[HazardId(id_)]))
        case _:
            return ()


def numbered(check: Check, knowledge: Knowledge, language: Language) -> str:
    """The options as they stand behind a question: "1 clean 2 dusty 3 clogged"; nothing where a number is asked for."""
    if check.measures is not None:
        return ""
    states = knowledge.findings[check.finds].states
    labels = [next(iter(states[state].in_(language)), "") for state in check.offers or states]
    return " ".join(f"{place} {label}" for place, label in enumerate(labels, start=1))


def _of_check(knowledge: Knowledge, check: Check) -> Iterator[Sent]:
    for language in LANGUAGES:
        options = numbered(check, knowledge, language)
        for key, text in (("ask", check.ask), ("again", check.again)):
            yield Sent(
                (key, language),
                language,
                f"{text.in_(language)} {options}".strip(),
                2,
                "the question with its options",
            )
        for key, said in (("why", check.why), ("how", check.how), ("caution", check.caution)):
            if said is not None:
                yield Sent((key, language), language, said.in_(language), 2, "the text")


def _of_fix(fix: Fix) -> Iterator[Sent]:
    for language in LANGUAGES:
        for index, step in enumerate(fix.steps):
            caution = "" if step.caution is None else step.caution.in_(language)
            yield Sent(
                ("steps", index, language),
                language,
                f"{caution} {step.in_(language)}".strip(),
                2,
                "the step with its caution",
            )
        yield Sent(("should_change", language), language, fix.should_change.in_(language), 1, "the text")


def _of_hazard(hazard: Hazard) -> Iterator[Sent]:
    parts: list[tuple[Location, Text | None]] = [(("first",), hazard.first), (("then",), hazard.then)]
    parts += [(("after", answer), text) for answer, text in hazard.after.items()]
    for at, text in parts:
        if text is None:
            continue
        for language in LANGUAGES:
            said = text.in_(language).replace("{call}", CALL[language]).replace("{call_all}", CALL[language])
            yield Sent((*at, language), language, said, 2 if hazard.level == "danger" else 1, "the text")


def _told(shelf: Shelf, kind: Kind, id_: str, sent: Iterable[Sent]) -> Iterator[Problem]:
    for part in sent:
        folded = fold_for_sms(part.text)
        if segments(folded) > part.at_most:
            yield shelf.problem(
                kind,
                id_,
                *part.at,
                what=f"{part.named} takes {segments(folded)} SMS parts, {len(folded)} characters; it may take {part.at_most}",
                why="parts are paid for, arrive apart, and nobody reads the third with wet hands",
                mend=f"say it in {ROOM[part.at_most]} characters",
                rule=RULE.name,
            )


RULE = Rule("too-long", search)
