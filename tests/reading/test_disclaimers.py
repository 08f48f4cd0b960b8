"""Replies that do not answer: they cannot look, they do not know, they ask back. Wordings are ours, from no set."""

import pytest

from assistant.reading.asking_back import only_asks
from assistant.reading.clauses import chunks_of
from assistant.reading.disclaimers import disclaimer_in, settles
from assistant.reading.normalise import tokens_of
from assistant.reading.pipeline import read
from assistant.reading.questions import open_question
from kb.ids import CheckId, Language
from kb.knowledge import Knowledge


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("can't get behind it, there's a rack", "cannot"),
        ("haven't got a torch or any light so", "cannot"),
        ("I couldn't say, the day crew runs it", "unsure"),
        ("no me dejan abrir eso aquí", "cannot"),
        ("ni idea, eso lo ve mi cuñado", "unsure"),
        ("it can't get any colder", None),
        ("no se puede cerrar", None),
    ],
)
def test_a_disclaimer_is_told_from_what_a_thing_cannot_do(text: str, kind: str | None) -> None:
    tokens = tokens_of(text)

    found = disclaimer_in(tokens, chunks_of(tokens))

    assert (found.kind if found else None) == kind


@pytest.mark.parametrize(
    ("text", "settled"),
    [
        ("no idea, the owner put it in", True),
        ("no idea, but it looks dusty", False),
        ("no idea, dusty?", False),
        ("ni idea, pero se ve sucio", False),
    ],
)
def test_what_takes_a_disclaimer_back(*, text: str, settled: bool) -> None:
    tokens = tokens_of(text)
    found = disclaimer_in(tokens, chunks_of(tokens))

    assert found is not None
    assert settles(tokens, found) is settled


@pytest.mark.parametrize(
    ("text", "asks"),
    [
        ("where is the filter", True),
        ("ok but how do I open it", True),
        ("¿dónde queda el filtro?", True),
        ("como saco la tapa", True),
        ("where it blows", False),
        ("como siempre", False),
        ("donde sopla el aparato", False),
        ("when it is hot out", False),
        ("dusty?", False),
        ("where is it? anyway it's full of ice", False),
    ],
)
def test_a_question_of_theirs_is_no_answer(*, text: str, asks: bool) -> None:
    tokens = tokens_of(text)

    assert only_asks(tokens, chunks_of(tokens)) is asks


@pytest.mark.parametrize(
    ("text", "check", "language", "answer"),
    [
        ("can't see the fins", "look_at_coil_ice", "en", ("state", "solid")),
        ("can't see it from down here", "look_at_coil_ice", "en", ("cannot", None)),
        ("no se ven las aletas", "look_at_coil_ice", "es", ("state", "solid")),
        ("no se oye bien, hay una bomba al lado", "listen_to_compressor", "es", ("cannot", None)),
        ("no se oye", "listen_to_compressor", "es", ("state", "never_starts")),
        ("way over, not even close", "read_room_temperature", "en", ("state", "far_above")),
        ("unos grados arriba", "read_room_temperature", "es", ("state", "little_above")),
        ("thought it was closed but it is half open", "look_at_vent_lever", "en", ("state", "open")),
        ("some ice at the ends, the middle is bare", "look_at_coil_ice", "en", ("state", "patchy")),
        ("about 25 minutes", "time_a_rest", "en", ("state", "long")),
        ("unos 8 minutos", "time_a_rest", "es", ("state", "usual")),
    ],
)
def test_answers_beside_what_looks_like_none(
    knowledge: Knowledge, text: str, check: str, language: Language, answer: tuple[str, str | None]
) -> None:
    found = read(knowledge, text, about=open_question(knowledge, CheckId(check), language)).answer

    assert (found.kind, found.state) == answer
