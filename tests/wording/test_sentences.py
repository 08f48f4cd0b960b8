import re

import pytest

from assistant.wording import SENTENCES, variant, with_calls
from kb.gsm7 import fold_for_sms, segments

OPT_OUT_WORDS = {
    "stop",
    "quit",
    "end",
    "cancel",
    "unsubscribe",
    "alto",
    "parar",
    "baja",
    "fin",
    "cancelar",
    "salir",
}
LONG_VALUES = {"facts", "cause", "fix", "question", "first", "second", "change"}


@pytest.mark.parametrize("name", sorted(SENTENCES))
def test_both_languages_have_the_same_number_of_ways_and_the_same_values(name: str) -> None:
    sentence = SENTENCES[name]

    assert len(sentence.en) == len(sentence.es)
    for english, spanish in zip(sentence.en, sentence.es, strict=True):
        assert set(re.findall(r"{(\w+)}", english)) == set(re.findall(r"{(\w+)}", spanish))


@pytest.mark.parametrize("name", sorted(SENTENCES))
def test_every_way_of_saying_it_fits_two_parts(name: str) -> None:
    for text in (*SENTENCES[name].en, *SENTENCES[name].es):
        filled = re.sub(r"{(\w+)}", lambda value: "x" * (60 if value[1] in LONG_VALUES else 20), text)

        assert segments(fold_for_sms(filled)) <= 2


@pytest.mark.parametrize("name", sorted(SENTENCES))
def test_no_sentence_asks_for_an_opt_out_word(name: str) -> None:
    asked_for = {
        word.lower()
        for text in (*SENTENCES[name].en, *SENTENCES[name].es)
        for word in re.findall(r"\b[A-ZÁÉÍÓÚÑ]{3,}\b", text)
    }

    assert not asked_for & OPT_OUT_WORDS


def test_a_sentence_said_again_uses_other_words() -> None:
    assert variant("did_not_get", "en", 0) != variant("did_not_get", "en", 1)


@pytest.mark.parametrize(
    ("region", "english", "spanish"),
    [
        ("911", "Call 911.", "Llame al 911."),
        ("112", "Call 112.", "Llame al 112."),
        ("unknown", "Call 911 or 112.", "Llame al 911 o al 112."),
        ("other", "Call emergency services.", "Llame a emergencias."),
        ("nowhere", "Call 911 or 112.", "Llame al 911 o al 112."),
    ],
)
def test_the_number_to_call_follows_the_region(region: str, english: str, spanish: str) -> None:
    assert with_calls("{call}", "en", region) == english
    assert with_calls("{call}", "es", region) == spanish
