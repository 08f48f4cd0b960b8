"""The author's page: what is typed is played against what is saved, by this machine alone."""

from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient

from channels.author import WorkingCopy, create_try_app
from kb.files import PACKAGED
from tests.kb.small import write

NOON = datetime(2026, 7, 14, 16, 0, tzinfo=UTC)
CHECK = "room_ac/checks/look_at_filter.yaml"


def client_of(folder: Path) -> FlaskClient:
    return create_try_app(WorkingCopy(folder), lambda: NOON).test_client()


def play(client: FlaskClient, *messages: str) -> Any:
    return client.post("/played", json={"messages": messages, "language": "en"}).get_json()


def test_what_is_typed_is_read_believed_and_asked_with_its_reasons() -> None:
    told = play(
        client_of(PACKAGED), "my cooler is at 52, set to 38, and the filter is clogged", "a window unit"
    )

    assert "filter: clogged" in told["turns"][0]["read"]
    assert all(turn["said"] for turn in told["turns"])
    assert told["believed"][0]["share"] >= told["believed"][1]["share"]
    assert told["next"][0]["gain_bits"] > 0
    assert {"about": "filter", "state": "clogged"}.items() <= max(
        told["why"], key=lambda row: abs(row["bits"])
    ).items()
    assert told["problems"] == []


def test_a_saved_change_is_heard_with_the_next_play(tmp_path: Path) -> None:
    client = client_of(write(tmp_path))
    before = client.get("/edition").get_json()["edition"]
    assert "filter: clogged" not in play(client, "the filter is all gunked up")["turns"][0]["read"]

    write(
        tmp_path,
        [{"finding": "filter", "sayings": {"clogged": {"en": ["gunked up"], "es": ["hecho un asco"]}}}],
    )

    assert client.get("/edition").get_json()["edition"] != before
    assert "filter: clogged" in play(client, "the filter is all gunked up")["turns"][0]["read"]


def test_a_broken_page_is_told_with_its_place_while_the_last_sound_edition_speaks(tmp_path: Path) -> None:
    client = client_of(write(tmp_path))
    play(client, "hello")
    page = tmp_path / CHECK
    page.write_text(
        page.read_text(encoding="utf-8").replace('"finds": "filter"', '"finds": "filtr"'), encoding="utf-8"
    )

    told = play(client, "the filter is filthy")

    (problem,) = told["problems"]
    assert problem["path"].endswith(CHECK)
    assert problem["line"] == 3
    assert "write `filter`" in problem["mend"]
    assert "filter: clogged" in told["turns"][0]["read"]


@pytest.mark.parametrize("host", ["evil.example", "192.168.1.5:8766", "127.0.0.1.evil.example"])
def test_nobody_is_answered_under_a_name_that_is_not_this_machines(tmp_path: Path, host: str) -> None:
    client = client_of(write(tmp_path))

    assert client.get("/", headers={"Host": host}).status_code == 403
    assert client.get("/edition", headers={"Host": "127.0.0.1:8766"}).status_code == 200


@pytest.mark.parametrize(
    ("body", "kind", "status"),
    [
        ("{", "application/json", 422),
        ('{"messages": [""]}', "application/json", 422),
        ('{"messages": []}', "text/plain", 415),
    ],
)
def test_a_body_that_cannot_be_used_is_refused_with_the_way_out(
    tmp_path: Path, body: str, kind: str, status: int
) -> None:
    answer = client_of(write(tmp_path)).post("/played", data=body, content_type=kind)

    assert answer.status_code == status
    assert answer.get_json()["detail"].startswith("send ")


def test_the_page_and_its_parts_are_served_under_a_strict_policy(tmp_path: Path) -> None:
    client = client_of(write(tmp_path))

    for path in ("/", "/try.css", "/try.js"):
        with client.get(path) as answer:  # a file is open until its answer is closed
            assert answer.status_code == 200
            assert "script-src 'self'" in answer.headers["Content-Security-Policy"]
