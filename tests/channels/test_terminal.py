"""The commands, run as a person or a program runs them."""

import json
import re
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from assistant.helpline import Opening
from channels.house import open_house
from channels.terminal import main
from kb.files import PACKAGED
from tests.helpline.fakes import NOON

BROKEN = """cause: lonely
means: {en: nothing shows it, es: nada lo muestra}
equipment: [window]
how_common: comon
shows: {}
fixes: []
"""


def run(*arguments: str, typed: str | bytes | None = None) -> Result:
    return CliRunner().invoke(main, arguments, input=typed)


def told(result: Result) -> tuple[str, str]:
    """What was wrong and how to mend it, of a command that failed as all commands fail."""
    assert result.exit_code == 2, result.output
    what, mend = result.stderr.strip().splitlines()[-2:]
    assert what.startswith("error: ")
    assert mend.startswith("mend:  ")
    return what.removeprefix("error: "), mend.removeprefix("mend:  ")


def test_every_command_explains_itself() -> None:
    for command in ("demo", "chat", "serve", "worker", "database", "read", "kb", "replay", "why", "desk"):
        result = run(command, "--help")
        assert result.exit_code == 0
        assert "Usage:" in result.stdout
    assert "HELPLINE_HOME" in run("serve", "--help").stdout


@pytest.mark.parametrize(
    "arguments",
    [
        ("reed",),
        ("read",),
        ("read", "warm", "--about", "look_at_filer"),
        ("read", "--score", "no-such-file"),
        ("kb", "show", "filter_cloged"),
        ("kb", "check", "no-such-folder"),
        ("replay", "no-such-file"),
        ("demo", "forward", "soon"),
        ("demo", "forward", "4h"),
        ("desk", "list"),
        ("serve",),
        ("worker", "--once"),
    ],
)
def test_an_error_is_one_line_what_and_one_line_how_to_mend_it(
    home: Path, arguments: tuple[str, ...]
) -> None:
    told(run(*arguments))


def test_a_slip_in_a_name_is_met_with_the_nearest_name(home: Path) -> None:
    assert "look_at_filter" in told(run("read", "warm", "--about", "look_at_filer"))[1]
    assert "filter_clogged" in told(run("kb", "show", "filter_cloged"))[1]


def test_a_setting_that_cannot_be_is_named(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("HELPLINE_ZONE", "Mars/Olympus")
    assert "HELPLINE_ZONE" in told(run("database", "upgrade"))[0]
    monkeypatch.setenv("HELPLINE_ZONE", "America/Chicago")
    monkeypatch.setenv("HELPLINE_WEB_ORIGINS", "not json")
    told(run("database", "upgrade"))


def test_read_shows_what_was_understood(home: Path) -> None:
    text = "the filter is clogged"

    shown = json.loads(run("read", text, "--json").stdout)

    said = next(finding for finding in shown["findings"] if finding["finding"] == "filter")
    start, end = said["span"]
    assert said["state"] == "clogged"
    assert text[start:end] in text
    assert "filter: clogged" in run("read", text).stdout
    assert text in run("read", text, "--why").stdout


def test_read_takes_one_object_a_line_and_answers_one_a_line(home: Path) -> None:
    lines = [
        '{"text": "48 F", "about": "read_room_temperature"}',
        "",
        '{"text": "está a 50 F", "language": "es"}',
    ]

    answers = [
        json.loads(line) for line in run("read", "-", "--json", typed="\n".join(lines)).stdout.splitlines()
    ]

    assert [answer["answer"]["kind"] for answer in answers] == ["number", "none"]
    assert answers[1]["language"] == "es"


@pytest.mark.parametrize("line", ["{", '{"txt": "warm"}', '{"text": 5}', b"\xff\xfe"])
def test_a_line_that_cannot_be_read_is_named(home: Path, line: str | bytes) -> None:
    assert "line 1" in told(run("read", "-", "--json", typed=line))[0]


def test_labelled_texts_get_their_figures(home: Path, tmp_path: Path) -> None:
    file = tmp_path / "set.jsonl"
    row = {"text": "the filter is clogged", "language": "en", "labels": {"findings": {"filter": "clogged"}}}
    file.write_text(json.dumps(row), encoding="utf-8")

    shown = run("read", "--score", str(tmp_path), "--worst", "3", "--beside").stdout
    assert "findings         1.000 [0.21 1.00]" in shown  # Wilson's interval of one in one
    assert "similar phrase: F1 findings" in shown
    assert "hazards: meant" not in shown
    figures = json.loads(run("read", "--score", str(file), "--json").stdout)
    assert figures[str(file)]["all"]["findings"]["hit"] == 1

    row["labels"] = {"hazards": ["smoke"]}
    file.write_text(json.dumps(row), encoding="utf-8")
    assert "hazards: meant ['smoke']" in run("read", "--score", str(file), "--worst", "3").stdout

    picture = tmp_path / "honesty.svg"
    run("read", "--score", str(file), "--reliability", str(picture))
    assert picture.read_text(encoding="utf-8").startswith("<svg ")

    file.write_text("not json", encoding="utf-8")
    told(run("read", "--score", str(file)))


def test_an_author_sees_what_a_new_wording_would_change(home: Path, tmp_path: Path) -> None:
    folder = tmp_path / "knowledge"
    shutil.copytree(PACKAGED, folder)
    file = folder / "room_ac" / "findings" / "filter.yaml"
    text = file.read_text(encoding="utf-8")
    file.write_text(
        text.replace("looks like felt", "looks like felt, dressed as a meteorite", 1), encoding="utf-8"
    )
    row = {
        "text": "it is dressed as a meteorite",
        "language": "en",
        "about": "look_at_filter",
        "labels": {"answer": {"kind": "state", "state": "clogged"}},
    }
    texts = tmp_path / "texts.jsonl"
    texts.write_text(json.dumps(row), encoding="utf-8")

    shown = run("kb", "compare", str(PACKAGED), str(folder), str(texts), "--customers", "0").stdout

    assert "answer: none (asked again) before, clogged (right) now" in shown
    assert "1 of 1 texts change: 1 for the better, 0 for the worse" in shown
    texts.write_text("no set", encoding="utf-8")
    told(run("kb", "compare", str(PACKAGED), str(folder), str(texts), "--customers", "0"))


def test_check_tells_place_fault_reason_and_mend(home: Path, tmp_path: Path) -> None:
    file = tmp_path / "knowledge" / "shared" / "causes" / "lonely.yaml"
    file.parent.mkdir(parents=True)
    file.write_text(BROKEN, encoding="utf-8")

    result = run("kb", "check", str(tmp_path / "knowledge"))
    rows = [
        json.loads(line)
        for line in run("kb", "check", str(tmp_path / "knowledge"), "--json").stdout.splitlines()
    ]

    told(result)
    assert "lonely.yaml:4:13: error: `comon`" in result.stdout
    assert "  why:  " in result.stdout
    assert "  mend: write `common`" in result.stdout
    assert any(row["line"] == 4 and row["severity"] == "error" for row in rows)
    assert "lonely.yaml:4:13: error:" in run("kb", "check", str(tmp_path / "knowledge"), "--lines").stdout


def test_show_gives_a_node_with_its_arrows(home: Path) -> None:
    shown = run("kb", "show", "filter_clogged").stdout

    assert shown.startswith("cause: filter_clogged\n")
    assert "is mended by clean_filter" in shown
    assert "shows in filter as clogged" in shown


def test_show_tells_what_each_text_costs(home: Path) -> None:
    shown = run("kb", "show", "fix:clean_filter").stdout

    assert re.search(r"steps 0 en: [12] of 2, \d+ characters, (GSM-7|UCS-2)", shown)
    assert "SMS parts" not in run("kb", "show", "filter_clogged").stdout


def test_the_vocabulary_lists_ids_with_their_meaning(home: Path) -> None:
    chapters = json.loads(run("kb", "vocabulary", "--json").stdout)

    assert {"id", "means", "states"} <= set(chapters["findings"][0])
    assert "filter" in run("kb", "vocabulary").stdout


def test_a_simulation_is_the_same_for_the_same_seed(home: Path) -> None:
    first, again = (
        run("kb", "simulate", "--customers", "2", "--seed", "7", "--json").stdout for _ in range(2)
    )

    assert first == again
    assert json.loads(first)["customers"] == 2
    assert "2 customers, seed 7" in run("kb", "simulate", "--customers", "2", "--seed", "7").stdout


def test_a_transcript_that_reads_otherwise_is_shown_and_can_be_accepted(home: Path, tmp_path: Path) -> None:
    file = tmp_path / "talk.md"
    file.write_text(
        "# A talk\n\n    at: 2026-07-14 09:30\n\n> the filter is clogged\nASSISTANT: Hm.\n", encoding="utf-8"
    )

    first = run("replay", str(file))
    assert "talk.md:6: now says something else" in first.stdout
    assert "1 of 1" in told(first)[0]

    assert run("replay", "--accept", str(file)).exit_code == 0
    assert run("replay", str(file)).exit_code == 0
    assert "ASSISTANT: Cold room helpline" in file.read_text(encoding="utf-8")


def test_chat_talks_and_its_clock_can_be_moved(home: Path) -> None:
    typed = (
        "my cooler is at 52 F, set to 38 F\n/forward 2d\n/forward never\n/desk takes over\n/end\nnot heard\n"
    )

    talk = run("chat", "--reasoning", typed=typed)

    assert talk.exit_code == 0
    assert "52 F" in talk.stdout
    assert "bit left to learn" in talk.stdout
    assert "Are you still there?" in talk.stdout
    assert "not a line for the terminal: /forward never" in talk.stdout


def test_chat_speaks_spanish_when_asked_to(home: Path) -> None:
    assert "asistente automático" in run("chat", "--language", "es", typed="hola\n").stdout


def danger(home: Path) -> Opening:
    assert run("database", "upgrade").exit_code == 0
    helpline = open_house().helpline
    return helpline.open_case(client_id="a1", at=NOON, text="there is smoke and fire coming out of the unit")


def test_the_database_can_be_upgraded_twice_and_the_desk_sees_what_needs_it(home: Path) -> None:
    opening = danger(home)

    assert run("database", "upgrade").exit_code == 0
    assert f"{opening.case}  danger: danger" in run("desk", "list").stdout.replace("PHONE THEM NOW  ", "")
    assert json.loads(run("desk", "list", "--json").stdout)["case"] == opening.case
    assert run("worker", "--once").exit_code == 0


def test_only_the_desk_reopens_a_case_after_a_danger(home: Path) -> None:
    opening = danger(home)
    assert opening.state == "danger"

    reopened = run("desk", "reopen", opening.case, "--colleague", "Ines")

    assert reopened.exit_code == 0
    assert "danger" not in reopened.stdout
    told(run("desk", "reopen", opening.case))
    told(run("desk", "reopen", "nosuchcase"))
