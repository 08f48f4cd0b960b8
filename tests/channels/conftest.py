import shutil
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from flask.testing import FlaskClient

from assistant.casebook import Casebook
from assistant.helpline import Helpline
from channels.web import WebSettings, create_app
from tests.casebook.books import book_of, sqlite_engine
from tests.helpline.fakes import NOON, small_helpline

STAFF = "staff-token"
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
    folder = tmp_path_factory.mktemp("book")
    with book_of("sqlite", folder):
        pass
    return folder / "test.sqlite3"


@pytest.fixture
def helpline(empty_book: Path, tmp_path: Path) -> Iterator[Helpline]:
    shutil.copy(empty_book, tmp_path / "test.sqlite3")
    with sqlite_engine(tmp_path) as engine:
        yield small_helpline(Casebook(engine))


@pytest.fixture
def client(helpline: Helpline) -> FlaskClient:
    hour = Hour(helpline)
    settings = WebSettings(staff_token=STAFF, metrics_token="metrics-token", allowed_origins=(SITE,))
    return create_app(helpline, hour, settings, demo_clock=hour).test_client()
