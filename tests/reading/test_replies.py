"""Replies to the open question, in every shape people give them."""

import pytest

from assistant.reading import OpenQuestion, Option, open_question, read
from kb.ids import CheckId
from kb.knowledge import Knowledge
from tests.reading.conftest import Answers

FILTER = "look_at_filter"


@pytest.mark.parametrize(
    "text",
    [
        "2",
        "#2",
        "2.",
        " 2 ",
        "two",
        "the second",
        "the second one",
        "2nd",
        "b",
        "B)",
        "option 2",
        "dusty",
        "a bit dusty",
    ],
)
def test_an_option_by_number_ordinal_letter_or_label(answers: Answers, text: str) -> None:
    answer = answers(FILTER, text)

    assert (answer.kind, answer.state) == ("state", "dusty")
    assert answer.confidence >= 0.8


@pytest.mark.parametrize(
    "text",
    [
        "3",
        "la tercera",
        "tres",
        "la 3",
        "tapado",
        "esta bien tapado de polvo",
        "no se ve a través",
        "la última",
    ],
)
def test_an_option_in_spanish(answers: Answers, text: str) -> None:
    assert answers(FILTER, text, "es").state == "clogged"


@pytest.mark.parametrize(
    ("check", "text", "state"),
    [
        (FILTER, "I can see through it", "clean"),
        (FILTER, "its packed", "clogged"),
        (FILTER, "no wait, 3", "clogged"),
        ("feel_airflow", "not much", "weak"),
        ("feel_airflow", "sale poquito", "weak"),
        ("look_at_outdoor_fan", "yes", "turns"),
        ("look_at_outdoor_fan", "no", "stopped"),
        ("look_at_outdoor_fan", "no it's not moving", "stopped"),
        ("look_at_outdoor_fan", "si gira", "turns"),
        ("look_at_outdoor_fan", "👍", "turns"),
        ("ask_power_cut", "yes, last night for 3 hours", "lately"),
        ("ask_power_cut", "not that I know of", "none"),
        ("ask_power_cut", "sí, anoche se fue", "lately"),
        ("ask_equipment", "its a window unit", "window"),
        ("listen_to_compressor", "no para nunca", "never_stops"),
        ("time_a_run", "90 seconds tops", "very_short"),
        ("time_a_run", "como media hora", "usual"),
        ("ask_trend", "still going up", "rising"),
    ],
)
def test_an_option_described(answers: Answers, check: str, text: str, state: str) -> None:
    assert answers(check, text).state == state


@pytest.mark.parametrize(
    "text", ["I don't know", "idk", "not sure", "no idea", "no sé", "ni idea", "quién sabe", "can't tell"]
)
def test_not_knowing_is_an_answer(answers: Answers, text: str) -> None:
    assert answers(FILTER, text).kind == "unsure"


@pytest.mark.parametrize(
    "text", ["can't look right now", "I'm not there", "ahorita no puedo", "no estoy ahí", "later today"]
)
def test_not_being_able_is_another(answers: Answers, text: str) -> None:
    assert answers(FILTER, text).kind == "cannot"


@pytest.mark.parametrize(
    "text", ["why do you ask", "who won the game", "52", "5", "¿para qué quiere saber?", "asdf ghjk", "🧊🧊"]
)
def test_what_answers_nothing_is_none(answers: Answers, text: str) -> None:
    assert answers(FILTER, text).kind == "none"


@pytest.mark.parametrize("text", ["2 or 3", "between dusty and clogged", "entre 2 y 3"])
def test_wavering_is_not_taken(answers: Answers, text: str) -> None:
    assert answers(FILTER, text).confidence < 0.9


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        ("48", 48.0, "F"),
        ("forty eight", 48.0, "F"),
        ("9 grados", 9.0, "C"),
        ("its at 48 but outside is 95", 48.0, "F"),
        ("28", 28.0, None),
    ],
)
def test_a_number_answers_a_number(answers: Answers, text: str, value: float, unit: str | None) -> None:
    answer = answers("read_room_temperature", text)

    assert (answer.kind, answer.value, answer.unit) == ("number", value, unit)


def test_extra_facts_in_a_reply_are_kept(knowledge: Knowledge) -> None:
    question = open_question(knowledge, CheckId(FILTER), "en")
    reading = read(knowledge, "its clean but the coil is iced", about=question)

    assert reading.answer.state == "clean"
    assert any(said.finding == "coil_ice" for said in reading.findings)


def test_a_number_that_chose_is_no_temperature(knowledge: Knowledge) -> None:
    question = open_question(knowledge, CheckId(FILTER), "en")

    assert read(knowledge, "2", about=question).quantities == ()


def test_a_reply_to_a_negative_question_is_read_by_its_own_words(knowledge: Knowledge) -> None:
    options = (Option(value="yes", label="yes"), Option(value="no", label="no"))
    question = OpenQuestion(options=options, yes_no=True)

    assert read(knowledge, "no, it isn't", about=question).answer.state == "no"
    assert read(knowledge, "yep", about=question).answer.state == "yes"
    assert read(knowledge, "nel", about=question).answer.state == "no"


def test_done_answers_a_wait(knowledge: Knowledge) -> None:
    for text in ("done", "listo", "ok done", "ya quedó"):
        assert read(knowledge, text, about=OpenQuestion(done=True)).answer.state == "done", text


@pytest.mark.parametrize(
    ("check", "text", "state"),
    [
        ("ask_noise", "same hum as ever", "usual"),
        ("feel_exhaust", "a touch warmer", "lukewarm"),
        ("feel_leaving_air", "not real cold", "cool"),
        ("ask_coil_limit", "not touched", "usual"),
        ("look_at_display", "nothing", "dead"),
        ("ask_what_tripped", "breaker was off", "breaker"),
        ("ask_worked_before", "last summer it was fine", "yes"),
    ],
)
def test_words_that_are_all_of_one_answer_mean_it_whatever_they_mean_elsewhere(
    answers: Answers, check: str, text: str, state: str
) -> None:
    answer = answers(check, text)

    assert (answer.state, answer.confidence >= 0.9) == (state, True)


def test_a_wording_does_not_cut_a_number_in_two(answers: Answers) -> None:
    assert answers("ask_walls", "4 inch foam").state == "foam"
    assert answers("time_a_rest", "thirty five minutes").state != "usual"
