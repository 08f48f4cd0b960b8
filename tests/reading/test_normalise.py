"""Text to words: folded for matching, placed in the text as sent."""

import pytest

from assistant.reading.normalise import LONGEST_TEXT, fold, tokens_of, words_of


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("The fan ISN’T turning", ("the", "fan", "is", "not", "turning")),
        ("wont start", ("will", "not", "start")),
        ("¿Qué tan frío está?", ("que", "tan", "frio", "esta")),
        ("nada más un poco", ("nomas", "un", "poco")),
        ("q pasa, xq no enfría", ("que", "pasa", "porque", "no", "enfria")),
        ("50ft 12k 8x10", ("50", "ft", "12", "k", "8", "x", "10")),
        ("½ inch", ("1/2", "inch")),
        ("coil🧊frozen 😭", ("coil", "frozen")),
    ],
)
def test_what_is_matched_is_folded_and_taken_apart(text: str, words: tuple[str, ...]) -> None:
    assert words_of(text) == words


def test_every_word_knows_its_place_in_the_text_as_sent() -> None:
    text = "El ﬁltro está así: SUCIO"  # a ligature folds into two letters: places must not shift

    assert [text[t.start : t.end] for t in tokens_of(text)] == ["El", "ﬁltro", "está", "así", ":", "SUCIO"]


def test_folding_takes_case_and_accents() -> None:
    assert fold("ESCARCHA Ñandú") == "escarcha nandu"


def test_a_text_longer_than_the_longest_is_read_up_to_there() -> None:
    tokens = tokens_of("a " * LONGEST_TEXT)

    assert tokens[-1].end <= LONGEST_TEXT


def test_a_stop_after_a_shortened_unit_ends_no_sentence() -> None:
    assert [token.word for token in tokens_of("4 in. foam")] == ["4", "in", "foam"]
    assert [token.word for token in tokens_of("it is 5 ft. The room is warm")].count(".") == 1
