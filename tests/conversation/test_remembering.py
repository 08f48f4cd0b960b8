"""What is still known is said once: on coming back to a case, and at the beginning of the next one."""

from collections.abc import Callable

from assistant.conversation.happenings import CaseBegun
from kb.knowledge import Knowledge
from tests.conversation.conftest import Talk

Begin = Callable[..., Talk]


def rested(talk: Begin) -> Talk:
    one = talk("my cooler is at 52, set to 38, the filter is clogged")
    one.wait(days=4)
    assert one.state == "closed"
    return one


def test_who_comes_back_is_told_in_one_sentence_what_was_known(talk: Begin) -> None:
    said = rested(talk).text("it is warm again")

    assert said.startswith("Good to hear from you again. Last time:")
    assert said.count("again. Last time") == 1


def test_a_word_soon_after_the_end_is_no_coming_back(talk: Begin) -> None:
    one = rested(talk)
    one.text("it is warm again")
    assert "Last time" not in one.text("thanks")


def test_what_was_carried_over_is_said_once_with_the_first_answer(knowledge: Knowledge) -> None:
    one = Talk(knowledge)
    begun = one.player.case.opened
    assert begun is not None
    one.player.case = type(one.player.case)()
    carried = (("equipment", "window"),)
    one.player.happen(
        CaseBegun(
            at=one.player.at, language=None, channel="sms", zone=begun.zone, region="911", carried=carried
        )
    )

    said = one.text("it is too warm, 52 and should be 38")

    assert "From before I know: " in said
    assert "From before I know" not in one.text("not sure")


def promised_on_page(knowledge: Knowledge, *, phone_line: bool) -> Talk:
    one = Talk(knowledge)
    begun = one.player.case.opened
    assert begun is not None
    one.player.case = type(one.player.case)()
    one.player.happen(
        CaseBegun(
            at=one.player.at,
            language=None,
            channel="web",
            zone=begun.zone,
            region="911",
            phone_line=phone_line,
        )
    )
    one.text("my room is at 52 F, set to 38 F, window unit, and the filter is packed with dust")
    for _ in range(12):
        if one.state == "fixing":
            break
        one.text("not sure")
    one.do_the_fix()
    return one


def test_at_the_first_promised_hour_a_page_asks_for_a_phone_once(knowledge: Knowledge) -> None:
    one = promised_on_page(knowledge, phone_line=True)

    assert sum("Take it to my phone" in text for text in one.replies) == 1
    one.wait(hours=5)
    one.text("41 F")
    assert sum("Take it to my phone" in text for text in one.replies) == 1


def test_without_a_telephone_line_it_does_not(knowledge: Knowledge) -> None:
    assert not any("phone" in text for text in promised_on_page(knowledge, phone_line=False).replies)
