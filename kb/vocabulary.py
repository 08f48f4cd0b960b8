"""The vocabulary: every id that an answer of the program may hold, with its meaning in English.

Whoever scores readings, or writes labelled sets, works from this list (`helpline kb vocabulary`).
"""

from collections.abc import Iterable, Mapping
from typing import TypeAlias

from kb.knowledge import Knowledge
from kb.schema import Check, Finding, Hazard, Quantity, Symptom

Row: TypeAlias = Mapping[str, str | float | bool | list["Row"] | None]

CHAPTERS = ("findings", "quantities", "hazards", "complaints", "checks")


def vocabulary(knowledge: Knowledge) -> dict[str, list[Row]]:
    """Chapters of rows, each in order of id: findings, quantities, hazards, complaints and checks; ready for JSON."""
    return {
        "findings": [_finding(finding) for finding in knowledge.findings.values()],
        "quantities": [_quantity(id_, quantity) for id_, quantity in knowledge.quantities.items()],
        "hazards": [_hazard(hazard) for hazard in knowledge.hazards.values()],
        "complaints": [_complaint(symptom) for symptom in knowledge.symptoms.values()],
        "checks": [_check(check) for check in knowledge.checks.values()],
    }


def vocabulary_text(knowledge: Knowledge) -> str:
    """The same for a reader: a chapter a block, an id and its meaning a line, states indented under their finding."""
    chapters = vocabulary(knowledge)
    blocks = ["\n".join((chapter, *_lines(chapters[chapter]))) for chapter in CHAPTERS if chapters[chapter]]
    return "\n\n".join(blocks) + "\n"


def _finding(finding: Finding) -> Row:
    return {
        "id": finding.finding,
        "means": finding.means.en,
        "history": finding.history,
        "states": [
            {"id": state, "means": next(iter(wordings.en), state), "normal": state == finding.normal}
            for state, wordings in finding.states.items()
        ],
    }


def _quantity(id_: str, quantity: Quantity) -> Row:
    return {
        "id": id_,
        "means": quantity.means.en,
        "kind": quantity.kind,
        "at_least": quantity.at_least,
        "at_most": quantity.at_most,
    }


def _hazard(hazard: Hazard) -> Row:
    return {"id": hazard.hazard, "means": hazard.means, "level": hazard.level}


def _complaint(symptom: Symptom) -> Row:
    return {"id": symptom.symptom, "means": symptom.means.en}


def _check(check: Check) -> Row:
    return {"id": check.check, "means": check.ask.en, "finds": check.finds, "measures": check.measures}


def _lines(rows: Iterable[Row], indent: int = 2) -> Iterable[str]:
    for row in rows:
        extra = "".join(f" [{row[key]}]" for key in ("level", "kind", "finds") if row.get(key))
        extra += " [normal]" if row.get("normal") else ""
        yield f"{'':{indent}}{row['id']}: {row['means']}{extra}"
        states = row.get("states")
        if isinstance(states, list):
            yield from _lines(states, indent + 4)
