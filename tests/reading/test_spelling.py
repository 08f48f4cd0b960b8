"""Spelling repair: towards the knowledge's words only, never across a meaning, never a real word."""

import pytest

from assistant.reading.lexicon import lexicon_of
from assistant.reading.normalise import tokens_of
from assistant.reading.spelling import GUARD, mend, repaired, sound
from kb.knowledge import Knowledge


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("thermostst", "thermostat"),
        ("fliter", "filter"),
        ("termometro", "termometro"),
        ("cerpentin", "serpentin"),
        ("bentilador", "ventilador"),
        ("yelo", "hielo"),
        ("breiquer", "breiker"),
    ],
)
def test_misspelt_words_of_the_trade_are_put_right(knowledge: Knowledge, written: str, meant: str) -> None:
    tokens = mend(lexicon_of(knowledge).speller, tokens_of(written))

    assert tokens[0].word == meant


@pytest.mark.parametrize(
    "word", ["hot", "not", "on", "no", "in", "si", "could", "worm", "worse", "open", "cold", "calor"]
)
def test_a_real_word_is_never_changed(knowledge: Knowledge, word: str) -> None:
    assert mend(lexicon_of(knowledge).speller, tokens_of(word))[0].word == word


def test_no_repair_crosses_a_guarded_pair(knowledge: Knowledge) -> None:
    speller = lexicon_of(knowledge).speller

    for pair in GUARD:
        one, other = sorted(pair)
        assert repaired(speller, one)[0] != other
        assert repaired(speller, other)[0] != one


def test_a_repair_leaves_its_doubt(knowledge: Knowledge) -> None:
    speller = lexicon_of(knowledge).speller

    assert mend(speller, tokens_of("filter"))[0].doubt == 0
    assert mend(speller, tokens_of("fliter"))[0].doubt > 0


def test_glued_words_come_apart(knowledge: Knowledge) -> None:
    tokens = mend(lexicon_of(knowledge).speller, tokens_of("thefilter noenfria"))

    assert [token.word for token in tokens] == ["the", "filter", "no", "enfria"]


@pytest.mark.parametrize(
    ("one", "other"), [("bulvo", "bulbo"), ("zumva", "zumba"), ("jela", "gela"), ("keso", "queso")]
)
def test_what_sounds_alike_in_spanish_is_alike(one: str, other: str) -> None:
    # letters that sound alike in American Spanish: b=v, s=c=z, g=j before e and i, k=qu (common usage, no source)
    assert sound(one) == sound(other)
