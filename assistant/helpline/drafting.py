"""A new failure path as a draft for the author, filled in with what a closed case showed."""

from functools import reduce
from typing import Final

from assistant.conversation.case import apply, new_case
from assistant.conversation.events import FactLearned, FixDone
from assistant.helpline.steps_of_belief import Log
from kb.ids import FindingId, Language
from kb.knowledge import Knowledge

TOLD: Final = ("said", "answer", "colleague", "sum")
LONGEST_ID: Final = 40
DRAFTED_STRENGTH: Final = "often"
"""One case shows that it can show so, not how strongly: the author says that."""


def before_mending(log: Log) -> dict[FindingId, FactLearned]:
    """The latest fact of each finding that was told before the first fix was done."""
    facts: dict[FindingId, FactLearned] = {}
    for _, event in log:
        if isinstance(event, FixDone):
            break
        if isinstance(event, FactLearned) and event.source in TOLD:
            facts[event.finding] = event
    return facts


def draft_of(knowledge: Knowledge, log: Log, words: str, language: Language) -> str:
    """A failure path as YAML for the author to go on with: what a case showed that was none of those listed."""
    case = reduce(apply, (event for _, event in log), new_case())
    means, _, mended = words.partition("\n")
    facts = before_mending(log)
    equipment = facts.get(FindingId("equipment"))
    odd = [fact for fact in facts.values() if _is_odd(knowledge, fact)]
    symptoms = dict.fromkeys(str(heard.symptom) for heard in case.complaints)
    said = ", ".join(f"{fact.finding}: {fact.state}" for fact in odd)
    other = "es" if language == "en" else "en"
    lines = [
        f"# A draft from one closed case. What mended it: {_one_line(mended) or 'not written down'}",
        "# Write the other language, how common it is and how strongly each shows; name its fix; then run `helpline kb check`.",
        f"cause: {_slug(means)}",
        "means:",
        f"  {language}: {_quoted(means)}",
        f"  {other}: {_quoted('')}",
        f"equipment: [{equipment.state if equipment else ''}]",
        "how_common: rare",
        f"complaints: {{{', '.join(f'{symptom}: {DRAFTED_STRENGTH}' for symptom in symptoms)}}}",
        "shows:",
        *(f"  {fact.finding}: {{{fact.state}: {DRAFTED_STRENGTH}}}" for fact in odd),
        "fixes: []",
        "examples:",
        f"  - said: {{{said}}}",
    ]
    return "\n".join(lines) + "\n"


def _is_odd(knowledge: Knowledge, fact: FactLearned) -> bool:
    node = knowledge.findings.get(fact.finding)
    return node is not None and fact.finding != "equipment" and fact.state != node.normal


def _slug(words: str) -> str:
    """An id from a few words.

    >>> _slug("A tarp over the vent!")
    'a_tarp_over_the_vent'
    """
    kept = "".join(letter if letter.isascii() and letter.isalnum() else " " for letter in words.casefold())
    return "_".join(kept.split())[:LONGEST_ID].rstrip("_") or "new_cause"


def _one_line(words: str) -> str:
    return " ".join(words.split())


def _quoted(words: str) -> str:
    escaped = _one_line(words).replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'
