"""No text breaks the reading, slows it down out of proportion, or changes its meaning by decoration."""

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from assistant.reading import Reading, read
from kb.knowledge import Knowledge
from tests.reading.conftest import Says

SENTENCES = (
    "my cooler is at 58 and the coil is iced, set to 38",
    "el ventilador de afuera no gira y el filtro está sucio",
    "the filter is clean but the breaker keeps tripping",
    "No tiene hielo el serpentín. ¿Por qué no baja de 50?",
    "i think the compressor never starts, it just hums",
)
given_knowledge = settings(
    max_examples=40,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)


def meaning(reading: Reading) -> object:
    """All but the places and what is left unread."""
    return (
        reading.language,
        tuple((f.finding, f.state, round(f.confidence, 6), f.when) for f in reading.findings),
        tuple((q.quantity, q.value, q.unit, q.at, q.when) for q in reading.quantities),
        tuple((c.symptom, round(c.confidence, 6)) for c in reading.complaints),
        tuple((h.hazard, round(h.confidence, 6)) for h in reading.hazards),
        reading.moves,
        replace(reading.answer, likelihood={}),
    )


@given(text=st.text(max_size=300))
@given_knowledge
def test_no_text_raises(knowledge: Knowledge, text: str) -> None:
    read(knowledge, text)


@given(text=st.text(alphabet="ab né1.,?!ñ🧊\u202e\u200b\x00\n'\"-/:°", max_size=200))
@given_knowledge
def test_no_pile_of_marks_raises(knowledge: Knowledge, text: str) -> None:
    reading = read(knowledge, text)

    for said in reading.findings:
        assert 0 <= said.span.start < said.span.end <= len(text)


@pytest.mark.parametrize("sentence", SENTENCES)
def test_decoration_changes_nothing(says: Says, sentence: str) -> None:
    plain = meaning(says(sentence))

    assert meaning(says(sentence.replace(" ", "   "))) == plain
    assert meaning(says("  " + sentence + "\t ")) == plain
    assert meaning(says(sentence.upper())) == plain
    assert meaning(says(sentence.replace("¿", "").replace("¡", ""))) == plain
    assert meaning(says(sentence + " 🙏🥶")) == plain
    if sentence[-1] not in ".?":
        assert meaning(says(sentence + ".")) == plain


@given(blanks=st.lists(st.integers(1, 4), min_size=12, max_size=12), sentence=st.sampled_from(SENTENCES))
@given_knowledge
def test_blanks_between_words_change_nothing(knowledge: Knowledge, blanks: list[int], sentence: str) -> None:
    words = sentence.split(" ")
    spaced = "".join(word + " " * blanks[place % len(blanks)] for place, word in enumerate(words))

    assert meaning(read(knowledge, spaced)) == meaning(read(knowledge, sentence))


def test_the_same_text_says_the_same(says: Says) -> None:
    for sentence in SENTENCES:
        assert says(sentence) == says(sentence)


@pytest.mark.parametrize(
    "text",
    ["", " ", "\x00\x01\x02", "🧊" * 200, "مرحبا بالعالم", "a" * 10_000, "no " * 4_000, "coil iced " * 1_000, "1 " * 5_000, ",.;" * 3_000, "x" * 200_000],
)  # fmt: skip
def test_hostile_texts_are_read_and_not_hung_on(says: Says, text: str) -> None:
    reading = says(text)

    assert reading.answer.kind == "none"
