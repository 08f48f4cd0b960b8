"""How often the right remedy comes first, and after how many questions: customers drawn from the knowledge.

In: knowledge, a number of customers, a seed. Out: a `Simulation`, the same for the same three. Beside the assistant
stand greedy gain, a fixed checklist and a reader without noise, on the same customers with the same answers.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Final, TypeAlias

import numpy as np
from numpy.random import Generator, default_rng  # noqa: TID251 - a simulation draws; its seed makes it the same each time

from assistant.drawing import Bin
from assistant.reasoning import AskCheck, Choice, FixTried, HandOver, weigh
from assistant.reasoning.hypotheses import Hypotheses, hypotheses_of
from assistant.reasoning.remedies import Remedies, remedies_of
from assistant.workbench.simulate_confusions import CauseFigure, Confusion, confusions, figures_by_cause
from assistant.workbench.simulate_customers import HABITS, Customer, Habits, draw_customer, redraw_states
from assistant.workbench.simulate_readers import (
    QUESTIONS_MOST,
    READERS,
    Desk,
    Interview,
    Reader,
    class_of,
    desk_of,
    interview,
)
from assistant.workbench.simulate_scores import brier, calibration_error, log_score_bits, reliability
from kb.compiling import compile_
from kb.ids import CauseId
from kb.knowledge import Knowledge

AFTER: Final = (3, 5, 7, 10)
"""The curve's questions."""
STILL_WARM: Final = 0.15
"""What the number says after the first of two causes is gone: the target is not reached."""
STOPPED_SHORT: Final = 0.85
"""What it says besides: the room fell, and stopped short (ours, no source)."""
CALIBRATION_BINS: Final = 10


@dataclass(frozen=True, slots=True, kw_only=True)
class Curve:
    """One reader over all customers."""

    right_after: Mapping[int, float]
    """Questions → share of customers for whom it names the class of a true cause first."""
    right_at_the_end: float
    mean_questions: float
    by_question: tuple[float, ...]
    """The same share after 0, 1, 2 … questions."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Honesty:
    """The assistant's beliefs over classes of remedy when it stopped, against what was so."""

    brier: float
    log_score_bits: float
    calibration_error: float
    """Of the leading class, over `bins`."""
    bins: tuple[Bin, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Simulation:
    """What came of it."""

    edition: str
    customers: int
    seed: int
    habits: Habits
    curves: Mapping[Reader, Curve]
    two_causes: int
    """Customers with two causes at once."""
    both_within_two_fixes: float | None
    """Share of them for whom the assistant's first two fixes cured both; None where there were none."""
    honesty: Honesty
    confusions: tuple[Confusion, ...]
    """What the assistant took for what, the commonest first."""
    by_cause: tuple[CauseFigure, ...]
    """How the assistant did with each cause that was drawn, the worst first."""

    def to_json(self) -> dict[str, object]:
        """Plain values that `json.dumps` takes."""
        plain = asdict(self)
        for curve in plain["curves"].values():
            curve["right_after"] = {str(n): share for n, share in curve["right_after"].items()}
        return plain


Tell: TypeAlias = Callable[[int, int], None]
"""Told after each customer: how many are done, of how many."""


def simulate(
    knowledge: Knowledge,
    *,
    customers: int = 200,
    seed: int = 1,
    habits: Habits = HABITS,
    tell: Tell | None = None,
) -> Simulation:
    """Draw customers, let every reader interview each of them, and count.

    Fails with `ValueError` on fewer than one customer.
    """
    if customers < 1:
        raise ValueError(f"cannot simulate {customers} customers: at least one is needed")
    desk = desk_of(compile_(knowledge))
    hypotheses, chance = hypotheses_of(desk.compiled), default_rng(seed)
    drawn: list[Customer] = []
    met: dict[Reader, list[Interview]] = {reader: [] for reader in READERS}
    both: list[bool] = []
    for n in range(customers):
        customer = draw_customer(hypotheses, chance, habits)
        drawn.append(customer)
        for reader in READERS:
            met[reader].append(interview(desk, customer, reader))
        if len(customer.causes) > 1:
            both.append(_both_cured(desk, hypotheses, customer, met["assistant"][-1], chance))
        if tell is not None:
            tell(n + 1, customers)
    right = [_right_classes(desk, customer) for customer in drawn]
    return Simulation(
        edition=knowledge.edition,
        customers=customers,
        seed=seed,
        habits=habits,
        curves={reader: _curve(met[reader], right) for reader in READERS},
        two_causes=len(both),
        both_within_two_fixes=float(np.mean(both)) if both else None,
        honesty=_honesty(met["assistant"], right),
        confusions=_confusions(desk, drawn, met["assistant"], right),
        by_cause=figures_by_cause(
            drawn, [one.named[-1] in all_ for one, all_ in zip(met["assistant"], right, strict=True)]
        ),
    )


def _confusions(
    desk: Desk, drawn: Sequence[Customer], met: Sequence[Interview], right: Sequence[frozenset[str]]
) -> tuple[Confusion, ...]:
    untried = _untried(desk)
    wrong = [
        (customer, one)
        for customer, one, classes in zip(drawn, met, right, strict=True)
        if one.named[-1] not in classes
    ]
    return confusions(desk.compiled, lambda cause: class_of(desk, untried, cause), wrong)


def _untried(desk: Desk) -> Remedies:
    return remedies_of(desk.compiled, weigh(desk.compiled, []), desk.fixes)


def _right_classes(desk: Desk, customer: Customer) -> frozenset[str]:
    untried = _untried(desk)
    return frozenset(class_of(desk, untried, cause) for cause in customer.causes)


def _curve(interviews: Sequence[Interview], right: Sequence[frozenset[str]]) -> Curve:
    def share(questions: int) -> float:
        return float(
            np.mean([one.after(questions) in classes for one, classes in zip(interviews, right, strict=True)])
        )

    return Curve(
        right_after={questions: share(questions) for questions in AFTER},
        right_at_the_end=share(max(len(one.named) for one in interviews)),
        mean_questions=float(np.mean([len(one.asked) for one in interviews])),
        by_question=tuple(share(questions) for questions in range(QUESTIONS_MOST + 1)),
    )


def _honesty(interviews: Sequence[Interview], right: Sequence[frozenset[str]]) -> Honesty:
    names = [name for name, _ in interviews[0].shares]
    shares = np.array([[p for _, p in one.shares] for one in interviews])
    truth = np.array([[name in classes for name in names] for classes in right], dtype=np.float64)
    truth /= truth.sum(axis=1, keepdims=True)
    leading = shares.argmax(axis=1)
    came_true = (truth[np.arange(len(leading)), leading] > 0.0).astype(np.float64)
    bins = reliability(shares.max(axis=1), came_true, CALIBRATION_BINS)
    return Honesty(
        brier=brier(shares, truth),
        log_score_bits=log_score_bits((shares * (truth > 0.0)).sum(axis=1)),
        calibration_error=calibration_error(bins),
        bins=bins,
    )


def _both_cured(
    desk: Desk, hypotheses: Hypotheses, customer: Customer, first: Interview, chance: Generator
) -> bool:
    """Whether the second remedy is the second cause's, after a first one that was right and left the room warm."""
    untried = _untried(desk)
    mended = _cause_of(desk, untried, first.choice, customer.causes)
    fix = None if first.choice is None or isinstance(first.choice, AskCheck) else first.choice.fix
    if mended is None or fix is None:
        return False
    left = next(cause for cause in customer.causes if cause != mended)
    now = redraw_states(hypotheses, customer, left, desk.compiled.knowledge.fixes[fix].touches, chance)
    tried = [FixTried(fix=fix, epoch=0, worked=STILL_WARM, moved=STOPPED_SHORT)]
    second = interview(desk, now, "assistant", begun=first.evidence, tried=tried)
    return _cause_of(desk, untried, second.choice, (left,)) is not None


def _cause_of(
    desk: Desk, untried: Remedies, choice: Choice | None, causes: Sequence[CauseId]
) -> CauseId | None:
    """The one of `causes` whose class of remedy was chosen; None where it was none of theirs."""
    if choice is None or isinstance(choice, AskCheck) or choice.cause is None:
        return None
    if isinstance(choice, HandOver) and choice.reason != "needs a person":
        return None
    chosen = class_of(desk, untried, choice.cause)
    return next((cause for cause in causes if class_of(desk, untried, cause) == chosen), None)
