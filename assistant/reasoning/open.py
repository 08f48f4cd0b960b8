"""What may be asked and what may be tried: preconditions, tools, refusals. Cost orders what these leave.

Safety comes first and from elsewhere: with a danger open the conversation does not come here at all.
"""

from collections.abc import Collection, Mapping

from kb.compiling import Compiled
from kb.ids import CheckId, FindingId, FixId, QuantityId, StateId
from kb.schema import WhoFixes

Known = Mapping[FindingId, StateId]
"""The findings that count as now, each with its state."""


def open_checks(
    compiled: Compiled,
    known: Known,
    *,
    laid_aside: Collection[CheckId] = (),
    answered: Collection[CheckId] | None = None,
    without_tools: Collection[str] = (),
    unreachable: Collection[str] = (),
) -> tuple[CheckId, ...]:
    """Checks that make sense now, in order of id: not known yet, conditions met, tools and places within reach.

    `answered`: the checks whose answer is known already; where it is not said, those that find something known.
    """
    return tuple(
        check
        for check, node in compiled.knowledge.checks.items()
        if (node.finds not in known if answered is None else check not in answered)
        and node.finds in compiled.knowledge.findings
        and check not in laid_aside
        and node.effort.where not in unreachable
        and not set(node.effort.tools) & set(without_tools)
        and all(known.get(finding) in states for finding, states in node.only_if.items())
        and not _met(known, node.unless)
    )


def open_fixes(
    compiled: Compiled,
    known: Known,
    *,
    tried: Collection[FixId] = (),
    declined: Collection[FixId] = (),
    who: Collection[WhoFixes] = ("customer", "desk", "refrigeration trade", "electrician", "nobody"),
) -> tuple[FixId, ...]:
    """Fixes that may be offered now, in order of id."""
    return tuple(
        fix
        for fix, node in compiled.knowledge.fixes.items()
        if fix not in tried and fix not in declined and node.who in who and not _met(known, node.unless)
    )


def missing_quantities(
    compiled: Compiled, finding: FindingId, known: Collection[QuantityId]
) -> tuple[QuantityId, ...]:
    """What the finding's sum still lacks; nothing for a finding that is looked at."""
    total = compiled.knowledge.findings[finding].sum
    return () if total is None else tuple(quantity for quantity in total.of if quantity not in known)


def _met(known: Known, states_of: Mapping[FindingId, tuple[StateId, ...]]) -> bool:
    return any(known.get(finding) in states for finding, states in states_of.items())
