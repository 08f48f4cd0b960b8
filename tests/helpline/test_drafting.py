"""A new cause becomes a draft that an author can go on with."""

from ruamel.yaml import YAML

from assistant.conversation.happenings import ColleagueLearned, ColleagueTookOver
from assistant.helpline.drafting import draft_of
from assistant.workbench.replay import Player
from channels.knowledge import our_knowledge
from kb.ids import FindingId, StateId
from tests.helpline.fakes import NOON


def test_a_draft_holds_what_the_case_showed_in_the_knowledges_words() -> None:
    knowledge = our_knowledge()
    player = Player(knowledge, NOON, "America/Denver")
    player.begin(None)
    player.hear("52 F, set to 38 F, window unit, worst on hot afternoons, the filter is clean")
    player.happen(ColleagueTookOver(at=player.at, colleague="Ana"))
    learnt = ColleagueLearned(
        at=player.at, colleague="Ana", finding=FindingId("wall_heat"), state=StateId("warmed")
    )
    player.happen(learnt)
    log = tuple(enumerate(player.events, start=1))

    draft = draft_of(knowledge, log, 'a "tarp" over the vent\ntarp off: vent free', "en")

    written = YAML(typ="safe", pure=True).load(draft)
    assert written["cause"] == "a_tarp_over_the_vent"
    assert written["means"] == {"en": 'a "tarp" over the vent', "es": ""}
    assert written["equipment"] == ["window"]
    assert written["shows"]["wall_heat"] == {"warmed": "often"}
    assert "filter" not in written["shows"]  # a clean one is nothing odd
    assert all(finding in knowledge.findings for finding in written["shows"])
    assert all(symptom in knowledge.symptoms for symptom in written["complaints"])
    assert "tarp off: vent free" in draft


def test_a_draft_of_nothing_can_still_be_read() -> None:
    knowledge = our_knowledge()
    player = Player(knowledge, NOON, "America/Denver")
    player.begin("en")
    draft = draft_of(knowledge, tuple(enumerate(player.events, start=1)), "???", "es")
    assert YAML(typ="safe", pure=True).load(draft)["cause"] == "new_cause"
