"""Food that was warm: the limit with its rule, who decides, the desk's clock; never that it is safe."""

import math
from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import pytest

from assistant.conversation.events import DeskCalled
from assistant.conversation.product_clock import product_hours_left
from assistant.conversation.sum_events import SumDone
from assistant.workbench.replay import Player
from tests.conversation.conftest import Talk

Begin = Callable[..., Talk]


def clock_of(one: Talk) -> SumDone:
    return [done for done in one.events(SumDone) if done.sum == "product_clock"][-1]


def in_mexico(talk: Begin) -> Talk:
    one = talk()
    one.player = Player(one.player.knowledge, one.player.at, "America/Mexico_City")
    one.player.begin("es")
    return one


def test_a_food_question_gets_limit_rule_and_who_decides(talk: Begin) -> None:
    one = talk()
    said = one.text("cooler is at 50. can I still sell the cheese?")

    # FDA Food Code 2022, 3-501.16(A)(2): cold holding at 5 °C (41 °F) or less
    assert "41 F (FDA Food Code 3-501.16)" in said
    assert "inspector or adviser decides" in said
    assert "Local rules prevail" in said
    assert "cannot call it safe" in said
    assert any(call.why == "food" for call in one.events(DeskCalled))


def test_milk_eggs_and_cheese_have_limits_of_their_own(talk: Begin) -> None:
    # shell eggs: ambient air of 7 °C (45 °F) or less, FDA Food Code 2022, 3-501.16(B)
    assert "45 F" in talk().text("cooler is at 50. are the eggs still safe to sell?")
    assert "45 F (Grade A PMO)" in talk().text("cooler is at 50. can I still sell the milk?")


def test_outside_the_united_states_no_american_rule_is_cited(talk: Begin) -> None:
    said = in_mexico(talk).text("el cuarto está a 12 C, ¿todavía puedo vender la carne?")

    assert "7 C (NOM-251-SSA1)" in said
    assert "FDA" not in said


def test_whole_produce_has_no_safety_limit(talk: Begin) -> None:
    said = talk().text("cooler is at 50, is it safe to sell the apples?")

    assert "no safety limit" in said
    assert "41" not in said


def test_without_a_product_it_asks_which_and_takes_the_answer(talk: Begin) -> None:
    one = talk("cooler is at 50, can I still sell it?")
    assert "Which food is it" in " ".join(one.replies)

    assert "Grade A PMO" in one.text("raw milk")


def test_a_room_above_the_limit_is_over_and_counts_from_the_first_reading(talk: Begin) -> None:
    one = talk()
    one.player.at = datetime(2026, 7, 14, 18, 0, tzinfo=UTC)  # 2 pm in New York
    one.text("set to 38, we keep cheese. it was 39 at 9, 44 at 11, 48 now")

    found = dict(clock_of(one).results)
    assert clock_of(one).verdict == "over"
    assert found["hours_left"] == 0.0
    assert found["hours_over"] == pytest.approx(3.0, abs=0.1)
    assert product_hours_left(one.player.case, one.player.at) == 0.0


def test_hours_left_follow_the_rising_curve_and_run_down(talk: Begin) -> None:
    one = talk()
    one.player.at = datetime(2026, 7, 14, 22, 0, tzinfo=UTC)  # 6 pm
    one.text("set to 35, we keep cheese. it was 35 at 12, 36 at 1:30, 37 at 3, 38 at 4:30, 39 now")
    trend = next(done for done in one.events(SumDone) if done.sum == "trend")
    assert trend.verdict == "rising"

    left = product_hours_left(one.player.case, one.player.at)
    assert left is not None
    found, limit_c, now_c = dict(trend.results), 5.0, (39 - 32) / 1.8
    crossing_h = found["tau_h_low"] * math.log(
        (found["ends_c_high"] - now_c) / (found["ends_c_high"] - limit_c)
    )
    assert left == pytest.approx(crossing_h, rel=1e-6)
    later = product_hours_left(one.player.case, one.player.at + timedelta(hours=left / 2))
    assert later == pytest.approx(left / 2, rel=1e-6)
