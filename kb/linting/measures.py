"""`measure`: a number that leads nowhere, or a sum that nobody asks for.

passes:
    quantity: room_c
    at_least: -30
    at_most: 50
fails:
    quantity: room_c
    at_least: 50
    at_most: -30
"""

from collections.abc import Iterator

from kb.knowledge import Knowledge
from kb.linting.rule import Rule
from kb.problems import Problem
from kb.shelf import Shelf


def search(shelf: Shelf, knowledge: Knowledge) -> Iterator[Problem]:
    """Checks whose number feeds no sum, results to expect without a question, and ranges that hold no number."""
    for id_, check in knowledge.checks.items():
        sum_ = knowledge.findings[check.finds].sum
        if check.measures is not None and (sum_ is None or check.measures not in (*sum_.of, *sum_.also)):
            what, why = (
                f"no sum of `{check.finds}` uses `{check.measures}`",
                "the number would be taken and change nothing",
            )
            mend = f"give the finding a `sum` of `{check.measures}`, or leave `measures` out"
            yield shelf.problem("check", id_, "measures", what=what, why=why, mend=mend, rule=RULE.name)
    for fix_id, fix in knowledge.fixes.items():
        if (fix.verify.ask is None) != (not fix.verify.expect):
            what, why = "a question and what to expect of it go together", "the answer could not be judged"
            mend = "write both `ask` and `expect`, or neither: then the room's temperature is compared"
            yield shelf.problem(
                "fix", fix_id, "verify", key=True, what=what, why=why, mend=mend, rule=RULE.name
            )
    for quantity_id, quantity in knowledge.quantities.items():
        if quantity.at_least >= quantity.at_most:
            what, why = "the range holds no number", "every answer would be asked about again"
            yield shelf.problem(
                "quantity",
                quantity_id,
                "at_least",
                what=what,
                why=why,
                mend="write the smaller number first",
                rule=RULE.name,
            )


RULE = Rule("measure", search)
