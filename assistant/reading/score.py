"""How well labelled texts are read: what was read right, missed, or made up, text by text.

A silent misreading, an answer taken that is not the one meant, is the worst failure, so it has a figure of its own.
Sums over any choice of texts (a language, a kind) are one `Score`.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Final, Literal

from assistant.reading.labelled import Labelled, labelled_in, set_files, texts_of
from assistant.reading.pipeline import read
from assistant.reading.questions import open_question
from assistant.reading.said import Answer, QuantitySaid, Reading
from assistant.reading.thresholds import LEAST_HAZARD, SAY_BACK, TAKE
from kb.ids import FindingId, Language
from kb.knowledge import Knowledge

__all__ = [
    "COUNTED_FROM",
    "PARTS",
    "Labelled",
    "Mistake",
    "Outcome",
    "Part",
    "Score",
    "Scored",
    "Tally",
    "TextScore",
    "agrees",
    "answered_by",
    "findings_read",
    "is_right",
    "judged",
    "labelled_in",
    "meant_by",
    "score",
    "set_files",
    "texts_of",
]

Part = Literal["findings", "quantities", "complaints", "hazards", "moves"]
PARTS: Final[tuple[Part, ...]] = ("findings", "quantities", "complaints", "hazards", "moves")
Outcome = Literal["right", "asked_again", "said_back_wrong", "silently_wrong"]

COUNTED_FROM: Final = 0.5
"""A finding or complaint below this confidence is not counted as read."""
_TOLERANCE: Final = 0.02
_ABSOLUTE: Final = 0.3
_SMALL: Final = 0.02


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

    def add(self, meant: frozenset[Any], found: frozenset[Any]) -> None:
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

    def add(self, text: "TextScore") -> None:
        """Count one text."""
        self.texts += 1
        for name in PARTS:
            mine: Tally = getattr(self, name)
            mine.add(*text.parts[name])
        if text.reply is not None:
            self.replies += 1
            setattr(self, text.reply, getattr(self, text.reply) + 1)

    def as_dict(self) -> dict[str, object]:
        """The figures as plain values, for printing and for `--json`."""
        figures: dict[str, object] = {"texts": self.texts}
        for name in PARTS:
            tally: Tally = getattr(self, name)
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
class TextScore:
    """One text, compared."""

    labelled: Labelled
    parts: Mapping[Part, tuple[frozenset[Any], frozenset[Any]]]
    """What was meant and what was found; `Any`: ids, or pairs of an id and a state or a value."""
    reply: Outcome | None
    answer: Answer
    reading: Reading | None = None
    """None where something else than our reading guessed."""
    answered: FindingId | None = None
    """The finding that the open question asks about."""

    def mistakes(self) -> Iterator[Mistake]:
        """Every difference, part by part, then the answer."""
        text = self.labelled.text
        for part, (meant, found) in self.parts.items():
            if meant != found:
                missed, extra = sorted(meant - found, key=str), sorted(found - meant, key=str)
                yield Mistake(kind=part, text=text, meant=str(missed), found=str(extra))
        if self.reply not in {None, "right"} and self.labelled.answer is not None:
            a = self.answer
            found_ = f"{a.kind} {a.state or a.value or ''} {a.unit or ''} {a.confidence:.2f}"
            meant_ = str(dict(self.labelled.answer))
            yield Mistake(kind=f"reply to {self.labelled.about}", text=text, meant=meant_, found=found_)


@dataclass(frozen=True, slots=True, kw_only=True)
class Scored:
    """All texts of a set, compared; sums over all and by language."""

    texts: tuple[TextScore, ...]

    @property
    def whole(self) -> Score:
        """The sum over all texts."""
        return summed(self.texts)

    @property
    def by_language(self) -> Mapping[Language, Score]:
        """The sum over each language."""
        return {
            "en": summed(text for text in self.texts if text.labelled.language == "en"),
            "es": summed(text for text in self.texts if text.labelled.language == "es"),
        }

    @property
    def by_kind(self) -> Mapping[str, Score]:
        """The sum over each kind ("negation", "past" …), by name."""
        kinds = sorted({kind for text in self.texts for kind in text.labelled.kinds})
        return {kind: summed(text for text in self.texts if kind in text.labelled.kinds) for kind in kinds}

    @property
    def mistakes(self) -> tuple[Mistake, ...]:
        """Every difference in the order of the texts."""
        return tuple(mistake for text in self.texts for mistake in text.mistakes())


def summed(texts: Iterable[TextScore]) -> Score:
    """The figures of some texts together."""
    total = Score()
    for text in texts:
        total.add(text)
    return total


def score(knowledge: Knowledge, texts: Iterable[Labelled]) -> Scored:
    """Read every text and compare."""
    return Scored(texts=tuple(judged(knowledge, one, _read(knowledge, one)) for one in texts))


def _read(knowledge: Knowledge, labelled: Labelled) -> Reading:
    question = None
    if labelled.about is not None and labelled.about in knowledge.checks:
        question = open_question(knowledge, labelled.about, labelled.language)
    return read(knowledge, labelled.text, about=question)


def judged(knowledge: Knowledge, labelled: Labelled, reading: Reading) -> TextScore:
    """One reading beside its labels."""
    answered = answered_by(labelled, knowledge)
    meant = meant_by(labelled, knowledge)
    got = _paired(_longer_first(labelled.quantities), reading.quantities)
    found: dict[Part, frozenset[Any]] = {
        "findings": frozenset(one for one in findings_read(reading, knowledge) if one[0] != answered),
        "quantities": frozenset() if _number_asked(labelled) else got,
        "complaints": frozenset(str(c.symptom) for c in reading.complaints if c.confidence >= COUNTED_FROM),
        "hazards": frozenset(str(h.hazard) for h in reading.hazards if h.confidence >= LEAST_HAZARD),
        "moves": frozenset(reading.moves) & (meant["moves"] | _MARKED_MOVES),
    }
    parts = {part: (meant[part], found[part]) for part in PARTS}
    reply = None if labelled.answer is None else _outcome(labelled.answer, reading.answer)
    return TextScore(
        labelled=labelled, parts=parts, reply=reply, answer=reading.answer, reading=reading, answered=answered
    )


def answered_by(labelled: Labelled, knowledge: Knowledge) -> FindingId | None:
    """The finding that the open question asks about: its state is judged as the answer, not beside it."""
    check = None if labelled.about is None else knowledge.checks.get(labelled.about)
    return None if check is None else check.finds


def meant_by(labelled: Labelled, knowledge: Knowledge) -> dict[Part, frozenset[Any]]:
    """What the labels say, part by part; a number that was asked for is judged as the answer."""
    answered = answered_by(labelled, knowledge)
    return {
        "findings": frozenset(one for one in labelled.findings.items() if one[0] != answered),
        "quantities": frozenset()
        if _number_asked(labelled)
        else frozenset(_longer_first(labelled.quantities)),
        "complaints": frozenset(labelled.complaints),
        "hazards": frozenset(labelled.hazards),
        "moves": frozenset(labelled.moves),
    }


def _number_asked(labelled: Labelled) -> bool:
    return labelled.answer is not None and labelled.answer.get("kind") == "number"


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
) -> frozenset[tuple[str, float]]:
    """What was found, a value that agrees with one meant within rounding being that one."""
    read_ = [
        (str(q.quantity), q.si)
        for q in found
        if q.quantity
        and q.si is not None
        and q.when in {"now", "by_another"}
        and q.confidence >= COUNTED_FROM
    ]
    got: set[tuple[str, float]] = set()
    for quantity, si in _longer_first(read_):
        same = next((m for m in meant if m[0] == quantity and agrees(m[1], si)), None)
        got.add(same or (quantity, round(si, 3)))
    return frozenset(got)


def _longer_first(sizes: Sequence[tuple[str, float]]) -> tuple[tuple[str, float], ...]:
    """With the longer side of a floor as its length: in "10x12" nobody says which is which."""
    floor = sorted((si for name, si in sizes if name in _FLOOR), reverse=True)
    if len(floor) != len(_FLOOR):
        return tuple(sizes)
    return (*(one for one in sizes if one[0] not in _FLOOR), *zip(_FLOOR, floor, strict=True))


_FLOOR: Final = ("room_length_m", "room_width_m")


def agrees(one: float, other: float) -> bool:
    """Two values in SI are the same but for rounding."""
    return abs(one - other) <= max(_ABSOLUTE if abs(one) > 1 else _SMALL, _TOLERANCE * abs(one))


def is_right(meant: Mapping[str, Any], answer: Answer) -> bool:
    """The reading answers what the label says."""
    if meant["kind"] != answer.kind:
        return False
    if answer.kind == "state":
        return meant.get("state") == answer.state
    if answer.kind == "number":
        same = answer.value is not None and agrees(float(meant["value"]), answer.value)
        return same and str(meant.get("unit") or answer.unit).upper() == str(answer.unit).upper()
    return True


def _outcome(meant: Mapping[str, Any], answer: Answer) -> Outcome:
    if is_right(meant, answer):
        return "right"
    unit_open = answer.kind == "number" and answer.unit is None
    if answer.kind in {"none", "unsure"} or answer.confidence < SAY_BACK or unit_open:
        return "asked_again"
    return "said_back_wrong" if answer.confidence < TAKE else "silently_wrong"
