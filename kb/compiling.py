"""From words to arrays: weights of causes, and P(state | cause) for every finding and complaint.

Only what authors wrote is stored: a row for each cause that mentions a finding, and one background row for all others.
How two causes act together, and what is believed of a case, is not decided here.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Final, NewType

import numpy as np
from numpy.typing import NDArray

from kb.ids import CauseId, FindingId, StateId, SymptomId
from kb.knowledge import Knowledge
from kb.likelihood import (
    HOW_COMMON,
    LEAST_LEFT,
    SHARE_NOTHING_WRONG,
    SHARE_SOMETHING_ELSE,
    SHARE_TWO_CAUSES,
    strength,
)
from kb.schema import Cause, Finding, Strength, Symptom

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]

Node = NewType("Node", str)
"""`finding:filter` or `symptom:too_warm`: the name of a node of the knowledge graph."""

EQUIPMENT: Final = FindingId("equipment")
"""The finding that says what cools the room; a cause names the kinds it can befall."""
ELSEWHERE: Final = 0.001
"""P(another kind of equipment | cause): readings err, so never nought."""
COMPLAINED: Final = StateId("complained")
NOT_MENTIONED: Final = StateId("not_mentioned")
MOST_WHO_COMPLAIN: Final = 0.92
"""Of those who have what a complaint names, at most so many complain of it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shares:
    """How belief is shared out before anything is said; each cause alone has what these leave."""

    nothing_wrong: float = SHARE_NOTHING_WRONG
    something_else: float = SHARE_SOMETHING_ELSE
    two_causes: float = SHARE_TWO_CAUSES


SHARES: Final = Shares()


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Shows:
    """One finding or complaint: what it shows where nothing is at work, and what each cause makes of it."""

    about: Node
    states: tuple[StateId, ...]
    normal: int | None
    """Which of the states is normal."""
    ordered: bool
    past: bool
    """The past counts as much as now: no fix unmakes it."""
    lasts_minutes: float | None
    """After so many minutes a new value is a new fact; None: only a fix makes it new."""
    group: str
    """Of one group only the most telling member counts."""
    background: Floats
    """(states,) P(s | no listed cause)."""
    causes: Ints
    """(mentions,) the causes that mention it: places in `Compiled.causes`."""
    strength: Floats
    """(mentions, states) P(s | this cause alone, background included)."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Compiled:
    """The knowledge as arrays; made by `compile_`, never changed."""

    knowledge: Knowledge
    causes: tuple[CauseId, ...]
    weight: Floats
    """(causes,) how common, in the weights of `kb.likelihood`; not normalised."""
    normal: Bools
    """(causes,) True where nothing is wrong."""
    reach: Floats
    """(causes, causes) share of rooms with equipment on which both can be; the diagonal: one alone."""
    hides: Bools
    """(causes, causes) row hides column."""
    shares: Shares
    shows: Mapping[Node, Shows]


@dataclass(frozen=True, slots=True, eq=False)
class _Itself:
    """Knowledge known by itself, not by its content: what the cache is keyed on."""

    knowledge: Knowledge

    def __hash__(self) -> int:
        return hash(self.knowledge.edition)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Itself) and other.knowledge is self.knowledge


def finding_node(finding: FindingId) -> Node:
    """The graph's name of a finding.

    >>> finding_node(FindingId("filter"))
    'finding:filter'
    """
    return Node(f"finding:{finding}")


def symptom_node(symptom: SymptomId) -> Node:
    """The graph's name of a complaint.

    >>> symptom_node(SymptomId("too_warm"))
    'symptom:too_warm'
    """
    return Node(f"symptom:{symptom}")


def compile_(knowledge: Knowledge, shares: Shares = SHARES) -> Compiled:
    """The arrays of one edition; asking again for the same `Knowledge` gives the same arrays."""
    return _compiled(_Itself(knowledge), shares)


@lru_cache(maxsize=8)
def _compiled(itself: "_Itself", shares: Shares) -> Compiled:
    knowledge = itself.knowledge
    causes = tuple(knowledge.causes)
    nodes = tuple(knowledge.causes.values())
    shows = {finding_node(f): _finding(finding, nodes) for f, finding in knowledge.findings.items()}
    shows |= {symptom_node(s): _symptom(symptom, nodes, shows) for s, symptom in knowledge.symptoms.items()}
    return Compiled(
        knowledge=knowledge,
        causes=causes,
        weight=np.array([HOW_COMMON[node.how_common] for node in nodes], dtype=np.float64),
        normal=np.array([node.kind == "normal" for node in nodes], dtype=np.bool_),
        reach=_reach(nodes, knowledge.findings.get(EQUIPMENT)),
        hides=np.array([[other in node.hides for other in causes] for node in nodes], dtype=np.bool_),
        shares=shares,
        shows=shows,
    )


def background(finding: Finding) -> Floats:
    """(states,) P(s | no listed cause): the written words; the normal state takes the rest.

    Abnormal states without a word share what words always leave; where nothing is normal they share the whole rest.
    """
    states = tuple(finding.states)
    named = {state: strength(word) for state, word in finding.background.items() if state != finding.normal}
    silent = [state for state in states if state not in named and state != finding.normal]
    if finding.normal is None:
        return _filled(states, named, np.ones(len(states)))
    named |= dict.fromkeys(silent, LEAST_LEFT / max(1, len(silent)))
    return _filled(states, named, np.ones(len(states)))


def row(states: tuple[StateId, ...], words: Mapping[StateId, Strength], rest_like: Floats) -> Floats:
    """(states,) P(s | cause): its words, and the rest like the background.

    >>> states = (StateId("clean"), StateId("dusty"), StateId("clogged"))
    >>> row(states, {states[2]: "usually"}, np.array([0.8, 0.15, 0.05])).round(4).tolist()
    [0.1937, 0.0363, 0.77]
    """
    return _filled(states, {state: strength(word) for state, word in words.items()}, rest_like)


def _filled(states: tuple[StateId, ...], named: Mapping[StateId, float], rest_like: Floats) -> Floats:
    values = np.array([named.get(state, 0.0) for state in states], dtype=np.float64)
    silent = np.array([state not in named for state in states], dtype=np.bool_)
    if not silent.any():
        return np.asarray(values / values.sum(), dtype=np.float64)
    values *= min(1.0, (1.0 - LEAST_LEFT) / max(values.sum(), LEAST_LEFT))  # words leave at least .03
    values[silent] = (1.0 - values.sum()) * rest_like[silent] / rest_like[silent].sum()
    return values


def _finding(finding: Finding, causes: tuple[Cause, ...]) -> Shows:
    states = tuple(finding.states)
    usual = background(finding)
    written = {place: row(states, cause.shows[finding.finding], usual) for place, cause in enumerate(causes)
               if cause.shows.get(finding.finding)}  # fmt: skip
    if finding.finding == EQUIPMENT:
        written |= {place: _on_equipment(states, cause, usual) for place, cause in enumerate(causes)}
    return _sealed(
        Shows(
            about=finding_node(finding.finding),
            states=states,
            normal=None if finding.normal is None else states.index(finding.normal),
            ordered=finding.ordered,
            past=finding.history or finding.lasts == "always",
            lasts_minutes=float(finding.lasts) if isinstance(finding.lasts, int) else None,
            group=finding.group or finding_node(finding.finding),
            background=usual,
            causes=np.array(sorted(written), dtype=np.int64),
            strength=_stack(written, len(states)),
        )
    )


def _symptom(symptom: Symptom, causes: tuple[Cause, ...], findings: Mapping[Node, Shows]) -> Shows:
    usual = strength(symptom.background)
    complained = _through_finding(symptom, usual, findings)
    complained |= {place: strength(cause.complaints[symptom.symptom]) for place, cause in enumerate(causes)
                   if symptom.symptom in cause.complaints}  # fmt: skip
    same = next((findings[finding_node(f)] for f in symptom.same_as if finding_node(f) in findings), None)
    both = np.array([usual, 1.0 - usual])
    return _sealed(
        Shows(
            about=symptom_node(symptom.symptom),
            states=(COMPLAINED, NOT_MENTIONED),
            normal=1,
            ordered=False,
            past=False,
            lasts_minutes=None,
            group=same.group if same is not None else symptom_node(symptom.symptom),
            background=both,
            causes=np.array(sorted(complained), dtype=np.int64),
            strength=_stack({place: np.array([p, 1.0 - p]) for place, p in complained.items()}, 2),
        )
    )


def _through_finding(symptom: Symptom, usual: float, findings: Mapping[Node, Shows]) -> dict[int, float]:
    """A complaint that is another name for a state: as often as a cause shows the state, so often it is complained of."""
    for finding, state in symptom.same_as.items():
        shows = findings.get(finding_node(finding))
        if shows is None or state not in shows.states:
            continue
        place = shows.states.index(state)
        tells = min(MOST_WHO_COMPLAIN, usual / shows.background[place])
        unseen = max(0.0, usual - tells * shows.background[place])  # complaints that come without the state
        told = unseen + tells * shows.strength[:, place]
        return {
            int(cause): min(float(p), MOST_WHO_COMPLAIN) for cause, p in zip(shows.causes, told, strict=True)
        }
    return {}


def _on_equipment(states: tuple[StateId, ...], cause: Cause, usual: Floats) -> Floats:
    possible = np.array([state in cause.equipment for state in states], dtype=np.bool_)
    if not possible.any():
        return usual
    values = np.where(possible, 0.0, ELSEWHERE)
    values[possible] = (1.0 - values.sum()) * usual[possible] / usual[possible].sum()
    return values


def _reach(causes: tuple[Cause, ...], equipment: Finding | None) -> Floats:
    """With the weights this makes `how_common` mean: among the causes of the equipment that the room has."""
    if equipment is None:
        together = [[1.0 if set(a.equipment) & set(b.equipment) else 0.0 for b in causes] for a in causes]
        return np.array(together, dtype=np.float64).reshape(len(causes), len(causes))
    states = tuple(equipment.states)
    on = np.array([[state in cause.equipment for state in states] for cause in causes], dtype=np.float64)
    on = on.reshape(len(causes), len(states))
    return np.asarray((on * background(equipment)) @ on.T, dtype=np.float64)


def _stack(rows: Mapping[int, Floats], states: int) -> Floats:
    return np.array([rows[place] for place in sorted(rows)], dtype=np.float64).reshape(len(rows), states)


def _sealed(shows: Shows) -> Shows:
    for array in (shows.background, shows.causes, shows.strength):
        array.flags.writeable = False
    return shows
