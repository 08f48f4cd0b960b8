"""A probe in ice water and a wire's loss: soft evidence, one sentence in their units, never a leave to use a cord."""

from collections.abc import Callable

import pytest

from assistant.conversation.sum_events import SumDone
from tests.conversation.conftest import Talk

Begin = Callable[..., Talk]


def done_of(one: Talk, name: str) -> SumDone:
    return [done for done in one.events(SumDone) if done.sum == name][-1]


def test_a_probe_that_reads_low_in_ice_water_is_off_and_by_how_much(talk: Begin) -> None:
    one = talk("display says 36 but my thermometer says 46, set to 38. window ac")
    said = one.text("in ice water it reads 27")

    # ice and water stand at 32 °F (0 °C), the ice point
    assert "should read 32 F and reads 27 F" in said
    assert "off by about 5 F" in said
    assert one.known("probe_in_ice") == "reads_cold"


def test_a_probe_that_reads_right_in_ice_water_is_cleared(talk: Begin) -> None:
    one = talk("la pantalla marca 2 C y mi termómetro 8 C, lo quiero a 3. aire de ventana", language="es")
    said = one.text("en agua con hielo marca 0.5 C")

    assert "la sonda está bien" in said
    assert one.known("probe_in_ice") == "right"


def test_a_hundred_feet_of_thin_cord_explains_it_and_is_not_approved(talk: Begin) -> None:
    one = talk()
    said = one.text(
        "unit hums and clicks and lights dim when it starts, window ac on a 100 ft cord 16 gauge, 12 amps"
    )

    # NEC (NFPA 70) ch. 9 table 8, 16 AWG stranded copper: 4.99 ohm per 1000 ft; 2 × 12 A × 0.1 × 4.99 = 12.0 V
    assert dict(done_of(one, "line_loss").results)["lost_v"] == pytest.approx(12.0, rel=0.01)
    assert "loses about 12 of 120 volts, 10 %" in said
    assert "licensed electrician" in said
    assert done_of(one, "line_loss").defaults == ("supply_v",)


def test_a_short_thick_cord_is_still_no_cord_to_use(talk: Begin) -> None:
    said = talk().text("lights dim when it starts, window ac on a 6 ft cord 12 gauge, 12 amps")

    assert "never right" in said


def test_a_gauge_that_no_table_has_is_no_trace(talk: Begin) -> None:
    one = talk("lights dim when it starts, window ac on a 50 ft cord 13 gauge, 12 amps")

    assert not [done for done in one.events(SumDone) if done.sum == "line_loss"]
    assert one.replies


ABSURD = (
    "the room is 900 degrees, set to 38",
    "my room is minus 500 degrees",
    "room is 2 inches wide",
    "the room is 9000 ft long",
    "cuarto de 0 x 0 x 0 metros y 12000 btu",
    "the unit is 99999999 btu",
    "foam is 40 ft thick",
    "what size do I need for 8x10x8, 900 tons of moon cheese a day, -400 F outside",
    "58 at 2, 52 at 99, 49 at 25:75, now 47. set to 38",
    "it was 58 F minus 3 hours ago, 4000 hours ago, 1e99 F now",
    "-0 F, 0 C, 00:00, 24:00, 12 12 12 12 12 12",
    "in ice water it reads 90",
    "100000 ft cord 16 gauge 99 amps 1 volt",
)


@pytest.mark.parametrize("words", ABSURD)
@pytest.mark.parametrize(
    "before", ["", "room is 12x10x8, 12000 btu, set to 38, 52 now, 95 outside", "can you watch it with me"]
)
def test_absurd_numbers_get_an_answer_and_never_a_trace(talk: Begin, words: str, before: str) -> None:
    one = talk(*([before] if before else []))

    assert one.text(words)
    assert one.text("and now?")
    for done in one.events(SumDone):
        assert all(value == value and abs(value) < 1e6 for _, value in done.results)  # noqa: PLR0124 - NaN is the one that differs


def test_a_number_that_cannot_be_is_asked_about_and_not_kept(talk: Begin) -> None:
    one = talk("set to 38, window ac")
    said = one.text("room is 900 degrees")

    assert "900" in said
    assert "cannot be right" in said
    assert one.player.case.latest_number("room_c") is None
    one.text("52 F")
    number = one.player.case.latest_number("room_c")
    assert number is not None
    assert number.value == 52.0
