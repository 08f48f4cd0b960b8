"""A server at work takes a new edition; a broken one is refused; open cases are not disturbed. With the real server."""

import shutil
import time  # noqa: TID251 - a test waits for a real process
from collections.abc import Iterator
from pathlib import Path

import pytest

from kb.files import PACKAGED
from kb.linting import accept_spanish
from kb.renaming import Bench
from tests.channels.servers import Demo, demo, free_port

QUESTION = "room_ac/checks/look_at_filter.yaml"
PATIENCE_S = 60


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return Path(shutil.copytree(PACKAGED, tmp_path_factory.mktemp("copy") / "knowledge"))


@pytest.fixture(scope="module")
def running(folder: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Demo]:
    with demo(tmp_path_factory.mktemp("home"), free_port(), knowledge=folder) as server:
        yield server


def edition_of(server: Demo, case: str) -> str:
    token = server.log.read_text(encoding="utf-8").split("staff token ")[1].split()[0]
    return str(server.ask(f"/api/cases/{case}/reasoning", token=token)["edition"])


def open_case(server: Demo, client_id: str, text: str) -> tuple[str, str, str]:
    """Case, token, and all that was said."""
    opened = server.ask("/api/cases", {"text": text, "client_id": client_id})
    return opened["case"], opened["token"], said(opened)


def said(answer: dict[str, list[dict[str, str]]]) -> str:
    return " ".join(message["text"] for message in answer["messages"] if message["from"] == "assistant")


def wait_for(server: Demo, words: str, times: int) -> None:
    until = time.monotonic() + PATIENCE_S
    while time.monotonic() < until:
        if server.log.read_text(encoding="utf-8").count(words) >= times:
            return
        time.sleep(0.3)
    raise AssertionError(server.log.read_text(encoding="utf-8"))


@pytest.mark.timeout(400)  # three starts of a check on a machine that may be busy
def test_a_new_edition_is_taken_at_work_and_a_broken_one_refused(running: Demo, folder: Path) -> None:
    case, token, _ = open_case(
        running, "before", "my room is warm, hardly any air comes out of the window unit"
    )
    first = edition_of(running, case)

    bench = Bench(folder)
    bench.rename(bench.named("finding:filter"), "air_filter").write(folder)
    wait_for(running, "follows edition", 1)

    # who is in the middle of a question goes on in the edition that asked it
    answer = running.ask(f"/api/cases/{case}/messages", {"text": "1", "client_id": "reply"}, token)
    assert said(answer)
    assert edition_of(running, case) == first
    second = edition_of(running, open_case(running, "after", "my room is warm")[0])
    assert second != first

    # a broken edition is refused, with its place, and the last one stays
    page = folder / QUESTION
    sound = page.read_text(encoding="utf-8")
    page.write_text(sound.replace("finds: air_filter", "finds: air_filtre"), encoding="utf-8")
    wait_for(running, "the new edition is refused", 1)
    assert f"{QUESTION}:2" in running.log.read_text(encoding="utf-8")
    assert edition_of(running, open_case(running, "broken", "my room is warm")[0]) == second

    # mended, it is taken
    page.write_text(sound.replace("effort: {minutes: 3", "effort: {minutes: 4"), encoding="utf-8")
    accept_spanish(folder)
    wait_for(running, "follows edition", 2)
    assert edition_of(running, open_case(running, "mended", "my room is warm")[0]) not in (first, second)
