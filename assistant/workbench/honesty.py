"""Whether our confidence is a probability: everything read with how sure we were, and whether a label says so too.

The map from raw strength to probability stands in `assistant.reading.sureness`; `steps` fits it anew to labelled texts.
"""

from collections.abc import Iterable, Iterator, Sequence
from typing import Final, Literal, NamedTuple

import numpy as np

from assistant.drawing import Bin
from assistant.reading.said import Reading
from assistant.reading.score import TextScore, agrees, is_right
from assistant.reading.thresholds import LEAST
from assistant.workbench.simulate_scores import brier, calibration_error, reliability

Said = Literal["findings", "quantities", "complaints", "hazards", "answers"]
SAID: Final[tuple[Said, ...]] = ("findings", "quantities", "complaints", "hazards", "answers")


class Claim(NamedTuple):
    """One thing read: how sure, and whether it was meant."""

    confidence: float
    right: bool


def claims(texts: Iterable[TextScore], said: Said) -> tuple[Claim, ...]:
    """Everything of one kind that was read of these texts."""
    return tuple(claim for text in texts for claim in _claims(text, said) if claim.confidence >= LEAST)


def _claims(text: TextScore, said: Said) -> Iterator[Claim]:
    reading, labelled = text.reading, text.labelled
    if reading is None:
        return
    match said:
        case "findings":
            yield from _findings(text, reading)
        case "quantities":
            yield from _quantities(text, reading)
        case "complaints":
            yield from (Claim(c.confidence, c.symptom in labelled.complaints) for c in reading.complaints)
        case "hazards":
            yield from (Claim(h.confidence, h.hazard in labelled.hazards) for h in reading.hazards)
        case "answers":
            if labelled.answer is not None and reading.answer.kind in {"state", "number"}:
                yield Claim(reading.answer.confidence, is_right(labelled.answer, reading.answer))


def _findings(text: TextScore, reading: Reading) -> Iterator[Claim]:
    """Without the finding that was asked for: it is judged as the answer."""
    for finding in reading.findings:
        if finding.when in {"now", "by_another"} and finding.finding != text.answered:
            yield Claim(finding.confidence, text.labelled.findings.get(finding.finding) == finding.state)


def _quantities(text: TextScore, reading: Reading) -> Iterator[Claim]:
    """Without those of a text that answers with a number: it is judged as the answer."""
    if text.labelled.answer is not None and text.labelled.answer.get("kind") == "number":
        return
    for number in reading.quantities:
        if number.quantity is not None and number.si is not None and number.when in {"now", "by_another"}:
            meant = any(q == number.quantity and agrees(si, number.si) for q, si in text.labelled.quantities)
            yield Claim(number.confidence, meant)


def bins_of(found: Sequence[Claim]) -> tuple[Bin, ...]:
    """Ten bins of equal width."""
    if not found:
        return ()
    p, y = np.array([c.confidence for c in found]), np.array([c.right for c in found], dtype=np.float64)
    return reliability(p, y)


def table(texts: Sequence[TextScore]) -> str:
    """A line a bin for each kind of thing said, with its calibration error and Brier score."""
    lines = []
    for said in SAID:
        found = claims(texts, said)
        if not found:
            continue
        bins = bins_of(found)
        p, y = np.array([c.confidence for c in found]), np.array([c.right for c in found], dtype=np.float64)
        lines.append(f"  {said}: {len(found)}, off by {calibration_error(bins):.3f}, Brier {brier(p, y):.3f}")
        lines += [f"    said {b.forecast:.2f}  right {b.observed:.2f}  of {b.count}" for b in bins]
    return "\n".join(lines)
