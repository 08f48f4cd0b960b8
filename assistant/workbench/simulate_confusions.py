"""Which remedies are taken for which: what was wrong, what was named instead, and the check that would tell them apart.

Where the most telling check tells little, a check is missing: that is for the authors.
"""

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from assistant.reasoning import AskCheck, HandOver
from assistant.reasoning.evidence import channel
from assistant.reasoning.gains import entropy_bits
from assistant.workbench.simulate_customers import Customer
from assistant.workbench.simulate_readers import NOBODY, Interview
from kb.compiling import Compiled, Floats, Shows, finding_node
from kb.ids import CauseId, CheckId

TELLS_BITS: Final = 0.25
"""A check that gives less between two equally likely causes does not tell them apart: four such answers make one bit."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Confusion:
    """One remedy taken for another."""

    right: str
    """The remedy that was needed."""
    named: str
    """The remedy that was named; `NOBODY` where the case was handed over, or the questions ran out."""
    count: int
    true: CauseId
    taken_for: CauseId | None
    """The commonest pair of causes behind it; None where nothing was named."""
    check: CheckId | None
    """The check that tells the two causes apart best."""
    bits: float
    """What its answer gives between the two, equally likely, through its reliability."""

    example: tuple[str, ...]
    """One conversation that ended so, a line a turn: what was told first, each question with its answer, the truth."""

    @property
    def told_apart(self) -> bool:
        """A check tells the two apart."""
        return self.bits >= TELLS_BITS


@dataclass(frozen=True, slots=True, kw_only=True)
class CauseFigure:
    """How often customers with one cause came to its remedy."""

    cause: CauseId
    customers: int
    right: int


def figures_by_cause(customers: Sequence[Customer], right: Sequence[bool]) -> tuple[CauseFigure, ...]:
    """Every cause that stood first in a customer's room: the worst share first, then the most customers."""
    met: dict[CauseId, list[bool]] = {}
    for customer, came in zip(customers, right, strict=True):
        for cause in customer.causes[:1]:
            met.setdefault(cause, []).append(came)
    found = [CauseFigure(cause=cause, customers=len(some), right=sum(some)) for cause, some in met.items()]
    return tuple(sorted(found, key=lambda one: (one.right / one.customers, -one.customers, one.cause)))


def confusions(
    compiled: Compiled, class_of: Callable[[CauseId], str], wrong: Sequence[tuple[Customer, Interview]]
) -> tuple[Confusion, ...]:
    """The confusions of interviews that went wrong, the commonest first; ties by name.

    `class_of` is a cause's class of remedy. With two causes at once the first counts as the true one.
    """
    pairs: dict[tuple[str, str], Counter[tuple[CauseId, CauseId | None]]] = {}
    first: dict[tuple[CauseId, CauseId | None], tuple[str, ...]] = {}
    for customer, interview in wrong:
        true, named = customer.causes[0], _named(interview)
        classes = (class_of(true), NOBODY if named is None else class_of(named))
        pairs.setdefault(classes, Counter())[true, named] += 1
        if (true, named) not in first:
            first[true, named] = tuple(conversation(compiled, customer, interview))
    found = []
    for (right, named_class), causes in pairs.items():
        true, named = min(causes, key=lambda pair: (-causes[pair], pair[0], pair[1] or ""))
        check, bits = (None, 0.0) if named is None else most_telling(compiled, true, named)
        found.append(
            Confusion(
                right=right,
                named=named_class,
                count=causes.total(),
                true=true,
                taken_for=named,
                check=check,
                bits=bits,
                example=first[true, named],
            )
        )
    return tuple(sorted(found, key=lambda one: (-one.count, one.right, one.named)))


def conversation(compiled: Compiled, customer: Customer, interview: Interview) -> Iterator[str]:
    """The interview as a reader follows it: what was told, asked and answered; wrong answers beside what was so."""
    told = [*customer.complaints, *(f"{finding}: {state}" for finding, state in customer.volunteered.items())]
    yield f"tells: {', '.join(told) or 'nothing'}"
    for check in interview.asked:
        finding = compiled.knowledge.checks[check].finds
        answer, so = customer.answers[check], customer.states[finding]
        wrong = f" (it is {so})" if answer not in (None, so) else ""
        yield f"{check}: {answer or 'does not know'}{wrong}"
    yield f"it was {' and '.join(customer.causes) or 'nothing'}"


def _named(interview: Interview) -> CauseId | None:
    choice = interview.choice
    if choice is None or isinstance(choice, AskCheck):
        return None
    return None if isinstance(choice, HandOver) and choice.reason != "needs a person" else choice.cause


def most_telling(compiled: Compiled, one: CauseId, other: CauseId) -> tuple[CheckId | None, float]:
    """The check whose answer tells two equally likely causes apart best, and its bits (Jensen-Shannon divergence)."""
    best: tuple[CheckId | None, float] = (None, 0.0)
    for check, node in compiled.knowledge.checks.items():
        if node.finds not in compiled.knowledge.findings:
            continue
        shows = compiled.shows[finding_node(node.finds)]
        through = channel(len(shows.states), node.people_are_right)
        p, q = (_told(shows, compiled.causes.index(cause)) @ through for cause in (one, other))
        bits = float(entropy_bits((p + q) / 2) - (entropy_bits(p) + entropy_bits(q)) / 2)
        if bits > best[1] + 1e-9:
            best = (check, bits)
    return best


def _told(shows: Shows, place: int) -> Floats:
    """(states,) what a cause makes of a finding; the usual where it does not mention it."""
    at = np.flatnonzero(shows.causes == place)
    return np.asarray(shows.strength[at[0]] if len(at) else shows.background, dtype=np.float64)
