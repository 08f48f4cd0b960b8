"""Customers whose trouble the knowledge does not hold: how often something else wins, and a wrong remedy seems sure.

Each fault in turn is taken out of the knowledge, and customers who have it are interviewed with what is left.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Final

from numpy.random import default_rng  # noqa: TID251 - a simulation draws; its seed makes it the same each time

from assistant.reasoning import weigh
from assistant.reasoning.hypotheses import hypotheses_of
from assistant.reasoning.remedies import SOMETHING_ELSE, remedies_of
from assistant.workbench.simulate_customers import draw_customer_of, row_of
from assistant.workbench.simulate_readers import Reader, class_of, desk_of, interview
from kb.compiling import compile_
from kb.ids import CauseId
from kb.knowledge import Knowledge

SURE: Final = 0.6


@dataclass(frozen=True, slots=True, kw_only=True)
class TakenOut:
    """What was believed of customers whose cause is not in the knowledge."""

    customers: int
    something_else_leads: float
    """Share of customers for whom it leads all classes of remedy."""
    same_remedy_leads: float
    """A neighbour with the same remedy leads: as good as right."""
    sure_and_wrong: float
    """Another remedy is believed with more than `SURE`."""


def take_out(
    knowledge: Knowledge,
    *,
    customers: int = 3,
    every: int = 1,
    seed: int = 1,
    reader: Reader = "greedy",
    tell: Callable[[int, int], None] | None = None,
) -> TakenOut:
    """Take out every so many-th fault and interview `customers` of each; ten questions, as in `simulate`."""
    whole, chance = hypotheses_of(compile_(knowledge)), default_rng(seed)
    desk = desk_of(whole.compiled)
    fresh = remedies_of(desk.compiled, weigh(desk.compiled, []), desk.fixes)
    faults = [cause for cause, node in knowledge.causes.items() if node.kind != "normal"][::every]
    led: list[tuple[str, float, str]] = []
    for nth, cause in enumerate(faults):
        left = desk_of(compile_(_without(knowledge, cause)))
        for _ in range(customers):
            customer = draw_customer_of(whole, row_of(whole, cause), chance)
            shares = dict(interview(left, customer, reader).shares)
            leading = max(sorted(shares), key=lambda name: round(shares[name], 9))
            led.append((leading, shares[leading], class_of(desk, fresh, cause)))
        if tell is not None:
            tell(nth + 1, len(faults))
    return _counted(led)


def _counted(led: list[tuple[str, float, str]]) -> TakenOut:
    unknown = SOMETHING_ELSE[0]
    return TakenOut(
        customers=len(led),
        something_else_leads=sum(leading == unknown for leading, _, _ in led) / len(led),
        same_remedy_leads=sum(leading == right for leading, _, right in led) / len(led),
        sure_and_wrong=sum(share > SURE and leading not in (unknown, right) for leading, share, right in led)
        / len(led),
    )


def _without(knowledge: Knowledge, cause: CauseId) -> Knowledge:
    causes = {name: node for name, node in knowledge.causes.items() if name != cause}
    return replace(knowledge, edition=f"{knowledge.edition}-{cause}", causes=MappingProxyType(causes))
