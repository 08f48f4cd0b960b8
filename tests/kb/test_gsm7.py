"""SMS parts against the rules of 3GPP TS 23.038 and TS 23.040."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kb.gsm7 import BASIC, EXTENSION, fold_for_sms, is_gsm7, segments


# 3GPP TS 23.040 §9.2.3.24: 140 octets are 160 septets or 70 UTF-16 units; a header of 6 octets leaves 153 or 67.
@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("", 1),
        ("a" * 160, 1),
        ("a" * 161, 2),
        ("a" * 306, 2),
        ("a" * 307, 3),
        ("á" * 70, 1),
        ("á" * 71, 2),
        ("á" * 134, 2),
        ("á" * 135, 3),
        ("😀" * 35, 1),
        ("😀" * 36, 2),
        ("😀" * 67, 3),
        ("a" * 159 + "“", 3),
        ("€" * 80, 1),
        ("€" * 81, 2),
    ],
)
def test_parts_follow_the_standard(text: str, parts: int) -> None:
    assert segments(text) == parts


def test_a_sign_of_two_septets_never_straddles_two_parts() -> None:
    # 306 septets would fit two parts by division; the € would be cut in half at 153
    assert segments("a" * 152 + "€" + "a" * 152) == 3


def test_the_alphabet_has_the_size_of_the_standard() -> None:
    # TS 23.038 §6.2.1: 128 positions, one of them the escape; §6.2.1.1: nine signs and the page break
    assert (len(BASIC), len(EXTENSION)) == (127, 10)


def test_spanish_letters_of_the_alphabet_are_told_from_the_others() -> None:
    # TS 23.038 §6.2.1
    assert all(map(is_gsm7, "éÉñÑüÜ¿¡"))
    assert not any(map(is_gsm7, "áíóúÁÍÓÚç°º½“”’–—…•"))


def test_vowels_are_folded_only_where_that_saves_a_part() -> None:
    short, long = "¿Cómo está?", "¿Cómo está el año? " * 5

    assert fold_for_sms(short) == short
    assert fold_for_sms(long) == "¿Como esta el año? " * 5


def test_a_text_with_a_sign_outside_the_alphabet_keeps_its_accents() -> None:
    # the emoji alone forces UTF-16, so folding would spoil the words and save nothing
    assert fold_for_sms("está 😀" * 20) == "está 😀" * 20


@given(st.text())
def test_folding_never_costs_more_and_is_done_once(text: str) -> None:
    folded = fold_for_sms(text)

    assert fold_for_sms(folded) == folded


@given(st.text(alphabet="áéíóúñabc ¿?", max_size=400))
def test_folded_spanish_never_costs_more_than_written_spanish(text: str) -> None:
    assert segments(fold_for_sms(text)) <= segments(text)


@given(st.text(), st.text())
def test_a_longer_text_never_costs_less(text: str, more: str) -> None:
    if is_gsm7(text) == is_gsm7(text + more):
        assert segments(text + more) >= segments(text)
