"""The demo as somebody meets it who has just installed it; and what a power cut does to it."""

import json
import socket
from pathlib import Path
from typing import Any

import pytest

from tests.channels.servers import Demo, demo, free_port, run

FIRST = "window unit. my cooler is at 52 F, set to 38 F, hardly any air comes out and the filter is clogged with dust"
TURNS = 12


pytestmark = pytest.mark.timeout(300)  # real processes, on machines that do other things as well


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """One demo, started again and again as on somebody's machine."""
    return tmp_path_factory.mktemp("home")


def answer_to(answer: dict[str, Any]) -> str:
    """What a grower with a clogged filter says next."""
    last = answer["messages"][-1]["text"] if answer["messages"] else ""
    if "display" in last:
        return "52 F"
    return "done" if answer["state"] == "fixing" else "not sure"


def test_the_demo_boots_talks_and_comes_back_when_its_clock_is_moved(home: Path) -> None:
    with demo(home, free_port()) as running:
        assert "staff token" in running.log.read_text(encoding="utf-8")
        answer = running.ask("/api/cases", {"text": FIRST, "language": "en", "client_id": "talk"})
        case, token = answer["case"], answer["token"]
        for turn in range(TURNS):
            if answer["state"] == "waiting":
                break
            body = {"text": answer_to(answer), "client_id": f"m{turn}"}
            answer = running.ask(f"/api/cases/{case}/messages", body, token)
        assert answer["state"] == "waiting", answer
        last = running.ask(f"/api/cases/{case}/messages", token=token)["messages"][-1]["id"]

        came: list[dict[str, Any]] = []
        for _ in range(7):  # a promise that falls into the night is kept in the morning
            moved = run(home, "demo", "forward", "4h")
            assert moved.returncode == 0, moved.stderr
            came = running.ask(f"/api/cases/{case}/messages?after={last}", token=token)["messages"]
            if came:
                break

        assert [message["from"] for message in came] == ["assistant"]
        assert "show" in came[0]["text"]
        listed = run(home, "desk", "list", "--demo", "--json").stdout.splitlines()
        assert "danger" in {json.loads(line)["state"] for line in listed}


def test_a_pretend_phone_texts_the_demo_and_finds_what_came_later(home: Path) -> None:
    with demo(home, free_port()):
        first = run(home, "text", "my cooler is at 52 F, set to 38 F, the filter is clogged with dust")
        stopped = run(home, "text", "STOP")

        assert first.returncode == 0, first.stderr
        assert "52 F" in first.stdout
        assert "no more texts" in stopped.stdout


def test_a_port_that_is_taken_is_told_in_two_lines(home: Path) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        refused = run(home, "demo", "--port", str(taken.getsockname()[1]))

    assert refused.returncode == 2
    assert refused.stderr.splitlines()[-2].startswith("error: cannot listen on 127.0.0.1:")
    assert "--port" in refused.stderr.splitlines()[-1]


def test_a_power_cut_in_the_middle_of_a_talk_loses_nothing_that_was_acknowledged(home: Path) -> None:
    port = free_port()
    texts = ["my cooler is at 52 F", "set to 38 F", "window unit", "not sure"]
    with demo(home, port) as running:
        opened = running.ask("/api/cases", {"text": texts[0], "client_id": "power-cut"})
        write(running, opened, texts[1], "m1")
        send_and_never_hear(running, opened, texts[2], "m2")
        running.kill()

    with demo(home, port) as running:
        again = running.ask("/api/cases", {"text": texts[0], "client_id": "power-cut"})
        assert again == opened
        write(running, opened, texts[2], "m2")  # as a page does that heard no answer
        write(running, opened, texts[3], "m3")
        messages = running.ask(f"/api/cases/{opened['case']}/messages", token=opened["token"])["messages"]

    assert [message["text"] for message in messages if message["from"] == "customer"] == texts
    ids = [message["id"] for message in messages]
    assert ids == sorted(set(ids))
    assert messages[-1]["from"] == "assistant"


def write(running: Demo, opened: dict[str, Any], text: str, client_id: str) -> Any:
    body = {"text": text, "client_id": client_id}
    return running.ask(f"/api/cases/{opened['case']}/messages", body, opened["token"])


def send_and_never_hear(running: Demo, opened: dict[str, Any], text: str, client_id: str) -> None:
    """Put a request on the wire and leave."""
    body = json.dumps({"text": text, "client_id": client_id}).encode()
    head = (
        f"POST /api/cases/{opened['case']}/messages HTTP/1.1\r\nHost: 127.0.0.1\r\n"
        f"Authorization: Bearer {opened['token']}\r\nContent-Type: application/json\r\n"
        f"Content-Length: {len(body)}\r\n\r\n"
    )
    host, port = running.address.removeprefix("http://").split(":")
    with socket.create_connection((host, int(port))) as wire:
        wire.sendall(head.encode() + body)
