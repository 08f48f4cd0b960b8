"""The list of ids and meanings that scoring and labelling work from."""

import json
from pathlib import Path

import kb
from kb.vocabulary import vocabulary, vocabulary_text
from tests.kb.small import write


def test_every_finding_stands_with_its_states_and_the_normal_one(tmp_path: Path) -> None:
    rows = vocabulary(kb.load(write(tmp_path)))["findings"]

    assert rows[0] == {
        "id": "filter",
        "means": "how dirty the filter is",
        "history": False,
        "states": [
            {"id": "clean", "means": "clean", "normal": True},
            {"id": "dusty", "means": "dusty", "normal": False},
            {"id": "clogged", "means": "clogged", "normal": False},
        ],
    }


def test_the_other_chapters_are_whole(tmp_path: Path) -> None:
    knowledge = kb.load(write(tmp_path))

    chapters = vocabulary(knowledge)

    assert [row["id"] for row in chapters["quantities"]] == list(knowledge.quantities)
    assert [row["id"] for row in chapters["hazards"]] == list(knowledge.hazards)
    assert [row["id"] for row in chapters["complaints"]] == list(knowledge.symptoms)
    assert [row["id"] for row in chapters["checks"]] == list(knowledge.checks)
    assert json.loads(json.dumps(chapters)) == chapters


def test_the_text_says_an_id_and_its_meaning_on_a_line(tmp_path: Path) -> None:
    text = vocabulary_text(kb.load(write(tmp_path)))

    assert (
        "findings\n  filter: how dirty the filter is\n      clean: clean [normal]\n      dusty: dusty\n"
        in text
    )
    assert "hazards\n  shut_in: somebody is shut inside [danger]\n" in text
    assert "checks\n  look_at_filter: How does the filter look? [filter]\n" in text
