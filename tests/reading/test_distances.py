"""Published pairs for the distances between words (reference case H), and what comes before any distance: one form."""

import unicodedata

import pytest
from rapidfuzz.distance import OSA, DamerauLevenshtein, JaroWinkler, Levenshtein

from assistant.reading.normalise import tokens_of
from assistant.reading.thresholds import outcome_of

# Test data of a general-purpose library of string distances (jellyfish), reference case H.


@pytest.mark.parametrize(
    ("one", "other", "slips"),
    [
        ("fuor", "four", 1),
        ("abcd", "acb", 2),
        ("jellyifhs", "jellyfish", 2),
        ("ifhs", "fish", 2),
        ("bc", "abc", 1),
        ("abc", "", 3),
        ("cape sand recycling ", "edith ann graham", 17),
    ],
)
def test_a_swap_of_neighbours_is_one_slip(one: str, other: str, slips: int) -> None:
    assert DamerauLevenshtein.distance(one, other) == slips
    assert OSA.distance(one, other) == slips


def test_we_mean_the_distance_that_never_edits_a_swap_again() -> None:
    # CA/ABC: unrestricted 2, optimal string alignment 3; the speller uses the latter
    assert (DamerauLevenshtein.distance("ca", "abc"), OSA.distance("ca", "abc")) == (2, 3)


@pytest.mark.parametrize(("one", "other", "slips"), [("kitten", "sitting", 3), ("saturday", "sunday", 3)])
def test_without_swaps_the_classic_pairs_are_three_slips_apart(one: str, other: str, slips: int) -> None:
    assert Levenshtein.distance(one, other) == OSA.distance(one, other) == slips


@pytest.mark.parametrize(
    ("one", "other", "alike"),
    [
        ("MARTHA", "MARHTA", 0.961111),
        ("DIXON", "DICKSONX", 0.813333),
        ("DWAYNE", "DUANE", 0.840000),
        ("William", "Williams", 0.975000),
        ("SHACKLEFORD", "SHACKELFORD", 0.981818),
        ("abc", "xyz", 0.0),
        ("", "foo", 0.0),
        ("a", "a", 1.0),
        ("", "", 1.0),
    ],
)
def test_names_are_as_alike_as_winkler_printed(one: str, other: str, alike: float) -> None:
    # Winkler 1990, weight .1, prefix of up to four letters
    assert JaroWinkler.similarity(one, other) == pytest.approx(alike, abs=5e-7)


def test_composed_and_decomposed_letters_are_one_word_to_us_though_two_edits_apart() -> None:
    composed = unicodedata.normalize("NFC", "condensación")
    apart = unicodedata.normalize("NFD", composed)

    assert OSA.distance(composed, apart) == 2
    assert [token.word for token in tokens_of(composed)] == [token.word for token in tokens_of(apart)]


def test_a_wrong_reading_that_costs_ten_questions_is_taken_only_from_nine_in_ten() -> None:
    # Chow's reject rule (1970): take without asking where p >= 1 - cost(ask) / cost(wrong); wrong 10 times an ask → .9
    assert (outcome_of(1 - 1 / 10), outcome_of(0.899)) == ("take", "say_back")
