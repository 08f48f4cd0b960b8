"""The figures of labelled sets: what was read right, missed, or made up, by kind and by language.

A set is JSON Lines as in tests/people: a text, its language, the check it answers if any, and labels. A silent
misreading, an answer taken that is not the one meant, is the worst failure, so it has a figure of its own.
"""

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Final

from assistant.reading.pipeline import read
from assistant.reading.questions import open_question
from assistant.reading.said import Answer, QuantitySaid, Reading
from assistant.reading.thresholds import LEAST_HAZARD, SAY_BACK
from kb.ids import CheckId, Language
from kb.knowledge import Knowledge

COUNTED_FROM: Final = 0.5
"""A finding or complaint below this confidence is not counted as read."""
_TOLERANCE: Final = 0.02
_ABSOLUTE: Final = 0.3


@dataclass(frozen=True, slots=True, kw_only=True)
class Labelled:
    """One text with what people say it says."""

    text: str
    language: Language
    about: CheckId | None = None
    findings: Mapping[str, str] = field(default_factory=dict)
    quantities: tuple[tuple[str, float], ...] = ()
    complaints: tuple[str, ...] = ()
    hazards: tuple[str, ...] = ()
    moves: tuple[str, ...] = ()
    answer: Mapping[str, Any] | None = None
    """`Any`: as it stands in the file."""
    kinds: tuple[str, ...] = ()


@dataclass(slots=True)
class Tally:
    """Counts of one kind of thing; grows while a set is scored."""

    hit: int = 0
    missed: int = 0
    made_up: int = 0

    @property
    def precision(self) -> float:
        """Of what was read, how much was said; 1 where nothing was read."""
        read_ = self.hit + self.made_up
        return self.hit / read_ if read_ else 1.0

    @property
    def recall(self) -> float:
        """Of what was said, how much was read; 1 where nothing was said."""
        said = self.hit + self.missed
        return self.hit / said if said else 1.0

    @property
    def f1(self) -> float:
        """The harmonic mean of both.

        >>> round(Tally(hit=8, missed=2, made_up=0).f1, 3)
        0.889
        """
        total = self.precision + self.recall
        return 2 * self.precision * self.recall / total if total else 0.0

    def add(self, meant: set[Any], found: set[Any]) -> None:
        """Count one text."""
        self.hit += len(meant & found)
        self.missed += len(meant - found)
        self.made_up += len(found - meant)


@dataclass(slots=True)
class Score:
    """The figures of one set, or of one language in it."""

    texts: int = 0
    findings: Tally = field(default_factory=Tally)
    quantities: Tally = field(default_factory=Tally)
    complaints: Tally = field(default_factory=Tally)
    hazards: Tally = field(default_factory=Tally)
    moves: Tally = field(default_factory=Tally)
    replies: int = 0
    right: int = 0
    asked_again: int = 0
    silently_wrong: int = 0
    said_back_wrong: int = 0

    def as_dict(self) -> dict[str, object]:
        """The figures as plain values, for printing and for `--json`."""
        tallies = {
            name: getattr(self, name) for name in ("findings", "quantities", "complaints", "hazards", "moves")
        }
        figures: dict[str, object] = {"texts": self.texts}
        for name, tally in tallies.items():
            figures[name] = {
                "precision": round(tally.precision, 3),
                "recall": round(tally.recall, 3),
                "f1": round(tally.f1, 3),
                "hit": tally.hit,
                "missed": tally.missed,
                "made_up": tally.made_up,
            }
        figures["replies"] = {
            "count": self.replies,
            "right": self.right,
            "asked_again": self.asked_again,
            "said_back_wrong": self.said_back_wrong,
            "silently_wrong": self.silently_wrong,
        }
        return figures


@dataclass(frozen=True, slots=True, kw_only=True)
class Mistake:
    """One difference between a label and a reading, for the author to look at."""

    kind: str
    text: str
    meant: str
    found: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Scored:
    """All figures of a set: over all, and by language, with every mistake."""

    whole: Score
    by_language: Mapping[Language, Score]
    mistakes: tuple[Mistake, ...]


def labelled_in(lines: Iterable[str]) -> Iterator[Labelled]:
    """The labelled texts of a JSON Lines file; empty lines are passed over."""
    for line in lines:
        if not line.strip():
            continue
        row = json.loads(line)
        labels = row.get("labels", {})
        yield Labelled(
            text=row["text"],
            language=row["language"],
            about=CheckId(row["about"]) if row.get("about") else None,
            findings=labels.get("findings", {}),
            quantities=tuple(
                (entry["quantity"], float(entry["si"])) for entry in labels.get("quantities", ())
            ),
            complaints=tuple(labels.get("complaints", ())),
            hazards=tuple(labels.get("hazards", ())),
            moves=tuple(labels.get("moves", ())),
            answer=labels.get("answer"),
            kinds=tuple(row.get("kinds", ())),
        )


def score(knowledge: Knowledge, texts: Iterable[Labelled]) -> Scored:
    """Read every text and count."""
    whole = Score()
    by_language: dict[Language, Score] = {"en": Score(), "es": Score()}
    mistakes: list[Mistake] = []
    for labelled in texts:
        question = None
        if labelled.about is not None and labelled.about in knowledge.checks:
            question = open_question(knowledge, labelled.about, labelled.language)
        reading = read(knowledge, labelled.text, about=question)
        for figures in (whole, by_language[labelled.language]):
            _count(figures, labelled, reading, knowledge)
        mistakes.extend(_mistakes(labelled, reading, knowledge))
    return Scored(whole=whole, by_language=by_language, mistakes=tuple(mistakes))


def _count(figures: Score, labelled: Labelled, reading: Reading, knowledge: Knowledge) -> None:
    figures.texts += 1
    asked = labelled.about
    answered = None if asked is None or asked not in knowledge.checks else knowledge.checks[asked].finds
    meant = {entry for entry in labelled.findings.items() if entry[0] != answered}
    figures.findings.add(
        meant, {entry for entry in findings_read(reading, knowledge) if entry[0] != answered}
    )
    wanted, got = _paired(labelled.quantities, reading.quantities)
    if labelled.answer is None or labelled.answer.get("kind") != "number":
        figures.quantities.add(wanted, got)
    figures.complaints.add(
        set(labelled.complaints), {c.symptom for c in reading.complaints if c.confidence >= COUNTED_FROM}
    )
    figures.hazards.add(
        set(labelled.hazards), {h.hazard for h in reading.hazards if h.confidence >= LEAST_HAZARD}
    )
    figures.moves.add(set(labelled.moves), set(reading.moves) & (set(labelled.moves) | _MARKED_MOVES))
    if labelled.answer is not None:
        _count_reply(figures, labelled.answer, reading.answer)


_MARKED_MOVES: Final = frozenset({"why", "how", "skip", "person", "start_over", "back", "english", "spanish"})
"""Moves that a set is expected to mark; courtesies it need not."""


def findings_read(reading: Reading, knowledge: Knowledge) -> set[tuple[str, str]]:
    """The findings that a reading says are so: now, told by another, or past where the past counts."""
    return {
        (str(said.finding), str(said.state))
        for said in reading.findings
        if said.confidence >= COUNTED_FROM
        and (
            said.when in {"now", "by_another"}
            or (said.when == "before" and knowledge.findings[said.finding].history)
        )
    }


def _paired(
    meant: Sequence[tuple[str, float]], found: Sequence[QuantitySaid]
) -> tuple[set[tuple[str, float]], set[tuple[str, float]]]:
    """Both as sets in which values that agree within rounding are equal."""
    read_ = [
        (str(q.quantity), q.si)
        for q in found
        if q.quantity
        and q.si is not None
        and q.when in {"now", "by_another"}
        and q.confidence >= COUNTED_FROM
    ]
    got: set[tuple[str, float]] = set()
    for quantity, si in read_:
        same = next((m for m in meant if m[0] == quantity and agrees(m[1], si)), None)
        got.add(same or (quantity, round(si, 3)))
    return set(meant), got


def agrees(one: float, other: float) -> bool:
    """Two values in SI are the same but for rounding."""
    return abs(one - other) <= max(_ABSOLUTE if abs(one) > 1 else 0.02, _TOLERANCE * abs(one))


def is_right(meant: Mapping[str, Any], answer: Answer) -> bool:
    """The reading answers what the label says."""
    if meant["kind"] != answer.kind:
        return False
    if answer.kind == "state":
        return meant.get("state") == answer.state
    if answer.kind == "number":
        same = answer.value is not None and agrees(float(meant["value"]), answer.value)
        return same and meant.get("unit") in {None, answer.unit}
    return True


def _count_reply(figures: Score, meant: Mapping[str, Any], answer: Answer) -> None:
    figures.replies += 1
    if is_right(meant, answer):
        figures.right += 1
    elif answer.kind in {"none", "unsure"} or answer.confidence < SAY_BACK or _unit_open(answer):
        figures.asked_again += 1
    elif answer.confidence < _TAKEN:
        figures.said_back_wrong += 1
    else:
        figures.silently_wrong += 1


def _unit_open(answer: Answer) -> bool:
    return answer.kind == "number" and answer.unit is None


_TAKEN: Final = 0.9


def _mistakes(labelled: Labelled, reading: Reading, knowledge: Knowledge) -> Iterator[Mistake]:
    asked = labelled.about
    answered = None if asked is None or asked not in knowledge.checks else knowledge.checks[asked].finds
    meant = {entry for entry in labelled.findings.items() if entry[0] != answered}
    found = {entry for entry in findings_read(reading, knowledge) if entry[0] != answered}
    wanted, got = _paired(labelled.quantities, reading.quantities)
    kinds: tuple[tuple[str, set[Any], set[Any]], ...] = (
        ("findings", meant, found),
        (
            "quantities",
            wanted,
            got if labelled.answer is None or labelled.answer.get("kind") != "number" else wanted,
        ),
        (
            "complaints",
            set(labelled.complaints),
            {c.symptom for c in reading.complaints if c.confidence >= COUNTED_FROM},
        ),
        ("hazards", set(labelled.hazards), {h.hazard for h in reading.hazards}),
        ("moves", set(labelled.moves), set(reading.moves) & (set(labelled.moves) | _MARKED_MOVES)),
    )
    for kind, one, other in kinds:
        if one != other:
            missed, extra = sorted(one - other, key=str), sorted(other - one, key=str)
            yield Mistake(kind=kind, text=labelled.text, meant=str(missed), found=str(extra))
    if labelled.answer is not None and not is_right(labelled.answer, reading.answer):
        answer = reading.answer
        found_ = (
            f"{answer.kind} {answer.state or answer.value or ''} {answer.unit or ''} {answer.confidence:.2f}"
        )
        yield Mistake(
            kind=f"reply to {asked}", text=labelled.text, meant=str(dict(labelled.answer)), found=found_
        )
