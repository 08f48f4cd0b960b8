"""The knowledge that ships with the program is whole."""

from kb.files import PACKAGED
from kb.knowledge import Knowledge
from kb.linting import check
from kb.linting.words import heard
from kb.schema import Text


def test_it_has_no_error() -> None:
    errors = [str(problem) for problem in check() if problem.severity == "error"]

    assert errors == []


def test_every_mapping_is_in_order_of_id(knowledge: Knowledge) -> None:
    for nodes in (knowledge.findings, knowledge.checks, knowledge.causes, knowledge.fixes, knowledge.hazards):
        assert list(nodes) == sorted(nodes)


def test_the_graph_holds_every_node_and_no_other(knowledge: Knowledge) -> None:
    kinds = {kind for _, kind in knowledge.graph.nodes(data="kind")}
    of_kind = (knowledge.symptoms, knowledge.findings, knowledge.checks, knowledge.causes, knowledge.fixes)
    nodes = sum(len(ids) for ids in of_kind)

    assert kinds == {"symptom", "finding", "check", "cause", "fix"}
    assert knowledge.graph.number_of_nodes() == nodes


def test_spanish_is_no_copy_of_the_english(knowledge: Knowledge) -> None:
    texts: list[Text] = [
        text for check in knowledge.checks.values() for text in (check.ask, check.again, check.why)
    ]

    assert [text.en for text in texts if heard(text.en) == heard(text.es)] == []


def test_it_lies_in_the_package() -> None:
    assert (PACKAGED / "words" / "things.yaml").is_file()
