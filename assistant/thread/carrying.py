"""What is known of a room for good, and goes with it into its next case."""

from assistant.conversation.case import Case
from kb.knowledge import Knowledge


def lasting_facts(knowledge: Knowledge, case: Case) -> tuple[tuple[str, str], ...]:
    """The latest state of each finding that lasts always, in order of the findings' ids."""
    latest = {fact.finding: fact.state for fact in case.facts}
    return tuple(
        (str(finding), str(state))
        for finding, state in sorted(latest.items())
        if finding in knowledge.findings and knowledge.findings[finding].lasts == "always"
    )
