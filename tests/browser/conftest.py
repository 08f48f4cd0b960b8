"""Real Chromium through Playwright over the real app; where a machine has no Chromium, these tests say so and skip."""

import os
import shutil
import threading
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from argon2 import PasswordHasher
from playwright.sync_api import Browser, Page, sync_playwright
from werkzeug.serving import make_server

from assistant.casebook import Casebook, open_engine, upgrade
from assistant.helpline import Conversing, Door, Editions, Helpline, House, conversing_with
from channels.knowledge import our_knowledge
from channels.web import create_app
from tests.channels.conftest import Hour
from tests.helpline.fakes import NOON

PASSWORD = "a long enough one"  # noqa: S105 - of a desk that lives for one test
CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
SIZES = {"phone": (390, 844), "desk": (1280, 800)}


@dataclass(frozen=True, slots=True)
class Shop:
    """A helpline that serves a browser."""

    address: str
    helpline: Helpline
    hour: Hour


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    if CHROMIUM is None:
        if os.environ.get("HELPLINE_TEST_BROWSER") == "required":
            pytest.fail("HELPLINE_TEST_BROWSER is `required`, and this machine has no Chromium")
        pytest.skip("this machine has no Chromium: `apt-get install chromium` brings it")
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield chromium
        chromium.close()


@pytest.fixture(scope="session")
def conversing() -> Conversing:
    """The real conversation; its words are indexed once."""
    return conversing_with(our_knowledge())


@pytest.fixture
def shop(tmp_path: Path, conversing: Conversing) -> Iterator[Shop]:
    engine = open_engine(f"sqlite:///{tmp_path / 'shop.sqlite3'}")
    upgrade(engine)
    helpline = Helpline(House(casebook=Casebook(engine), editions=Editions(conversing), key=b"k"))
    hour = Hour(helpline)
    door = Door(helpline.house.casebook, PasswordHasher(time_cost=1, memory_cost=8, parallelism=1))
    door.add("Robin", "desk", PASSWORD, NOON)
    server = make_server(
        "127.0.0.1", 0, create_app(helpline, hour, door=door, demo_clock=hour), threaded=True
    )
    serving = threading.Thread(target=server.serve_forever, daemon=True)
    serving.start()
    yield Shop(f"http://127.0.0.1:{server.server_port}", helpline, hour)
    server.shutdown()
    serving.join(timeout=10)
    server.server_close()
    engine.dispose()


@pytest.fixture(params=[(size, scheme) for size in SIZES for scheme in ("light", "dark")], ids="-".join)
def page(request: pytest.FixtureRequest, browser: Browser) -> Iterator[Page]:
    size, scheme = request.param
    width, height = SIZES[size]
    context = browser.new_context(viewport={"width": width, "height": height}, color_scheme=scheme)
    context.set_default_timeout(15_000)
    yield context.new_page()
    context.close()
