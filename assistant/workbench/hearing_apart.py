"""What a change of the knowledge does to what is heard: wordings that lose their meaning, texts that are read otherwise.

In: one knowledge or two, labelled texts. Out: what each wording is heard as; what every text gains and loses.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from assistant.reading import read
from assistant.reading.labelled import Labelled
from assistant.reading.lexicon import earless
from assistant.reading.score import COUNTED_FROM, PARTS, TextScore, score
from kb.ids import FindingId, Language, StateId
from kb.knowledge import Knowledge

SHOWN_PARTS: Final = tuple(part for part in PARTS if part != "moves")


def heard_in(knowledge: Knowledge, words: str, language: Language) -> Mapping[FindingId, StateId]:
    """Every finding that composition hears in words by themselves; `kb.linting.check` is handed this."""
    said = read(earless(knowledge), words, language=language).findings
    return {one.finding: one.state for one in said if one.confidence >= COUNTED_FROM}


@dataclass(frozen=True, slots=True)
class Change:
    """One text that two editions read otherwise."""

    labelled: Labelled
    lines: tuple[str, ...]
    better: int
    worse: int
    """Differences that the labels welcome, and that they do not."""

    def __str__(self) -> str:
        return "\n".join((self.labelled.text, *(f"  {line}" for line in self.lines)))


def changed_readings(old: Knowledge, new: Knowledge, texts: Sequence[Labelled]) -> tuple[Change, ...]:
    """The texts that `new` reads otherwise than `old`, in order, each judged by its labels."""
    pairs = zip(score(old, texts).texts, score(new, texts).texts, strict=True)
    return tuple(change for before, after in pairs for change in _changes(before, after))


def _changes(before: TextScore, after: TextScore) -> Iterator[Change]:
    lines: list[str] = []
    better = worse = 0
    for part in SHOWN_PARTS:
        meant, (was, now) = before.parts[part][0], (before.parts[part][1], after.parts[part][1])
        for gained, one in [(True, one) for one in now - was] + [(False, one) for one in was - now]:
            good = gained == (one in meant)
            better, worse = better + good, worse + (not good)
            lines.append(
                f"{'+' if gained else '-'} {part}: {_shown(one)}{'' if good else '  (labels disagree)'}"
            )
    if (before.answer.kind, before.answer.state) != (after.answer.kind, after.answer.state):
        good, bad = after.reply == "right", before.reply == "right"
        better, worse = better + (good and not bad), worse + (bad and not good)
        lines.append(f"answer: {_answer(before)} before, {_answer(after)} now")
    if lines:
        yield Change(before.labelled, tuple(sorted(lines)), better, worse)


def _shown(one: object) -> str:
    return " ".join(str(part) for part in one) if isinstance(one, tuple) else str(one)


def _answer(text: TextScore) -> str:
    judged = "" if text.reply is None else f" ({text.reply.replace('_', ' ')})"
    return f"{text.answer.state or text.answer.kind}{judged}"
