"""An author's new wording: what it steals from another finding, and which texts it would change."""

from dataclasses import replace

from assistant.reading.labelled import Labelled
from assistant.workbench.hearing_apart import changed_readings, heard_in
from kb import linting
from kb.ids import FindingId, StateId
from kb.knowledge import Knowledge
from kb.schema import Wordings

FILTER, COIL = FindingId("filter"), FindingId("outdoor_coil")


def with_saying(knowledge: Knowledge, finding: FindingId, state: str, words: str) -> Knowledge:
    """The knowledge with one more English saying."""
    node = knowledge.findings[finding]
    had = node.sayings.get(StateId(state), Wordings())
    sayings = {**node.sayings, StateId(state): Wordings(en=(*had.en, words), es=had.es)}
    changed = node.model_copy(update={"sayings": sayings})
    return replace(knowledge, findings={**knowledge.findings, finding: changed})


def test_no_wording_of_ours_is_heard_as_something_else() -> None:
    assert [p for p in linting.check(heard=heard_in) if p.rule == "stolen-wording"] == []


def test_a_saying_of_two_findings_is_heard_as_one_of_them(knowledge: Knowledge) -> None:
    stolen = with_saying(knowledge, COIL, "matted", "the filter is clogged")

    assert heard_in(knowledge, "the filter is clogged", "en")[FILTER] == "clogged"
    assert heard_in(stolen, "the filter is clogged", "en").get(FILTER) != "clogged"


def test_texts_that_a_new_saying_changes_are_judged_by_their_labels(knowledge: Knowledge) -> None:
    new = with_saying(knowledge, FILTER, "clogged", "wearing a fur coat")
    meant = Labelled(text="the thing is wearing a fur coat", language="en", findings={"filter": "clogged"})
    not_meant = Labelled(text="grandma came wearing a fur coat", language="en")
    untouched = Labelled(
        text="the door was left open", language="en", findings={"door_use": "often_or_propped"}
    )

    changes = changed_readings(knowledge, new, [meant, not_meant, untouched])

    assert [(change.labelled, change.better, change.worse) for change in changes] == [
        (meant, 1, 0),
        (not_meant, 0, 1),
    ]
    assert "+ findings: filter clogged" in str(changes[0])
    assert "labels disagree" in str(changes[1])
