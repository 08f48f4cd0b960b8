"""Customers drawn from the knowledge: what is wrong in their room, what they complain of, and how they answer.

Drawn from the knowledge they flatter it: no customer here has a room that its authors did not foresee.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.random import Generator  # noqa: TID251 - a simulation draws; its seed makes it the same each time

from assistant.reasoning.hypotheses import Hypotheses
from kb.compiling import Floats, Node, finding_node
from kb.ids import CauseId, CheckId, FindingId, StateId, SymptomId


@dataclass(frozen=True, slots=True, kw_only=True)
class Habits:
    """How people are (shares of customers or of answers; ours, common practice, no source)."""

    wrong: float = 0.10
    """Answers that name another state than the true one."""
    dont_know: float = 0.15
    volunteers: float = 1 / 3
    """Customers whose first message holds facts beside the complaint."""
    two_causes: float = 0.15


HABITS: Final = Habits()
FACTS_VOLUNTEERED: Final = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Customer:
    """One room and its person. Every check has its answer beforehand, so that all readers hear the same."""

    causes: tuple[CauseId, ...]
    complaints: tuple[SymptomId, ...]
    states: Mapping[FindingId, StateId]
    """What is so."""
    answers: Mapping[CheckId, StateId | None]
    """What is said when asked; None: don't know."""
    volunteered: Mapping[FindingId, StateId]
    """What is said unasked, always truly."""


def draw_customer(hypotheses: Hypotheses, chance: Generator, habits: Habits = HABITS) -> Customer:
    """A customer with one cause, or two, as likely as the knowledge says."""
    return draw_customer_of(hypotheses, _draw_row(hypotheses, chance, habits), chance, habits)


def draw_customer_of(
    hypotheses: Hypotheses, row: int, chance: Generator, habits: Habits = HABITS
) -> Customer:
    """A customer with what the hypothesis of this row says."""
    causes = tuple(
        hypotheses.compiled.causes[place]
        for place in (hypotheses.first[row], hypotheses.second[row])
        if place != hypotheses.nobody
    )
    states = {finding: _draw_state(hypotheses, row, finding_node(finding), chance)
              for finding in hypotheses.compiled.knowledge.findings}  # fmt: skip
    return Customer(
        causes=causes,
        complaints=_draw_complaints(hypotheses, row, chance),
        states=states,
        answers={check: _draw_answer(hypotheses, states, check, chance, habits)
                 for check in hypotheses.compiled.knowledge.checks},
        volunteered=_draw_volunteered(hypotheses, states, chance, habits),
    )  # fmt: skip


def row_of(hypotheses: Hypotheses, cause: CauseId) -> int:
    """The row of one cause alone."""
    return hypotheses.alone(hypotheses.compiled.causes.index(cause))


def redraw_states(
    hypotheses: Hypotheses,
    customer: Customer,
    left: CauseId,
    touched: tuple[FindingId, ...],
    chance: Generator,
) -> Customer:
    """The same customer after one of two causes is gone: what the fix touched shows only the other one."""
    states, answers = dict(customer.states), dict(customer.answers)
    for finding in touched:
        states[finding] = _draw_state(hypotheses, row_of(hypotheses, left), finding_node(finding), chance)
    for check, node in hypotheses.compiled.knowledge.checks.items():
        if node.finds in touched:
            answers[check] = _draw_answer(hypotheses, states, check, chance, HABITS)
    return Customer(
        causes=(left,),
        complaints=customer.complaints,
        states=states,
        answers=answers,
        volunteered=customer.volunteered,
    )


def _draw_row(hypotheses: Hypotheses, chance: Generator, habits: Habits) -> int:
    n = hypotheses.nobody
    pairs = hypotheses.prior[n + 2 :]
    if len(pairs) and pairs.sum() > 0.0 and chance.random() < habits.two_causes:
        return n + 2 + _draw(pairs / pairs.sum(), chance)
    alone = hypotheses.prior[1 : n + 1]
    return 1 + _draw(alone / alone.sum(), chance)


def _draw(p: Floats, chance: Generator) -> int:
    return int(chance.choice(len(p), p=p))


def _strength(hypotheses: Hypotheses, row: int, node: Node) -> Floats:
    shown = hypotheses.shown[node]
    at = np.flatnonzero(shown.rows == row)
    return shown.strength[at[0]] if len(at) else shown.shows.background


def _draw_state(hypotheses: Hypotheses, row: int, node: Node, chance: Generator) -> StateId:
    return hypotheses.shown[node].shows.states[_draw(_strength(hypotheses, row, node), chance)]


def _draw_complaints(hypotheses: Hypotheses, row: int, chance: Generator) -> tuple[SymptomId, ...]:
    """Those that the draw gives; else the likeliest one, for nobody writes without a complaint."""
    tells = {symptom: float(_strength(hypotheses, row, Node(f"symptom:{symptom}"))[0])
             for symptom in hypotheses.compiled.knowledge.symptoms}  # fmt: skip
    drawn = tuple(symptom for symptom, p in tells.items() if chance.random() < p / 2)
    likeliest = max(tells, key=lambda symptom: (round(tells[symptom], 9), symptom), default=None)
    return drawn[:2] or (() if likeliest is None else (likeliest,))


def _draw_answer(
    hypotheses: Hypotheses,
    states: Mapping[FindingId, StateId],
    check: CheckId,
    chance: Generator,
    habits: Habits,
) -> StateId | None:
    finding = hypotheses.compiled.knowledge.checks[check].finds
    draw, other = chance.random(), chance.random()
    if draw < habits.dont_know or finding not in states:
        return None
    wrong = [
        state for state in hypotheses.compiled.knowledge.findings[finding].states if state != states[finding]
    ]
    if draw < habits.dont_know + habits.wrong * (1.0 - habits.dont_know) and wrong:
        return wrong[int(other * len(wrong))]
    return states[finding]


def _draw_volunteered(
    hypotheses: Hypotheses, states: Mapping[FindingId, StateId], chance: Generator, habits: Habits
) -> Mapping[FindingId, StateId]:
    """What stands out: states that are not normal."""
    findings = hypotheses.compiled.knowledge.findings
    odd = [finding for finding, state in states.items() if findings[finding].normal not in (None, state)]
    volunteers, order = chance.random() < habits.volunteers, chance.permutation(len(odd))
    return {odd[i]: states[odd[i]] for i in order[:FACTS_VOLUNTEERED]} if volunteers else {}
