"""Sizes and labels become evidence, and are asked for only where they could turn what we do."""

import re
from collections.abc import Callable

from assistant.conversation.events import DeskCalled, FixOffered
from assistant.conversation.sum_events import SumDone
from tests.conversation.conftest import Talk

Begin = Callable[..., Talk]
STUCK = "new cooler stuck at 52, set to 38. mini split, blows cold and strong, no ice. nothing warm went in"


def load_of(one: Talk) -> SumDone:
    return [done for done in one.events(SumDone) if done.sum == "load_against_capacity"][-1]


def test_sizes_and_label_turn_a_search_into_a_unit_too_small(talk: Begin) -> None:
    one = talk(STUCK, "room is 14x16x8, the unit is 12000 btu, it is 95 outside")
    assert one.open_check == "measure_foam"

    one.text("4 inches. the door stays shut")
    one.text("it never rests")
    one.text("it grips all round")

    assert load_of(one).verdict == "short_unit"
    assert [str(offer.fix) for offer in one.events(FixOffered)] == ["desk_review_size"]
    assert one.events(DeskCalled)


def test_the_sentence_is_in_their_own_units(talk: Begin) -> None:
    english = talk(STUCK).text("room is 14x16x8, the unit is 12000 btu, it is 95 outside")
    spanish = talk(language="es")
    spanish.text(
        "el cuarto se queda en 11 C y lo quiero a 3. es nuevo, minisplit de 12000 btu, sopla frío y fuerte, sin hielo"
    )
    spanish.text("el cuarto mide 3.5x3.5x2.5 m, afuera hace 34 C")
    said = spanish.text("5 cm de unicel")

    assert "F with 95 F outside" in english
    assert "34 C afuera" in said
    assert "10 cm" in said
    assert " W." in said
    assert "BTU" not in said


def test_foam_is_not_asked_for_where_it_changes_nothing(talk: Begin) -> None:
    one = talk(STUCK, "room is 8x8x8, the unit is 18000 btu, it is 80 outside, door stays shut")

    for _ in range(5):
        assert one.open_check != "measure_foam"
        one.text("not sure")
    assert load_of(one).verdict == "ample"
    assert "big enough" in " ".join(one.replies)


def test_a_sum_keeps_what_was_given_and_what_was_guessed(talk: Begin) -> None:
    one = talk(STUCK, "room is 14x16x8, the unit is 12000 btu")
    done = load_of(one)

    assert {"rated_w", "long_m", "wide_m", "high_m", "target_c"} == {name for name, _ in done.inputs}
    assert {"foam_m", "outdoor_c", "door_use"} <= set(done.defaults)
    assert "product_kg" in done.defaults


def test_a_fact_learnt_later_does_the_sum_again(talk: Begin) -> None:
    one = talk(STUCK, "room is 12x12x8, the unit is 12000 btu, it is 95 outside, 4 inches of foam")
    before = dict(load_of(one).results)["used_share_middle"]

    one.text("people are in and out all day, door is left open")

    assert dict(load_of(one).results)["used_share_middle"] > before


def test_numbers_that_make_no_room_together_are_no_trace(talk: Begin) -> None:
    said = talk(STUCK).text("room is 2 inches wide and 10 ft long, 12000 btu")

    assert "cannot be right" in said


def promised_f(one: Talk) -> float:
    """The number that the last promise says to expect."""
    said = next(text for text in reversed(one.replies) if "F if not" in text or "did not help" in text)
    return float(re.findall(r"[Aa]bout (\d+) F", said)[0])


def test_the_number_to_expect_after_a_fix_is_that_of_this_room(talk: Begin) -> None:
    told = "cooler wont get down, its at 56 and set to 38. hardly any air coming out of the window unit"
    some_room = talk(told, "the filter is clogged")
    quick = talk(
        f"{told}. room is 8x8x8 ft, 4 inches of foam, 12000 btu, 85 outside, nothing warm went in, door stays shut",
        "the filter is clogged",
    )
    full = talk(
        f"{told}. room is 14x14x8 ft, 4 inches of foam, 12000 btu, 85 outside, a big warm load went in, door stays shut",
        "the filter is clogged",
    )

    for one in (some_room, quick, full):
        one.do_the_fix()

    assert promised_f(quick) < promised_f(some_room) <= promised_f(full)


def test_half_a_size_is_asked_for_again(talk: Begin) -> None:
    one = talk("what size unit do I need", "10 ft")

    assert one.open_check == "ask_room_size"
