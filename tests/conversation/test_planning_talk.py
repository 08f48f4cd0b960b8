"""A room that is planned: only what moves the answer is asked, and the licensed keep their work."""

from collections.abc import Callable

import pytest

from assistant.conversation.events import DeskCalled
from assistant.conversation.sum_events import ProductLearned, SumDone
from tests.conversation.conftest import Talk

Begin = Callable[..., Talk]
WHOLE = "what size do I need for 8x10x8, 4 inches of foam, 40 bushels of apples a day?"


def plan_of(one: Talk) -> SumDone:
    return [done for done in one.events(SumDone) if done.sum == "plan"][-1]


def test_what_was_told_is_not_asked_and_the_range_has_its_reasons(talk: Begin) -> None:
    one = talk(WHOLE, "95")
    said = one.text("a few times a day")

    assert "Look for a unit of about 13500 BTU/h to 16000 BTU/h" in said
    assert "% of the heat comes in with the product" in said
    assert "I took a target of 38 F" in said
    assert "licensed electrician" in said
    assert [str(learned.product) for learned in one.events(ProductLearned)] == ["apples"]


def test_a_bushel_weighs_what_a_bushel_of_that_weighs(talk: Begin) -> None:
    # 40 × 42 lb of apples (USDA AH 697) = 762 kg; 40 × 20 lb of greens = 363 kg
    apples = talk(WHOLE, "95", "a few times a day")
    greens = talk(WHOLE.replace("apples", "greens"), "95", "a few times a day")

    assert dict(plan_of(apples).inputs)["product_kg"] == pytest.approx(764.0, rel=0.005)
    assert dict(plan_of(greens).inputs)["product_kg"] == pytest.approx(363.0, rel=0.005)


def test_a_question_that_cannot_move_the_answer_is_not_asked(talk: Begin) -> None:
    told = "what size do I need? 8x10x8, 4 inches of foam, 40 bushels of apples a day, 95 outside, door opened a few times a day"

    assert "Look for a unit" in talk().text(told)


def test_not_knowing_leaves_a_guess_that_is_told(talk: Begin) -> None:
    one = talk("what size unit do I need", "8x10x8")
    for _ in range(4):
        one.text("not sure")

    said = " ".join(one.replies)
    assert "Look for a unit" in said
    assert "of foam" in said
    assert "little warm product a day" in said
    assert plan_of(one).defaults


def test_another_number_works_it_out_again(talk: Begin) -> None:
    one = talk(WHOLE, "95", "a few times a day")
    before = dict(plan_of(one).results)["rated_w_middle"]

    said = one.text("and with 20 bushels a day?")

    assert "Now it comes to" in said
    assert dict(plan_of(one).results)["rated_w_middle"] < before


def test_a_target_that_ices_up_goes_to_a_contractor(talk: Begin) -> None:
    said = talk().text("what size unit do I need for 8x10x8, set to 28 F")

    assert "refrigeration contractor" in said
    assert "Look for a unit" not in said


def test_a_hall_goes_to_a_contractor(talk: Begin) -> None:
    one = talk("what size do I need for 60x60x20 ft, 2 inches of foam, 95 outside, 2000 kg of carrots a day")
    one.text("very often")

    assert "refrigeration contractor" in " ".join(one.replies)
    assert one.events(DeskCalled)[-1].why == "planning"


def test_planning_in_spanish_gives_kilowatts_and_btu(talk: Begin) -> None:
    one = talk(
        "quiero hacer un cuarto, qué aire compro",
        "3 x 3 x 2.5 metros",
        "unos 300 kilos de lechuga",
        "36 C",
        language="es",
    )
    one.text("10 cm")
    said = one.text("pocas veces al día")

    assert "Busque un aparato de unos" in said
    assert "kW (" in said
    assert "electricista con licencia" in said


def test_trouble_with_a_room_that_was_just_built_is_not_planning(talk: Begin) -> None:
    one = talk("just built a cold room, it is at 55 and set to 38, mini split blows cold")

    assert "Look for a unit" not in " ".join(one.replies)
    assert one.open_check != "ask_room_size"
