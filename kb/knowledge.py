"""The checked knowledge as the other rooms see it: nodes by id, the graph, the compiled arrays, the edition."""

from collections.abc import Mapping
from dataclasses import dataclass, field

import networkx as nx

from kb.ear import Ear
from kb.ids import (
    CauseId,
    CheckId,
    FindingId,
    FixId,
    HazardId,
    ProductId,
    QualityId,
    QuantityId,
    SymptomId,
    ThingId,
    WordGroupId,
)
from kb.schema import (
    Cause,
    Check,
    Finding,
    Fix,
    Hazard,
    Product,
    Quality,
    Quantity,
    Symptom,
    Thing,
    WordGroup,
)
from kb.trail import NO_TRAIL, Trail


@dataclass(frozen=True, slots=True, kw_only=True)
class Knowledge:
    """All nodes by id, each mapping in order of id; made by `kb.load`, never changed."""

    edition: str
    """Twelve hex digits of the SHA-256 over all files: the same words, the same edition."""
    symptoms: Mapping[SymptomId, Symptom]
    findings: Mapping[FindingId, Finding]
    checks: Mapping[CheckId, Check]
    causes: Mapping[CauseId, Cause]
    fixes: Mapping[FixId, Fix]
    hazards: Mapping[HazardId, Hazard]
    things: Mapping[ThingId, Thing]
    qualities: Mapping[QualityId, Quality]
    quantities: Mapping[QuantityId, Quantity]
    products: Mapping[ProductId, Product] = field(default_factory=dict)
    word_groups: Mapping[WordGroupId, WordGroup] = field(default_factory=dict)
    trail: Trail = NO_TRAIL
    """Where ids went that are no longer used."""
    ear: Ear | None = None
    """The second opinion on what a text says, trained from `heard/`; None where none was trained."""
    graph: "nx.DiGraph[str]"
    """Nodes `kind:id`; edges symptom → cause → finding ← check, cause → fix, each with its strength."""
