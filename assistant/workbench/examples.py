"""Authors' example cases: whether what is said leads where the author says it does.

In: knowledge, a cause, one of its examples. Out: what came instead, or None. `kb.linting.check` is handed `outcome_of`.
"""

from assistant.reasoning import (
    AskCheck,
    Choice,
    Evidence,
    HandOver,
    choose,
    complained,
    found,
    open_checks,
    open_fixes,
    weigh,
)
from kb.compiling import compile_
from kb.ids import CheckId, FindingId
from kb.knowledge import Knowledge
from kb.schema import Cause, Example


def outcome_of(knowledge: Knowledge, cause: Cause, example: Example) -> str | None:
    """What came instead of what the example expects; None where it came out.

    A fix comes out where it is the first one of the likeliest cause. A question comes out where it is asked next by somebody
    who has the numbers: an example holds states only, so questions for a number are left out unless they are expected.
    """
    compiled = compile_(knowledge)
    belief = weigh(compiled, evidence_of(knowledge, example))
    if example.ask:
        known = dict(example.said)
        numbers = [
            check for check, node in knowledge.checks.items() if node.measures and check not in example.ask
        ]
        askable = open_checks(compiled, known, laid_aside=numbers)
        choice = choose(compiled, belief, askable, open_fixes(compiled, known))
        if not isinstance(choice, AskCheck) or choice.check not in example.ask:
            return f"{_named(choice)}; `{cause.cause}` is believed {belief.of(cause.cause):.0%}"
    leading, share = belief.top(1)[0]
    if example.fix is not None and example.fix not in knowledge.causes[leading].fixes[:1]:
        return f"`{leading}` leads with {share:.0%}; `{cause.cause}` is believed {belief.of(cause.cause):.0%}"
    return None


def evidence_of(knowledge: Knowledge, example: Example) -> tuple[Evidence, ...]:
    """The example's facts as if its customer had answered the checks that find them."""
    facts = [
        found(finding, {state: 1.0}, check=_check_of(knowledge, finding))
        for finding, state in example.said.items()
    ]
    return (*facts, *([complained(example.complaint)] if example.complaint is not None else []))


def _check_of(knowledge: Knowledge, finding: FindingId) -> CheckId | None:
    return next((check for check, node in knowledge.checks.items() if node.finds == finding), None)


def _named(choice: Choice) -> str:
    if isinstance(choice, AskCheck):
        return f"`{choice.check}` is asked"
    if isinstance(choice, HandOver):
        return "a person takes over"
    return f"`{choice.fix}` is offered for `{choice.cause}`"
