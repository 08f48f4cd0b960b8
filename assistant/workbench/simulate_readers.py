"""Readers of the same customers: the assistant, greedy gain, a fixed checklist, and one who reads without noise.

Each works on states, not on sentences; each asks up to a number of questions, and after each we note which remedy it
would name first.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal

import numpy as np

from assistant.reasoning import (
    AskCheck,
    Choice,
    Evidence,
    FixTried,
    HandOver,
    choose,
    complained,
    found,
    open_checks,
    patience_left,
    rank,
    weigh,
)
from assistant.reasoning.belief import Belief
from assistant.reasoning.remedies import Remedies, remedies_of
from assistant.workbench.simulate_customers import Customer
from kb.compiling import Compiled, finding_node
from kb.ids import CauseId, CheckId, FindingId, FixId, QuantityId, StateId

Reader = Literal["assistant", "greedy", "checklist", "without noise"]
READERS: Final[tuple[Reader, ...]] = ("assistant", "greedy", "checklist", "without noise")
QUESTIONS_MOST: Final = 10
PATIENT_FOR: Final = 14
"""Nobody answers more questions than this, as in a conversation."""
TELLS_NOTHING_BITS: Final = 0.005
NOBODY: Final = "handed over"


@dataclass(frozen=True, slots=True, kw_only=True)
class Interview:
    """How one reader did with one customer."""

    named: tuple[str, ...]
    """The class of remedy that it would have named after 0, 1, 2 … questions."""
    asked: tuple[CheckId, ...]
    shares: tuple[tuple[str, float], ...]
    """Its belief in each class when it stopped."""
    evidence: tuple[Evidence, ...]
    choice: Choice | None
    """What the assistant did when it stopped asking; None for the other readers, and when questions ran out."""

    def after(self, questions: int) -> str:
        """What it names after so many questions; a reader who stopped earlier keeps to what it named."""
        return self.named[min(questions, len(self.named) - 1)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Desk:
    """What all interviews share."""

    compiled: Compiled
    checklist: tuple[CheckId, ...]
    """The fixed order: best first before anything is known."""

    @property
    def fixes(self) -> tuple[FixId, ...]:
        """All fixes."""
        return tuple(self.compiled.knowledge.fixes)


def desk_of(compiled: Compiled) -> Desk:
    """The desk with its checklist."""
    every = tuple(compiled.knowledge.checks)
    best = rank(compiled, weigh(compiled, []), every, known_quantities=_quantities(compiled))
    return Desk(compiled=compiled, checklist=tuple(one.check for one in best))


def first_evidence(customer: Customer) -> tuple[Evidence, ...]:
    """What the first message holds."""
    facts = [found(finding, {state: 1.0}) for finding, state in customer.volunteered.items()]
    return (*(complained(symptom) for symptom in customer.complaints), *facts)


def interview(
    desk: Desk,
    customer: Customer,
    reader: Reader,
    *,
    begun: Sequence[Evidence] | None = None,
    tried: Sequence[FixTried] = (),
) -> Interview:
    """Ask until the reader stops, or questions run out. With `tried`, go on after fixes: what they did not touch is known."""
    evidence = list(first_evidence(customer) if begun is None else begun)
    epoch = max((fix.epoch + 1 for fix in tried), default=0)
    fixes = [fix for fix in desk.fixes if fix not in {one.fix for one in tried}]
    known = _known(desk, evidence, tried) if tried else dict(customer.volunteered)
    asked: list[CheckId] = []
    named: list[str] = []
    while True:
        belief = weigh(desk.compiled, evidence, tried)
        remedies = remedies_of(desk.compiled, belief, fixes)
        named.append(_leading(remedies))
        check, choice = _next(desk, belief, reader, known, asked, fixes)
        if check is None or len(asked) == QUESTIONS_MOST:
            named += [_named(desk, remedies, choice)] if choice is not None and check is None else []
            return Interview(
                named=tuple(named),
                asked=tuple(asked),
                shares=tuple(
                    (r.name, float(p)) for r, p in zip(remedies.classes, remedies.share, strict=False)
                ),
                evidence=tuple(evidence),
                choice=None if check is not None else choice,
            )
        asked.append(check)
        finding = desk.compiled.knowledge.checks[check].finds
        heard = _hear(desk, customer, reader, check, epoch)
        if heard is not None:
            evidence.append(heard)
            known[finding] = next(iter(heard.likelihood))


def _known(desk: Desk, evidence: Sequence[Evidence], tried: Sequence[FixTried]) -> dict[FindingId, StateId]:
    """What was told before and still counts as now: nobody is asked for it again."""
    fixes = desk.compiled.knowledge.fixes
    touched = {finding for one in tried for finding in fixes[one.fix].touches}
    told = {one.about: max(one.likelihood, key=one.likelihood.__getitem__) for one in evidence}
    return {
        finding: told[finding_node(finding)]
        for finding in desk.compiled.knowledge.findings
        if finding_node(finding) in told and finding not in touched
    }


def _next(
    desk: Desk,
    belief: Belief,
    reader: Reader,
    known: dict[FindingId, StateId],
    asked: Sequence[CheckId],
    fixes: Sequence[FixId],
) -> tuple[CheckId | None, Choice | None]:
    checks = open_checks(desk.compiled, known, laid_aside=asked)
    if reader == "checklist":
        return next((check for check in desk.checklist if check in checks), None), None
    if reader == "assistant":
        patience = patience_left(len(asked), PATIENT_FOR)
        choice = choose(
            desk.compiled, belief, checks, fixes, patience, known_quantities=_quantities(desk.compiled)
        )
        return (choice.check if isinstance(choice, AskCheck) else None), choice
    ranked = rank(desk.compiled, belief, checks, fixable=fixes, known_quantities=_quantities(desk.compiled))
    telling = [one for one in ranked if one.gain_bits > TELLS_NOTHING_BITS]
    return (telling[0].check if telling else None), None


def _hear(desk: Desk, customer: Customer, reader: Reader, check: CheckId, epoch: int) -> Evidence | None:
    finding = desk.compiled.knowledge.checks[check].finds
    if reader == "without noise":
        return replace(found(finding, {customer.states[finding]: 1.0}, computed=True), epoch=epoch)
    answer = customer.answers[check]
    return None if answer is None else found(finding, {answer: 1.0}, check=check, epoch=epoch)


def _leading(remedies: Remedies) -> str:
    return remedies.classes[int(np.argmax(remedies.share[: remedies.mended]))].name


def _named(desk: Desk, remedies: Remedies, choice: Choice) -> str:
    """The class of what the assistant did; giving up names none."""
    if isinstance(choice, AskCheck) or choice.cause is None:
        return NOBODY
    if isinstance(choice, HandOver) and choice.reason != "needs a person":
        return NOBODY
    return class_of(desk, remedies, choice.cause)


def class_of(desk: Desk, remedies: Remedies, cause: CauseId) -> str:
    """The class of remedy of a cause."""
    return next(remedy.name for remedy in remedies.classes if cause in remedy.causes)


def _quantities(compiled: Compiled) -> tuple[QuantityId, ...]:
    """Every number is taken as known: customers here answer in states."""
    sums = [finding.sum.of for finding in compiled.knowledge.findings.values() if finding.sum is not None]
    return tuple(sorted({quantity for total in sums for quantity in total}))
