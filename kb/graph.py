"""The knowledge as a directed graph: which complaint speaks for which cause, what shows it, what mends it."""

from collections.abc import Iterator, Mapping
from typing import TypeAlias

import networkx as nx

from kb.files import Kind
from kb.ids import CauseId, CheckId, FindingId, FixId, SymptomId
from kb.likelihood import strength
from kb.schema import Cause, Check, Finding, Fix, Symptom

Edge: TypeAlias = tuple[str, str, dict[str, object]]


def node(kind: Kind, id_: str) -> str:
    """The name of a node in the graph.

    >>> node("cause", "filter_clogged")
    'cause:filter_clogged'
    """
    return f"{kind}:{id_}"


def graph_of(
    *,
    symptoms: Mapping[SymptomId, Symptom],
    findings: Mapping[FindingId, Finding],
    checks: Mapping[CheckId, Check],
    causes: Mapping[CauseId, Cause],
    fixes: Mapping[FixId, Fix],
) -> "nx.DiGraph[str]":
    """Nodes `kind:id` with their `kind`; every edge says its `role`, and how strong it is where that was written.

    `complains` symptom → cause (strength) · `shows` cause → finding (strengths: of each state) · `finds` check → finding ·
    `hides` cause → cause · `mends` cause → fix (place: 0 is tried first) · `touches` fix → finding.
    """
    graph: nx.DiGraph[str] = nx.DiGraph()
    for kind, ids in (
        ("symptom", symptoms),
        ("finding", findings),
        ("check", checks),
        ("cause", causes),
        ("fix", fixes),
    ):
        graph.add_nodes_from((f"{kind}:{id_}", {"kind": kind}) for id_ in ids)
    for cause in causes.values():
        graph.add_edges_from(_cause_edges(cause))
    graph.add_edges_from(
        (node("check", check.check), node("finding", check.finds), {"role": "finds"})
        for check in checks.values()
    )
    graph.add_edges_from(
        (node("fix", fix.fix), node("finding", finding), {"role": "touches"})
        for fix in fixes.values()
        for finding in fix.touches
    )
    return nx.freeze(graph)


def _cause_edges(cause: Cause) -> Iterator[Edge]:
    here = node("cause", cause.cause)
    for symptom, word in cause.complaints.items():
        yield node("symptom", symptom), here, {"role": "complains", "strength": strength(word)}
    for finding, states in cause.shows.items():
        strengths = {state: strength(word) for state, word in states.items()}
        yield here, node("finding", finding), {"role": "shows", "strengths": strengths}
    for place, fix in enumerate(cause.fixes):
        yield here, node("fix", fix), {"role": "mends", "place": place}
    for hidden in cause.hides:
        yield here, node("cause", hidden), {"role": "hides"}
