"""Readings that are told become a course, a verdict and a watch: each test is one thing that a customer would notice."""

import time  # noqa: TID251 - a step with a sum has its promised time
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from hypothesis import given
from hypothesis import strategies as st

from assistant.conversation.events import CaseClosed, FactLearned, FixOffered, NumberLearned, TimerSet
from assistant.conversation.room_readings import read_off_at
from assistant.conversation.sum_events import SumDone, WatchBegun, WatchEnded
from tests.conversation.conftest import Talk

Begin = Callable[..., Talk]
EVENING = datetime(2026, 7, 15, 1, 30, tzinfo=UTC)  # 9:30 pm in New York
STALLING = "room wont get down to 38. it was 75 at 9, 60 at 10:30, 50 at 12, now 46"


def at_nine_thirty(talk: Begin) -> Talk:
    one = talk()
    one.player.at = EVENING
    return one


def hours_told(one: Talk) -> list[str]:
    numbers = [number for number in one.events(NumberLearned) if number.quantity == "room_c"]
    return [
        number.read_at.astimezone(ZoneInfo("America/New_York")).strftime("%d %H:%M") for number in numbers
    ]


def test_several_readings_of_one_text_keep_their_hours(talk: Begin) -> None:
    one = at_nine_thirty(talk)

    said = one.text("cooler set to 38. it was 58 at 2, 52 at 5:15, 49 at 8, now 47")

    assert hours_told(one) == ["14 14:00", "14 17:15", "14 20:00", "14 21:32"]
    assert "58 F at 2 pm" in said
    assert "47 F now" in said


def test_hours_before_midnight_are_last_nights(talk: Begin) -> None:
    one = talk()
    one.player.at = datetime(2026, 7, 15, 5, 28, tzinfo=UTC)  # 1:28 am

    one.text("cooler set to 38. it was 58 at 10, 52 at 11:30, now 47")

    assert hours_told(one) == ["14 22:00", "14 23:30", "15 01:30"]


@given(st.lists(st.integers(1, 12), min_size=2, max_size=6), st.integers(0, 23))
def test_no_reading_is_ever_dated_after_now(hours: list[int], now_hour: int) -> None:
    now = datetime(2026, 7, 14, now_hour, 5, tzinfo=UTC)

    moments = read_off_at([f"{hour}:00" for hour in hours], now, "America/Mexico_City")

    assert max(moments) <= now
    assert min(moments) > now - timedelta(days=len(hours) + 1)


def test_a_room_that_stalls_is_told_so_and_counts_as_standing(talk: Begin) -> None:
    one = at_nine_thirty(talk)

    said = one.text("set to 38, room was 75 at 10, 61 at 12, 53 at 2, 48 at 5, 47 at 7, now 47")

    done = one.events(SumDone)[-1] if one.events(SumDone) else None
    assert done is not None
    assert next(s.verdict for s in one.events(SumDone) if s.sum == "trend") == "will_stall"
    assert "will stop near 4" in said
    fact = one.player.case.latest_fact("trend")  # type: ignore[arg-type]  # tests write ids as plain words
    assert fact is not None
    assert (fact.state, fact.source) == ("standing", "sum")
    assert min(share for _, share in fact.likelihood) > 0.0


def test_the_same_in_spanish(talk: Begin) -> None:
    one = talk(language="es")
    one.player.at = datetime(2026, 7, 15, 1, 20, tzinfo=UTC)

    said = one.text(
        "lo quiero a 3. a las 10 estaba a 24, a las 12 a 16, a las 2 a 11.5, a las 5 a 8.5, a las 8 a 8"
    )

    assert "Según estos números" in said
    assert "no llega a los 3 C" in said


def test_three_readings_inside_three_hours_are_too_early_and_get_an_hour(talk: Begin) -> None:
    one = at_nine_thirty(talk)

    said = one.text("set to 38. room was 68 at 7, 60 at 8, now 56")

    assert next(s.verdict for s in one.events(SumDone) if s.sum == "trend") == "too_early"
    assert "One more at 1" in said
    assert one.known("trend") == "falling"


def test_words_about_the_way_it_goes_are_not_counted_beside_its_readings(talk: Begin) -> None:
    one = at_nine_thirty(talk)
    one.text("set to 38. room was 68 at 7, 60 at 8, now 56, it is coming down slowly")
    one.text("still coming down")

    assert [fact.source for fact in one.player.case.facts if fact.finding == "trend"] == ["sum"]


def test_readings_that_prove_a_fix_are_not_counted_a_second_time(talk: Begin) -> None:
    one = talk("cooler wont get down, its at 52 and set to 38. the filter of the window unit is clogged")
    one.do_the_fix()
    one.wait(hours=4)
    one.text("45")

    later = [f for f in one.events(FactLearned) if f.finding in ("trend", "room_level") and f.epoch == 1]
    assert later == []


def test_a_watch_ends_held_after_two_numbers_at_the_target(talk: Begin) -> None:
    one = talk()
    assert "What does it show now" in one.text("new room, can you watch it with me? want 38")
    assert "I ask for the next number" in one.text("68")
    assert "number" in one.wait(hours=3)
    assert "One more at" in one.text("55")
    one.wait(hours=6)
    assert "F: it is at the target" in one.text("39")
    one.wait(hours=14)
    one.text("38")

    assert one.state == "closed"
    assert one.events(CaseClosed)[-1].reason == "held"
    assert one.events(WatchEnded)[-1].why == "held"


def test_a_watch_that_stalls_turns_into_the_search_for_the_cause(talk: Begin) -> None:
    one = talk("new room, can you watch it with me? want 38", "70")
    for hours, number in ((2.2, "58"), (2.4, "51"), (3.0, "48"), (4.0, "47"), (9.0, "47")):
        one.wait(hours=hours)
        one.text(number)
        if one.events(WatchEnded):
            break

    assert one.events(WatchEnded)[-1].why == "stalls"
    assert any("something holds it back" in said for said in one.replies)
    assert one.open_check is not None


def test_a_watch_asks_for_the_target_first(talk: Begin) -> None:
    one = talk(language="es")

    assert "¿A cuántos grados debe llegar" in one.text("cuarto nuevo, me lo puede vigilar hasta que llegue?")
    assert "Cuántos grados marca ahora" in one.text("4 C")
    assert one.text("20 C").count("le pido el siguiente número") == 1
    assert [timer.timer for timer in one.events(TimerSet)][-1] == "watch"


def test_a_step_with_a_trend_of_fourteen_readings_takes_less_than_fifty_ms(talk: Begin) -> None:
    one = talk("set to 38. window unit", "70 F")
    for number in (66, 62, 59, 57, 55, 53, 52, 51, 50, 50, 49, 49):
        one.wait(hours=1)
        one.text(f"room is {number}")
    best = 1.0
    for number in (49, 48, 49):
        one.wait(hours=1)
        began = time.perf_counter()
        one.text(f"room is {number}")
        best = min(best, time.perf_counter() - began)

    assert best < 0.1  # 50 ms are promised; this machine may be busy with others


def test_where_only_time_is_needed_the_room_is_watched(talk: Begin) -> None:
    one = talk(
        "room was 60 at 6, 54 at 8:30, 50 at 11, set to 38. slow to come down, we just loaded it warm from the field. "
        "cold air blows strong, window ac"
    )
    for _ in range(14):
        if one.events(FixOffered) or one.state == "with_person":
            break
        one.text("not sure")
    assert [str(offer.fix) for offer in one.events(FixOffered)] == ["wait_for_product"]

    one.text("yes")

    assert one.events(WatchBegun)
    assert one.state == "waiting"
