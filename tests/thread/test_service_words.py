import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.thread import language_of_word, may_be_service_word, service_word
from assistant.thread.service_words import DEFINITIVE, STOP_ES
from kb.knowledge import Knowledge

# 47 CFR 64.1200(a)(10) (89 FR 15756, FR Doc 2024-04587): words that are reasonable means of revoking per se
LEGAL = ("stop", "quit", "end", "revoke", "opt out", "cancel", "unsubscribe")

# The same words about a cold room; our own sentences, in the manner of people who text us
TRADE = (
    "the fan stops after 5 min", "it quit cooling", "compressor quit", "stop light is on", "should I stop the unit?",
    "cancel the defrost", "end cap is iced", "unit stopped", "no more ice", "se paró el compresor",
    "no para de congelar", "dejó de enfriar", "wrong number on the display, it says 88", "the number was wrong",
    "no más hielo", "ya no quiero más hielo", "it stopped sending cold air", "baja mucho la temperatura",
    "don't text me before 6am", "no me escriba en inglés", "no me escriban tan temprano", "no me mandes un técnico todavía",
    "sáquenme de aquí", "get me off this ladder", "sick of texting, call me", "don't bother me with the number, it's 48",
    "the unit stopped sending me cold air", "remove the filter", "el motor dejó de mandar aire frío", "no me manden a nadie",
    "stop texting me in English", "don't text me before 7", "no me escriba antes de las 7", "the alarm won't stop",
    "the display stopped showing messages", "ya no hay mensajes en la pantalla", "no quiero que mande aire al pasillo",
    "ended up at 40", "how do I stop the alarm", "dejó de mandar aire", "don't call, text me",
    "alto consumo", "start over", "I need help with the door", "no me enfría", "un mensaje raro en la pantalla",
)  # fmt: skip

LEAVE_ME = (
    "STOP", "Stop.", "stop!!", "“Stop”", "please stop", "stop please", "Unsubscribe", "STOP ALL", "opt-out", "OptOut",
    "BAJA", "¡Alto!", "parar", "pare por favor", "no más", "cancelar", "stop texting me", "please don't text me again",
    "do not text me", "no more texts please", "take me off your list", "remove my number", "leave me alone",
    "wrong number", "Sorry, wrong number", "número equivocado", "ya no quiero mensajes", "por favor no me escriban más",
    "dejen de mandarme mensajes", "no me manden mensajes", "I don't want any more of these texts", "quit sending me messages",
    "how do I unsubscribe", "denme de baja por favor", "borre mi número", "dejen de estar molestando", "ya párenle con los mensajes",
    "I want to opt out", "you've got the wrong number", "stop these notifications", "I no longer wish to receive messages",
    "i dont want to get texts from you", "end texts", "cancel subscription", "stop it", "discontinue",
    "pare de mandar mensajes", "dar de baja", "detener mensajes", "no quiero que me escriban", "ya no escriban",
    "no me vuelva a escribir", "para ya de mandar mensajes", "basta", "yo no pedí esto, ya no manden mensajes",
    "stop with the texts", "do not text me at all", "ya no quiero recibir sus mensajes", "sáquenme de su lista",
)  # fmt: skip


@pytest.mark.parametrize("word", LEGAL)
def test_the_words_of_the_rule_stop_texts_whatever_was_asked(word: str) -> None:
    for written in (word, word.upper(), f" {word}. "):
        assert service_word(written, opted_out=False, answers=True) == "stop"


@pytest.mark.parametrize("text", TRADE)
def test_the_same_words_about_a_room_stop_nothing(text: str) -> None:
    assert service_word(text, opted_out=False, answers=False) is None
    assert not may_be_service_word(text)


@pytest.mark.parametrize("text", LEAVE_ME)
def test_what_a_reasonable_person_understands_as_no_more_texts_stops_them(text: str) -> None:
    assert service_word(text, opted_out=False, answers=False) == "stop"


@pytest.mark.parametrize("word", ["baja", "ALTO", "pare", "parar", "alta", "detener"])
def test_a_word_that_answers_the_open_question_is_its_answer(word: str) -> None:
    assert service_word(word, opted_out=False, answers=True) is None


@pytest.mark.parametrize(
    "text", ["don't stop texting me", "never stop sending me these", "do not stop messaging"]
)
def test_asking_us_not_to_stop_stops_nothing(text: str) -> None:
    assert service_word(text, opted_out=False, answers=False) is None


def test_start_and_yes_and_help() -> None:
    assert service_word("START", opted_out=True, answers=False) == "start"
    assert service_word("iniciar", opted_out=False, answers=False) == "start"
    assert service_word("yes", opted_out=True, answers=False) == "start"
    assert service_word("sí", opted_out=True, answers=False) == "start"
    assert service_word("yes", opted_out=False, answers=False) is None
    assert service_word("Help!", opted_out=False, answers=False) == "help"
    assert service_word("ayuda", opted_out=False, answers=False, in_danger=True) is None


def test_the_answer_is_in_the_language_of_the_word_or_else_of_the_person() -> None:
    assert language_of_word("ALTO", "en") == "es"
    assert language_of_word("help", "es") == "en"
    assert language_of_word("stop", "es") == "es"  # written by Spanish speakers, too


@given(st.text(max_size=40))
def test_no_text_upsets_it(text: str) -> None:
    service_word(text, opted_out=False, answers=False)


def test_no_option_that_we_offer_stops_texts(knowledge: Knowledge) -> None:
    for finding in knowledge.findings.values():
        for state in finding.states.values():
            for label in (state.en[0], state.es[0]):
                said = label.casefold()
                assert said not in DEFINITIVE, f"{finding.finding}: {label}"
                if said in STOP_ES:  # only as an answer, which the thread knows by its open question
                    assert service_word(label, opted_out=False, answers=True) is None
