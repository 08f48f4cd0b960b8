"""A demo in a process of its own, as an operator starts it."""

import json
import os
import socket
import subprocess
import sys
import time  # noqa: TID251 - a test waits for a real process
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

COMMAND = (sys.executable, "-c", "from channels.terminal import main; main()")
PATIENCE_S = 90


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def environment(home: Path) -> dict[str, str]:
    kept = {name: value for name, value in os.environ.items() if not name.startswith("HELPLINE_")}
    return kept | {"HELPLINE_HOME": str(home), "PYTHONUNBUFFERED": "1"}


def run(home: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(  # noqa: S603 - our own command
        [*COMMAND, *arguments],
        env=environment(home),
        cwd=home,
        capture_output=True,
        text=True,
        check=False,
        timeout=PATIENCE_S,
    )


@dataclass(frozen=True, slots=True)
class Demo:
    process: subprocess.Popen[str]
    address: str
    log: Path

    def ask(self, path: str, body: dict[str, Any] | None = None, token: str = "") -> Any:
        headers = {"Content-Type": "application/json"} | (
            {"Authorization": f"Bearer {token}"} if token else {}
        )
        data = None if body is None else json.dumps(body).encode()
        asked = urllib.request.Request(self.address + path, data, headers)  # noqa: S310 - our own server
        with urllib.request.urlopen(asked, timeout=PATIENCE_S) as reply:  # noqa: S310 - as above
            return json.load(reply)

    def kill(self) -> None:
        """As a power cut does it."""
        self.process.kill()
        self.process.wait()


@contextmanager
def demo(home: Path, port: int, *, knowledge: Path | None = None) -> Iterator[Demo]:
    home.mkdir(exist_ok=True)
    named = {} if knowledge is None else {"HELPLINE_KNOWLEDGE": str(knowledge)}
    log = home / f"demo-{port}.log"
    with log.open("a", encoding="utf-8") as out:
        process = subprocess.Popen(  # noqa: S603 - our own command
            [*COMMAND, "demo", "--port", str(port)],
            env=environment(home) | named,
            cwd=home,
            stdout=out,
            stderr=out,
            text=True,
        )
    try:
        running = Demo(process, f"http://127.0.0.1:{port}", log)
        _wait_until_ready(running)
        yield running
    finally:
        process.terminate()
        process.wait(timeout=PATIENCE_S)


def _wait_until_ready(running: Demo) -> None:
    until = time.monotonic() + PATIENCE_S
    while time.monotonic() < until and running.process.poll() is None:
        try:
            running.ask("/health/ready")
        except (urllib.error.URLError, ConnectionError):
            time.sleep(0.2)
        else:
            return
    raise AssertionError(running.log.read_text(encoding="utf-8"))
