"""What must not change a reading, over all texts of the development sets.

Decoration changes nothing. A dropped accent may soften what hangs on *sí* or *está*, and *no sé* without its accent. What
depends on single words (a typo, an added sentence) is counted over many draws and may hardly ever go wrong.
"""

import random  # noqa: TID251 - seeded: the same typos each time
import re
import unicodedata
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from assistant.reading import OpenQuestion, Reading, open_question, read
from assistant.reading.labelled import Labelled, set_files, texts_of
from kb.ids import Language
from kb.knowledge import Knowledge

TEXTS = texts_of(set_files([Path(__file__).parent.parent / "people"]))
MESSAGES = [one for one in TEXTS if one.about is None]
COUNTED_FROM, TAKEN_FROM = 0.5, 0.6
same_each_time = settings(
    max_examples=150,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)


def question(knowledge: Knowledge, text: Labelled) -> OpenQuestion | None:
    known = text.about is not None and text.about in knowledge.checks
    return open_question(knowledge, text.about, text.language) if known and text.about else None


def meaning(reading: Reading) -> object:
    """All that other rooms act on."""
    return (
        sorted((f.finding, f.state, round(f.confidence, 6), f.when) for f in reading.findings),
        sorted((str(q.quantity), q.value, str(q.unit), q.when, str(q.at)) for q in reading.quantities),
        sorted((c.symptom, round(c.confidence, 6)) for c in reading.complaints),
        sorted((h.hazard, round(h.confidence, 6)) for h in reading.hazards),
        sorted(reading.moves),
        (
            reading.answer.kind,
            reading.answer.state,
            reading.answer.value,
            round(reading.answer.confidence, 6),
        ),
    )


def without_accents(text: str) -> str:
    parts = unicodedata.normalize("NFD", text)
    kept = "".join(part for part in parts if unicodedata.category(part) != "Mn" or part == "\u0303")
    return unicodedata.normalize("NFC", kept)


DECORATIONS: dict[str, Callable[[str], str]] = {
    "blanks": lambda text: "  " + text.replace(" ", "   ") + "\t",
    "capitals": str.upper,
    "small letters": str.lower,
    "opening marks": lambda text: text.replace("¿", "").replace("¡", ""),
    "a full stop": lambda text: text if text[-1] in ".?!…" else text + ".",
    "emoji": lambda text: text.replace(", ", ", 🌷 ") + " 🙃",
}


@pytest.mark.parametrize("decoration", DECORATIONS)
@given(text=st.sampled_from(TEXTS))
@same_each_time
def test_decoration_changes_nothing(knowledge: Knowledge, decoration: str, text: Labelled) -> None:
    asked, decorated = question(knowledge, text), DECORATIONS[decoration](text.text)

    plain = read(knowledge, text.text, about=asked, language=text.language)

    assert meaning(read(knowledge, decorated, about=asked, language=text.language)) == meaning(plain)


SOFTENING = re.compile(r"\b(sí|está|están|estás|sé|esté)\b", re.IGNORECASE)


@given(text=st.sampled_from([one for one in TEXTS if without_accents(one.text) != one.text]))
@same_each_time
def test_dropped_accents_change_nothing_but_yes_is_and_know(knowledge: Knowledge, text: Labelled) -> None:
    asked = question(knowledge, text)
    plain = read(knowledge, text.text, about=asked, language=text.language)
    dropped = read(knowledge, without_accents(text.text), about=asked, language=text.language)

    if SOFTENING.search(text.text):
        before, after = states(plain, TAKEN_FROM), states(dropped, TAKEN_FROM)
        assert all(before.get(finding, state) == state for finding, state in after.items())
    else:
        assert meaning(dropped) == meaning(plain)


def states(reading: Reading, least: float) -> dict[str, str]:
    return {
        f.finding: f.state
        for f in reading.findings
        if f.when in {"now", "by_another"} and f.confidence >= least
    }


def said(reading: Reading) -> set[object]:
    """What is so now, in plain values."""
    findings = {*states(reading, COUNTED_FROM).items()}
    numbers = {
        (str(q.quantity), q.value, q.unit)
        for q in reading.quantities
        if q.when in {"now", "by_another"} and q.confidence >= COUNTED_FROM
    }
    return {*findings, *numbers, *(h.hazard for h in reading.hazards)}


BESIDE_THE_POINT: dict[Language, tuple[str, ...]] = {
    "en": ("Hope you are well.", "My daughter got married last week.", "I am at the farm."),
    "es": ("Espero que esté bien.", "Mi hija se casó la semana pasada.", "Estoy en la finca."),
}


def test_a_sentence_beside_the_point_removes_hardly_anything(knowledge: Knowledge) -> None:
    lost, tried = [], 0
    for text in MESSAGES:
        plain = said(read(knowledge, text.text, language=text.language))
        for more in BESIDE_THE_POINT[text.language]:
            end = "" if text.text.rstrip()[-1] in ".?!" else "."
            for longer in (f"{more} {text.text}", f"{text.text}{end} {more}"):
                tried += 1
                if not plain <= said(read(knowledge, longer, language=text.language)):
                    lost.append(longer)

    assert len(lost) <= tried / 100, lost


def typo(word: str, chance: random.Random) -> str:
    """A letter left out, doubled up with another, or changed places with the next."""
    place = chance.randrange(1, len(word) - 1)
    left_out = word[:place] + word[place + 1 :]
    swapped = word[:place] + word[place + 1] + word[place] + word[place + 2 :]
    put_in = word[:place] + chance.choice("aeiourstln") + word[place:]
    return chance.choice([left_out, swapped, put_in])


def test_a_typo_hardly_ever_flips_a_finding_or_makes_up_a_danger(knowledge: Knowledge) -> None:
    chance = random.Random(1)  # noqa: S311 - no secret
    flipped, made_up, tried = [], [], 0
    for text in MESSAGES:
        for word in chance.sample(found := [*re.finditer(r"[^\W\d_]{5,}", text.text)], min(2, len(found))):
            mistyped = text.text[: word.start()] + typo(word.group(), chance) + text.text[word.end() :]
            plain = read(knowledge, text.text, language=text.language)
            other = read(knowledge, mistyped, language=text.language)
            before, after = states(plain, TAKEN_FROM), states(other, TAKEN_FROM)
            tried += 1
            if any(after.get(finding, state) != state for finding, state in before.items()):
                flipped.append(mistyped)
            if {h.hazard for h in other.hazards} - {h.hazard for h in plain.hazards}:
                made_up.append(mistyped)

    assert len(flipped) <= tried / 100, flipped
    assert len(made_up) <= tried / 100, made_up


FRAMES: dict[Language, tuple[str, str]] = {
    "en": ("the {thing} is {quality}", "the {thing} is not {quality}"),
    "es": ("{thing} está {quality}", "{thing} no está {quality}"),
}


@pytest.mark.parametrize("language", ["en", "es"])
def test_a_denied_statement_flips_or_softens(knowledge: Knowledge, language: Language) -> None:
    plainly, denied = FRAMES[language]
    stood, tried = [], 0
    for finding, thing, quality in one_word_statements(knowledge, language):
        yes = read(knowledge, plainly.format(thing=thing, quality=quality), language=language)
        no = read(knowledge, denied.format(thing=thing, quality=quality), language=language)
        before = {str(f.finding): f for f in yes.findings if f.when == "now"}.get(finding)
        after = {str(f.finding): f for f in no.findings if f.when == "now"}.get(finding)
        tried += before is not None
        if before and after and after.state == before.state and after.confidence >= before.confidence:
            stood.append(f"{thing}, {quality}")

    assert tried > 200
    assert not stood


def one_word_statements(knowledge: Knowledge, language: Language) -> list[tuple[str, str, str]]:
    return [
        (finding.finding, knowledge.things[thing].in_(language)[0], quality)
        for finding in knowledge.findings.values()
        for thing in finding.things[:2]
        for state in finding.states.values()
        for meant in state.is_
        for quality in knowledge.qualities[meant].in_(language)[:3]
        if " " not in quality
    ]
