from pathlib import Path

import pytest

from assistant.workbench.replay import first_difference, written
from kb.errors import RequestError
from kb.knowledge import Knowledge

TRANSCRIPTS = sorted(Path("transcripts_demo").glob("*_e[ns].md"))


def test_there_are_conversations_in_both_languages() -> None:
    assert sum(path.stem.endswith("_en") for path in TRANSCRIPTS) >= 3
    assert sum(path.stem.endswith("_es") for path in TRANSCRIPTS) >= 3


@pytest.mark.parametrize("path", TRANSCRIPTS, ids=lambda path: path.stem)
def test_the_program_still_says_what_stands_in_the_transcript(knowledge: Knowledge, path: Path) -> None:
    assert first_difference(knowledge, path) is None


def test_a_changed_word_is_found_and_named(knowledge: Knowledge, tmp_path: Path) -> None:
    changed = tmp_path / "changed_en.md"
    changed.write_text(TRANSCRIPTS[0].read_text(encoding="utf-8").replace("911", "912", 1), encoding="utf-8")

    difference = first_difference(knowledge, changed)

    assert difference is not None
    assert "912" in difference.stands
    assert "911" in difference.now


def test_accepting_writes_what_is_said_now(knowledge: Knowledge, tmp_path: Path) -> None:
    bare = tmp_path / "bare_en.md"
    bare.write_text("    at: 2026-07-14 09:30\n\n> cooler is at 52, set to 38\n", encoding="utf-8")

    bare.write_text(written(knowledge, bare), encoding="utf-8")

    assert first_difference(knowledge, bare) is None


def test_a_line_that_cannot_be_read_is_named(knowledge: Knowledge, tmp_path: Path) -> None:
    broken = tmp_path / "broken.md"
    broken.write_text("    at: 2026-07-14 09:30\n\n[sometime later]\n", encoding="utf-8")

    with pytest.raises(RequestError, match=r"broken\.md:3"):
        first_difference(knowledge, broken)
