"""`helpline demo`: everything in one process on embedded defaults, with a clock that can be moved."""

import json
import logging
import socket
import tempfile
import threading
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Final

import click

from assistant.casebook import upgrade
from assistant.helpline import Helpline, MovableClock
from channels.demo import RECORD, Season, our_region, play_season, record, seed
from channels.house import (
    Running,
    demo_line,
    door_of,
    house_over,
    open_casebook,
    open_demo,
    settings_of,
    staff_token_of_demo,
)
from channels.knowledge import our_knowledge
from channels.new_editions import watching
from channels.settings import Settings
from channels.sms import Pocket
from channels.terminal.serving import answer_until_told, start_logging, take_port, web_settings
from channels.terminal.spans import Span
from channels.web import create_app
from channels.worker import work
from kb.errors import RequestError

PATIENCE_S: Final = 120
log = logging.getLogger("helpline.demo")
PORT: Final = 8765
SEASON_ENDS: Final = datetime(2026, 7, 14, 18, 0, tzinfo=UTC)
"""Where the record ends; a new demo moves it to its own day."""


@dataclass(frozen=True, slots=True)
class DemoTime:
    """The demo's clock: what has come due happens before it says what time it is."""

    helpline: Helpline
    clock: MovableClock
    seeded: threading.Event
    """The demo's people have all written: before that, their own hours count."""

    def forward(self, by: timedelta) -> datetime:
        """Move on, and let happen what was promised."""
        self.seeded.wait(PATIENCE_S)
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


@demo.command("record")
@click.option(
    "--to", "path", type=click.Path(dir_okay=False, path_type=Path), default=RECORD, show_default=True
)
def record_season(path: Path) -> None:
    """Play the season that has gone by and write it down for new demos; takes some minutes."""
    with tempfile.TemporaryDirectory() as folder:
        settings = settings_of(demo=True).model_copy(
            update={"home": Path(folder), "database_url": None, "zone": "America/Denver"}
        )
        casebook = open_casebook(settings)
        upgrade(casebook.engine)
        running = house_over(casebook, settings, demo=True, courier=Pocket())
        played = play_season(Season(running.helpline, our_knowledge(), SEASON_ENDS))
        rows = record(casebook, SEASON_ENDS, path)
        casebook.engine.dispose()
    click.echo(f"{played} cases, {rows} rows: {path}")


def _run(host: str, port: int) -> None:
    start_logging()
    with take_port(host, port) as door:
        pocket = Pocket()
        running = open_demo(pocket)
        clock = DemoTime(running.helpline, MovableClock(running.casebook), threading.Event())
        with (
            _working(clock),
            watching(running.helpline.house.editions),
            _announced(running.settings, f"http://{host}:{port}"),
        ):
            _show(running, clock, pocket, door)


def _show(running: Running, time: DemoTime, pocket: Pocket, door: socket.socket) -> None:
    clock, staff_token = time.clock, staff_token_of_demo(running.settings)
    desk = door_of(running.casebook)
    for place, name in enumerate(our_region().colleagues):
        desk.add(name, "desk" if place else "lead", staff_token, clock.now())
    app = create_app(
        running.helpline,
        clock,
        web_settings(running.settings, staff_token),
        line=demo_line(running.settings),
        door=desk,
        demo_clock=time,
        pocket=pocket,
        ready=running.check_ready,
    )
    _greet(demo_address(running.settings), staff_token)
    answer_until_told(app, door)


@contextmanager
def _working(clock: DemoTime) -> Iterator[None]:
    """A worker beside us, that ends with us; the demo's people write before it begins."""
    stop = threading.Event()

    def live() -> None:
        try:
            seed(clock.helpline, our_knowledge(), clock.clock.now())
        except Exception:
            log.exception("the demo's people could not all write")
        clock.seeded.set()
        work(clock.helpline, clock.clock, stop)

    working = threading.Thread(target=live, name="worker", daemon=True)
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
        f"the desk    {address}/desk/   sign in as {', '.join(our_region().colleagues)}, password {staff_token}\n"
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
