from collections.abc import Iterator

import pytest
from sqlalchemy import Engine

from assistant.casebook import Casebook, upgrade
from tests.casebook.books import NO_POSTGRES, POSTGRES_URL, empty, engine_of

KINDS = (
    "sqlite",
    pytest.param("postgres", marks=pytest.mark.skipif(POSTGRES_URL is None, reason=NO_POSTGRES)),
)


@pytest.fixture(scope="package", params=KINDS)
def engine(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Engine]:
    folder = tmp_path_factory.mktemp("casebook")
    with engine_of(str(request.param), folder) as engine:
        upgrade(engine)
        yield engine


@pytest.fixture
def book(engine: Engine) -> Iterator[Casebook]:
    yield Casebook(engine)
    empty(engine)
