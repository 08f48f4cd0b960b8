"""`helpline demo`: everything in one process on embedded defaults, with a clock that can be moved."""

import json
import socket
import threading
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from typing import Final

import click

from assistant.helpline import Helpline, MovableClock
from channels.house import Running, demo_line, door_of, open_demo, settings_of, staff_token_of_demo
from channels.new_editions import watching
from channels.settings import Settings
from channels.sms import Pocket
from channels.terminal.seeding import seed
from channels.terminal.serving import answer_until_told, start_logging, take_port, web_settings
from channels.terminal.spans import Span
from channels.web import create_app
from channels.worker import work
from kb.errors import RequestError

PATIENCE_S: Final = 120
PORT: Final = 8765
DEMO_COLLEAGUE: Final = "Robin"


@dataclass(frozen=True, slots=True)
class DemoTime:
    """The demo's clock: what has come due happens before it says what time it is."""

    helpline: Helpline
    clock: MovableClock

    def forward(self, by: timedelta) -> datetime:
        """Move on, and let happen what was promised."""
        now = self.clock.forward(by)
        self.helpline.run_due(now)
        return now


@click.group(invoke_without_command=True)
@click.option("--host", default="127.0.0.1", show_default=True)
@click.option("--port", type=click.IntRange(1, 65535), default=PORT, show_default=True)
@click.pass_context
def demo(context: click.Context, host: str, port: int) -> None:
    """Everything in one process on embedded defaults; ends with Ctrl-C, and goes on where it was when started again."""
    if context.invoked_subcommand is None:
        _run(host, port)


@demo.command("forward")
@click.argument("span", type=Span())
def forward(span: timedelta) -> None:
    """Move the running demo's clock by SPAN (90min, 4h, 2d): a promised follow-up arrives now."""
    address = demo_address(settings_of(demo=True))
    now = _ask(f"{address}/demo/clock", {"forward_minutes": span.total_seconds() / 60})
    click.echo(f"the demo's clock: {now['now']}")


def _run(host: str, port: int) -> None:
    start_logging()
    with take_port(host, port) as door:
        pocket = Pocket()
        running = open_demo(pocket)
        clock = MovableClock(running.casebook)
        seed(running.helpline, clock.now())
        with (
            _working(running.helpline, clock),
            watching(running.helpline.house.editions),
            _announced(running.settings, f"http://{host}:{port}"),
        ):
            _show(running, clock, pocket, door)


def _show(running: Running, clock: MovableClock, pocket: Pocket, door: socket.socket) -> None:
    staff_token = staff_token_of_demo(running.settings)
    desk = door_of(running.casebook)
    desk.add(DEMO_COLLEAGUE, "lead", staff_token, clock.now())
    app = create_app(
        running.helpline,
        clock,
        web_settings(running.settings, staff_token),
        line=demo_line(running.settings),
        door=desk,
        demo_clock=DemoTime(running.helpline, clock),
        pocket=pocket,
        ready=running.check_ready,
    )
    _greet(demo_address(running.settings), staff_token)
    answer_until_told(app, door)


@contextmanager
def _working(helpline: Helpline, clock: MovableClock) -> Iterator[None]:
    """A worker beside us, that ends with us."""
    stop = threading.Event()
    working = threading.Thread(target=work, args=(helpline, clock, stop), name="worker", daemon=True)
    working.start()
    try:
        yield
    finally:
        stop.set()
        working.join()


def _greet(address: str, staff_token: str) -> None:
    click.echo(
        f"open        {address}/\n"
        f"no script   {address}/plain\n"
        f"the API     {address}/api/openapi.json\n"
        f"the desk    {address}/desk/   sign in as {DEMO_COLLEAGUE}, password {staff_token}\n"
        f"staff token {staff_token}\n"
        "in a second terminal: `helpline demo forward 4h` moves the clock, `helpline desk list --demo` shows the desk's queue,\n"
        "`helpline text` is a pretend phone"
    )


@contextmanager
def _announced(settings: Settings, address: str) -> Iterator[None]:
    """Leave the address where `helpline demo forward` looks for it."""
    notice = _notice(settings)
    notice.write_text(json.dumps({"address": address}), encoding="utf-8")
    try:
        yield
    finally:
        notice.unlink(missing_ok=True)


def _notice(settings: Settings) -> Path:
    return settings.home / "running.json"


def demo_address(settings: Settings) -> str:
    """Where the running demo answers. Fails with `RequestError` where none runs."""
    try:
        return str(json.loads(_notice(settings).read_text(encoding="utf-8"))["address"])
    except FileNotFoundError as error:
        raise RequestError(
            "no demo runs here", "start one with `helpline demo`, in another terminal"
        ) from error


def _ask(address: str, body: dict[str, float]) -> dict[str, str]:
    asked = urllib.request.Request(  # noqa: S310 - our own address, from our own notice
        address, json.dumps(body).encode(), {"Content-Type": "application/json"}, method="POST"
    )
    try:
        with urllib.request.urlopen(asked, timeout=PATIENCE_S) as reply:  # noqa: S310 - as above
            answer: dict[str, str] = json.load(reply)
            return answer
    except (urllib.error.URLError, TimeoutError) as error:
        raise RequestError(
            f"the demo at {address} does not answer: {error}", "start it again with `helpline demo`"
        ) from error
