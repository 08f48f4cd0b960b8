"""A promise, a close with its question, and what comes after it; sentences by id in their language."""

from datetime import UTC, datetime, timedelta

import pytest

from assistant.conversation.case import Case
from assistant.conversation.desk_events import HeldTold
from assistant.conversation.events import CaseClosed, DeskCalled, Said
from assistant.conversation.happenings import (
    ColleagueClosed,
    ColleaguePromised,
    ColleagueSaid,
    ColleagueTookOver,
    ColleagueWrote,
)
from assistant.conversation.ids import ASSISTANT, MessageId
from assistant.conversation.record import Record, from_record
from assistant.conversation.to_hand import OURS
from assistant.helpline.glossing import gloss, sentences_to_hand
from assistant.wording import SENTENCES
from assistant.workbench.replay import Player
from channels.knowledge import our_knowledge
from kb.knowledge import Knowledge

NOON = datetime(2026, 7, 14, 18, 0, tzinfo=UTC)


@pytest.fixture(scope="module")
def knowledge() -> Knowledge:
    return our_knowledge()


def player_of(knowledge: Knowledge, text: str) -> Player:
    player = Player(knowledge, NOON, "America/Denver")
    player.begin(None)
    player.hear(text)
    return player


def closed(player: Player, days: int = 1) -> Case:
    player.happen(ColleagueTookOver(at=player.at, colleague="Ana"))
    ask_at = player.at + timedelta(days=days)
    player.happen(
        ColleagueClosed(
            at=player.at, colleague="Ana", cause="filter_clogged", fix="clean_filter", ask_at=ask_at
        )
    )
    return player.case


def test_some_days_later_they_are_asked_whether_it_held(knowledge: Knowledge) -> None:
    player = player_of(knowledge, "52 F, set to 38 F, the filter is clogged")
    assert closed(player).state == "closed"

    said = player.wait(timedelta(days=2))
    thanks = player.hear("yes")

    assert [one.sentence for one in said] == ["did_it_hold"]
    assert player.case.state == "closed"
    assert [one.sentence for one in thanks] == ["held_still"]
    assert HeldTold(at=player.at, held=True) in player.events


def test_when_it_came_back_the_case_is_opened_for_a_person(knowledge: Knowledge) -> None:
    player = player_of(knowledge, "el cuarto está a 12 C y lo quiero a 3 C, el filtro está tapado")
    closed(player)
    player.wait(timedelta(days=2))

    player.hear("no")

    assert player.case.state == "with_person"
    assert player.case.voice == ASSISTANT
    assert [event.why for event in player.events if isinstance(event, DeskCalled)][-1] == "came_back"


def test_who_writes_after_a_close_is_heard_by_the_assistant(knowledge: Knowledge) -> None:
    """The colleague who closed it no longer listens: their voice must not keep the case silent."""
    player = player_of(knowledge, "52 F, set to 38 F")
    closed(player)

    said = player.hear("it is warm again, 55 F, window unit")

    assert said
    assert (player.case.state, player.case.voice) == ("asking", ASSISTANT)


def test_a_danger_after_a_close_is_a_danger(knowledge: Knowledge) -> None:
    player = player_of(knowledge, "52 F, set to 38 F")
    closed(player)
    player.wait(timedelta(days=2))

    player.hear("there is smoke coming out of the plug")

    assert player.case.state == "danger"


def test_a_promise_is_told_with_its_hour_and_calls_the_desk_when_it_passes(knowledge: Knowledge) -> None:
    player = player_of(knowledge, "52 F, set to 38 F")
    player.happen(ColleagueTookOver(at=player.at, colleague="Ana"))
    due = player.at + timedelta(hours=2)

    said = player.happen(ColleaguePromised(at=player.at, colleague="Ana", due=due, tell=True))
    later = player.wait(timedelta(hours=3))

    assert [(one.voice, one.sentence) for one in said] == [("Ana", "desk_promise")]
    assert "2 pm" in said[0].text
    assert later == []
    assert [event.why for event in player.events if isinstance(event, DeskCalled)] == ["promised"]


def test_writing_keeps_the_promise(knowledge: Knowledge) -> None:
    player = player_of(knowledge, "52 F, set to 38 F")
    player.happen(ColleagueTookOver(at=player.at, colleague="Ana"))
    due = player.at + timedelta(hours=2)
    player.happen(ColleaguePromised(at=player.at, colleague="Ana", due=due, tell=False))
    player.happen(ColleagueWrote(at=player.at, colleague="Ana", message=MessageId("w1")))

    player.wait(timedelta(hours=3))

    assert not any(isinstance(event, DeskCalled) for event in player.events)


def test_a_close_that_was_stored_before_still_reads() -> None:
    body = {"at": "2026-07-14T16:00:00Z", "reason": "by_colleague", "cause": "filter_clogged"}

    event = from_record(Record("CaseClosed", 1, body))

    assert isinstance(event, CaseClosed)
    assert (event.cause, event.is_new, event.fix, event.held) == ("filter_clogged", False, None, None)


# -- sentences to hand -----------------------------------------------------------------------------------------------


def test_a_question_by_its_id_is_open_until_it_is_answered(knowledge: Knowledge) -> None:
    player = player_of(knowledge, "mi cuarto frío está a 12 C y lo quiero a 3 C")
    player.happen(ColleagueTookOver(at=player.at, colleague="Ana"))

    said = player.happen(ColleagueSaid(at=player.at, colleague="Ana", sentence="ask:look_at_filter"))
    player.hear("3")

    assert said[-1].voice == "Ana"
    assert said[-1].language == "es"
    learnt = player.case.latest_fact(knowledge.checks[said[-1].sentence.partition(":")[2]].finds)  # type: ignore[index]  # a check's id
    assert learnt is not None
    assert learnt.state == "clogged"


def test_every_sentence_to_hand_can_be_sent_in_both_languages(knowledge: Knowledge) -> None:
    for text in ("52 F, set to 38 F", "12 C, lo quiero a 3 C"):
        player = player_of(knowledge, text)
        player.happen(ColleagueTookOver(at=player.at, colleague="Ana"))
        for sentence in sentences_to_hand(knowledge, "en"):
            said = player.happen(ColleagueSaid(at=player.at, colleague="Ana", sentence=sentence))
            assert said, sentence
            assert all("{" not in one.text.replace("{room}", "") for one in said), sentence
    assert set(OURS) <= set(SENTENCES)


def test_what_was_said_in_spanish_is_shown_in_english_with_its_values(knowledge: Knowledge) -> None:
    """A colleague who reads no Spanish: most of what we say comes back whole."""
    player = player_of(
        knowledge, "mi cuarto frío está a 12 C, lo tengo a 3 C, ventana, el filtro está tapado"
    )
    for text in ("1", "listo", "no sé", "12 C"):
        player.hear(text)
    ours = [event for event in player.events if isinstance(event, Said)]

    shown = [gloss(knowledge, said, "en", "911") for said in ours]

    assert all(words is not None for words in shown)
    assert any("12 C" in (words or "") for words in shown)
    assert any("call 911" in (words or "") for words in shown)
    untold = sum("…" in (words or "") for words in shown)
    assert untold <= len(shown) // 3, shown


def test_what_stands_in_the_colleagues_language_needs_no_gloss(knowledge: Knowledge) -> None:
    player = player_of(knowledge, "52 F, set to 38 F")
    said = next(event for event in player.events if isinstance(event, Said))
    assert gloss(knowledge, said, "en", "911") is None
