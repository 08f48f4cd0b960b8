"""The authors' example cases: all of ours come out, and one that cannot is told with what came instead."""

from assistant.workbench.examples import outcome_of
from kb import linting
from kb.ids import CauseId, CheckId, FindingId, FixId, StateId
from kb.knowledge import Knowledge
from kb.schema import Example


def test_every_example_of_our_knowledge_comes_out() -> None:
    assert [problem for problem in linting.check(outcome=outcome_of) if problem.rule == "example"] == []


def test_an_example_that_leads_elsewhere_says_where(knowledge: Knowledge) -> None:
    clogged = {FindingId("filter"): StateId("clogged")}
    cause = knowledge.causes[CauseId("filter_clogged")]

    fix = outcome_of(knowledge, cause, Example(said=clogged, fix=FixId("mend_gasket")))
    ask = outcome_of(knowledge, cause, Example(said=clogged, ask=(CheckId("ask_walls"),)))

    assert fix is not None
    assert fix.startswith("`filter_clogged` leads with")
    assert ask is not None
    assert "is believed" in ask


def test_without_a_way_to_decide_examples_are_not_played() -> None:
    assert linting.check() == linting.check(outcome=lambda *_: None)
