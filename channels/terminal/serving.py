"""`helpline serve`, `worker`, `database upgrade`: the production parts."""

import logging
import signal
import socket
import textwrap
import threading
from types import FrameType
from typing import Final

import click
from flask import Flask
from pydantic import SecretStr
from pydantic_core import PydanticUndefined
from waitress.server import create_server  # type: ignore[import-untyped]  # it ships none

from assistant.casebook import upgrade as upgrade_engine
from channels.house import door_of, line_of, open_casebook, open_house, settings_of
from channels.new_editions import watching
from channels.settings import Settings
from channels.web import WebSettings, create_app
from channels.worker import stop_on_signals, work
from kb.errors import SettingsError

THREADS: Final = 8
LARGEST_REQUEST: Final = 6 * 1024 * 1024
"""Bytes; the app turns down much smaller bodies, and says so better than a cut line."""


def _settings_listed() -> str:
    """The settings as `--help` shows them: each with what stands under it in `Settings`."""
    lines = ["\b", "Settings, from the environment or a .env file:"]
    for name, field in Settings.model_fields.items():
        default = "" if field.default in (None, (), PydanticUndefined) else f" [{field.default}]"
        lines += [
            f"  HELPLINE_{name.upper()}{default}",
            *(f"      {line}" for line in _wrapped(field.description)),
        ]
    return "\n".join(lines)


def _wrapped(text: str | None) -> list[str]:
    return textwrap.wrap(text or "", 70)


@click.command(epilog=_settings_listed())
@click.option(
    "--host", default="127.0.0.1", show_default=True, help="Where to listen; put a TLS proxy before it."
)
@click.option("--port", type=click.IntRange(1, 65535), default=8000, show_default=True)
def serve(host: str, port: int) -> None:
    """Serve the page, the element and the API."""
    start_logging()
    with take_port(host, port) as door:
        running = open_house()
        app = create_app(
            running.helpline,
            running.clock,
            web_settings(running.settings),
            line=line_of(running.settings),
            door=door_of(running.casebook),
            ready=running.check_ready,
        )
        with watching(running.helpline.house.editions):
            answer_until_told(app, door)


@click.command()
@click.option("--once", is_flag=True, help="Do what is due now, then end.")
def worker(*, once: bool) -> None:
    """Do what is due: promised hours, texts to send, what a crash left. One is enough; several do no harm."""
    start_logging()
    running = open_house()
    if once:
        click.echo(f"{running.helpline.run_due(running.clock.now())} done")
        return
    stop = threading.Event()
    stop_on_signals(stop)
    with watching(running.helpline.house.editions):
        work(running.helpline, running.clock, stop)


@click.group()
def database() -> None:
    """The database."""


@database.command("upgrade")
def upgrade() -> None:
    """Bring the database up to this program; running it again changes nothing."""
    casebook = open_casebook(settings_of(demo=False))
    upgrade_engine(casebook.engine)
    click.echo(f"{casebook.engine.url.render_as_string(hide_password=True)}: up to date")


def web_settings(settings: Settings, staff_token: str | None = None) -> WebSettings:
    """The web's part of the settings."""
    return WebSettings(
        staff_token=staff_token or _shown(settings.staff_token),
        metrics_token=_shown(settings.metrics_token),
        allowed_origins=settings.web_origins,
        proxies=settings.proxies,
    )


def take_port(host: str, port: int) -> socket.socket:
    """The port, ours from here on; whoever calls is let in once `answer_until_told` runs.

    Fails with `SettingsError` where somebody else has it.
    """
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    door = socket.socket(family, socket.SOCK_STREAM)
    try:
        door.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        door.bind((host, port))
        door.listen()
    except OSError as error:
        door.close()
        raise SettingsError(
            f"cannot listen on {host}:{port} ({error.strerror})",
            "choose another with --port, or end what runs there",
        ) from error
    return door


def answer_until_told(app: Flask, door: socket.socket) -> None:
    """Answer until SIGTERM or SIGINT; requests that were begun are finished."""

    def end(_number: int, _frame: FrameType | None) -> None:
        raise SystemExit(0)

    server = create_server(
        app, sockets=[door], threads=THREADS, max_request_body_size=LARGEST_REQUEST, ident=None
    )
    signal.signal(signal.SIGTERM, end)
    try:
        server.run()
    finally:
        server.close()


def start_logging() -> None:
    """To standard error, one line an event; no message's words are ever in it."""
    logging.basicConfig(level=logging.INFO, format="%(asctime)s %(levelname)s %(name)s: %(message)s")
    logging.getLogger("alembic").setLevel(logging.WARNING)  # it tells of every look at the version


def _shown(secret: SecretStr | None) -> str | None:
    return None if secret is None else secret.get_secret_value()
