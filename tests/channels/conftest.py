import shutil
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from flask.testing import FlaskClient

from assistant.casebook import Casebook, open_engine, upgrade
from assistant.helpline import Helpline
from channels.web import WebSettings, create_app
from tests.helpline.fakes import NOON, small_helpline

STAFF, FIGURES = "staff-token", "metrics-token"
SITE = "https://barn.example"


@dataclass(slots=True)
class Hour:
    """A case clock that only the test moves."""

    helpline: Helpline
    at: datetime = field(default=NOON)

    def now(self) -> datetime:
        return self.at

    def forward(self, by: timedelta) -> datetime:
        self.at += by
        self.helpline.run_due(self.at)
        return self.at


@pytest.fixture(scope="session")
def empty_book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An upgraded database; copying it is quicker than upgrading one a test."""
    path = tmp_path_factory.mktemp("book") / "test.sqlite3"
    engine = open_engine(f"sqlite:///{path}")
    upgrade(engine)
    engine.dispose()
    return path


@pytest.fixture
def helpline(empty_book: Path, tmp_path: Path) -> Iterator[Helpline]:
    shutil.copy(empty_book, tmp_path / "test.sqlite3")
    engine = open_engine(f"sqlite:///{tmp_path / 'test.sqlite3'}")
    yield small_helpline(Casebook(engine))
    engine.dispose()


@pytest.fixture
def client(helpline: Helpline) -> FlaskClient:
    hour = Hour(helpline)
    settings = WebSettings(staff_token=STAFF, metrics_token=FIGURES, allowed_origins=(SITE,))
    return create_app(helpline, hour, settings, demo_clock=hour).test_client()


@pytest.fixture(scope="session")
def one_home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder for all tests: the knowledge is parsed once and kept there."""
    return tmp_path_factory.mktemp("home")


@pytest.fixture
def home(one_home: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("HELPLINE_HOME", str(one_home))
    monkeypatch.setenv("HELPLINE_DATABASE_URL", f"sqlite:///{tmp_path / 'own.sqlite3'}")
    monkeypatch.chdir(tmp_path)  # away from anybody's .env
    return one_home
