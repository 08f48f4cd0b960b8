"""Thousands of conversations at once through everything that a provider and a machine can do to them.

Webhooks come twice and out of order, answers are lost, calls time out with and without the text taken on, the list of
texts lags, server and worker die before any statement. At the end nothing is lost or out of order, and no text came
twice but those that the metric counts.
"""

import logging
import random  # noqa: TID251 - a seeded simulation
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from flask.testing import FlaskClient
from sqlalchemy import Engine, select
from twilio.rest import Client

from assistant.casebook import Casebook, counts, personal, upgrade
from assistant.casebook.tables import AddressRow, CaseRow, ConsentRow, EventRow, InboxRow, OutboxRow
from assistant.helpline import Helpline, Limits
from channels.sms import Line, TwilioCourier
from channels.web import create_app
from tests.casebook.books import sqlite_engine
from tests.helpline.fakes import NOON, small_helpline
from tests.helpline.test_crashes import Plug, PowerCut, plugged
from tests.soak.carrier import Carrier, Wire

LINE = Line(
    account="AC" + "0" * 32, tokens=("0" * 32,), sender="+15125550199", public_url="https://help.example.org"
)
TEXTS = ("too warm", "yes", "no", "still warm", "number please", "41", "ask me later", "yes", "thanks")
SEED = 20261125
log = logging.getLogger("soak")
AT_ONCE = 40
"""Conversations that run at the same time."""


@dataclass(slots=True)
class Shop:
    """A server and a worker over one casebook, which may die at any statement and come up again."""

    casebook: Casebook
    carrier: Carrier
    plug: Plug
    dice: random.Random
    deaths: Counter[str] = field(default_factory=Counter)
    at: datetime = NOON

    def now(self) -> datetime:
        return self.at

    def helpline(self) -> Helpline:
        """A new process: nothing of the last one is left but the casebook."""
        courier = TwilioCourier(LINE, Client("AC", "x", http_client=Wire(self.carrier)))
        house = small_helpline(self.casebook, courier).house
        return Helpline(
            replace(house, courier_waits=timedelta(seconds=5), limits=replace(Limits(), parts_a_day=10**9))
        )

    def may_die(self, who: str, deed: Callable[[], bool]) -> bool:
        """Do it; sometimes the power fails on the way, and then it was not done as far as anybody outside knows."""
        self.plug.at = self.plug.seen + self.dice.randint(1, 60) if self.dice.random() < 0.03 else None
        try:
            return deed()
        except PowerCut:
            self.deaths[who] += 1
            return False
        finally:
            self.plug.at = None

    def serve(self, form: dict[str, str]) -> bool:
        client = (
            create_app(self.helpline(), self, line=LINE).test_client()
            if self.dice.random() < 0.02
            else self._client
        )
        return self.may_die("server", lambda: self.carrier.deliver(client, form))

    def work(self) -> bool:
        return self.may_die("worker", lambda: self.helpline().run_due(self.at) > 0)

    def pass_time(self, by: timedelta) -> None:
        self.at += by
        self.carrier.now = self.at

    def __post_init__(self) -> None:
        app = create_app(self.helpline(), self, line=LINE)
        app.testing = True  # a power cut must come through
        app.config["PROPAGATE_EXCEPTIONS"] = True
        self._client = app.test_client()

    _client: FlaskClient = field(init=False)


@dataclass(slots=True)
class Talk:
    """One phone's conversation: what it still has to send."""

    number: str
    waiting: list[dict[str, str]]


def talks(count: int, more: tuple[int, ...], dice: random.Random) -> Iterator[Talk]:
    for n in range(count):
        number = f"+1512{2000000 + 7 * n:07d}"
        said = ["too warm", *dice.sample(TEXTS, dice.choice(more))]
        said += [dice.choice(("fire", "stop"))] if dice.random() < 0.05 else []
        forms = [
            {"AccountSid": LINE.account, "Body": words, "From": number, "To": LINE.sender, "NumMedia": "0",
             "MessageSid": f"SM{n:028x}{place:04x}"}
            for place, words in enumerate(said)
        ]  # fmt: skip
        yield Talk(number, forms)


def soak(engine: Engine, count: int, more: tuple[int, ...]) -> tuple[Shop, int]:
    """Let them all talk, each as many texts after its first as `more` says; how many texts were sent by phones."""
    dice = random.Random(SEED)  # noqa: S311 - no secret
    carrier = Carrier(LINE, dice, trouble=0.1, now=NOON)
    sent = 0
    with plugged(engine) as plug:
        shop = Shop(Casebook(engine), carrier, plug, dice)
        coming = talks(count, more, dice)
        running: list[Talk] = []
        while True:
            while len(running) < AT_ONCE and (new := next(coming, None)) is not None:
                running.append(new)
            if not running:
                break
            talk = dice.choice(running)
            sent += _send_one(shop, talk, dice)
            if not talk.waiting:
                running.remove(talk)
            shop.pass_time(timedelta(seconds=dice.expovariate(1 / 4)))
            if dice.random() < 0.12:
                shop.work()
            if dice.random() < 0.2:
                shop.may_die("server", lambda: carrier.call_back(shop._client))
        _settle_down(shop)
    return shop, sent


def _send_one(shop: Shop, talk: Talk, dice: random.Random) -> int:
    """The next webhook of a phone, or the one after it; some come twice, a while later."""
    place = 1 if len(talk.waiting) > 1 and dice.random() < 0.05 else 0
    form = talk.waiting[place]
    while not shop.serve(form):  # the provider tries again at once, or at its other address
        shop.pass_time(timedelta(seconds=dice.uniform(1, 15)))
    del talk.waiting[place]
    if dice.random() < 0.08:
        shop.may_die("server", lambda: shop.carrier.repeat(shop._client, form))
    return 1


def _settle_down(shop: Shop) -> None:
    """The phones are quiet; what is under way comes to its end, then the promised hours come, and the morning."""
    for hours in (5, 15):
        for _ in range(60):
            shop.pass_time(timedelta(minutes=3))
            shop.work()
            shop.carrier.call_back(shop._client)
            if not _under_way(shop):
                break
        shop.pass_time(timedelta(hours=hours))
    shop.carrier.trouble = 0.0
    while shop.helpline().run_due(shop.at):
        pass


def _under_way(shop: Shop) -> bool:
    with shop.casebook.reading() as session:
        states = OutboxRow.state.in_(("ready", "put_back", "sending"))
        return session.scalar(select(OutboxRow.id).where(states).limit(1)) is not None


def check(shop: Shop, sent: int) -> None:
    with shop.casebook.reading() as session:
        states = Counter(session.scalars(select(InboxRow.state)))
        assert states == {"answered": sent}, "every text that was acknowledged is kept once, and answered"
        rows = session.scalars(select(OutboxRow).order_by(OutboxRow.id)).all()
        silent = set(session.scalars(select(ConsentRow.address_id)))
        query = (
            select(CaseRow.address_id)
            .join(EventRow, EventRow.case_id == CaseRow.id)
            .where(EventRow.kind == "Said")
        )
        said = [address for address in session.scalars(query) if address not in silent]
        numbers = {
            row.id: personal.text_of(session, personal.NUMBER, row.id)
            for row in session.scalars(select(AddressRow))
        }
        counted = counts.possible_duplicates(session)
    spoken = [row for row in rows if row.case_id is not None and row.address_id not in silent]
    assert len(spoken) == len(said), "every sentence has its text"
    ends = Counter(row.state for row in rows)
    assert set(ends) <= {"sent", "withdrawn"}, ends
    arrived = shop.carrier.arrived()
    twice = 0
    for address, number in numbers.items():
        due = [str(row.id) for row in rows if row.address_id == address and row.state == "sent"]
        got = [one.once for one in arrived.get(str(number), [])]
        first = list(dict.fromkeys(got))
        known = [once for once in first if once in set(due)]
        assert known == due, f"{number}: lost or out of order"
        copies = Counter(got)
        assert max(copies.values()) <= 2, f"{number}: more than one duplicate"
        twice += sum(copy - 1 for copy in copies.values())
        retried = {str(row.id) for row in rows if row.address_id == address and row.attempts >= 2}
        assert {once for once, copy in copies.items() if copy > 1} <= retried
    assert twice <= counted
    log.info(
        "%d texts in, %d out: %s; %d came twice, %d counted; deaths: %s; trouble: %s",
        sent, len(rows), dict(ends), twice, counted, dict(shop.deaths), dict(shop.carrier.happened),
    )  # fmt: skip


@pytest.fixture
def engine(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Engine]:
    for name in ("assistant", "helpline", "channels"):  # the trouble is meant
        monkeypatch.setattr(logging.getLogger(name), "disabled", True)
    with sqlite_engine(tmp_path) as engine:
        upgrade(engine)
        yield engine


def test_three_hundred_conversations(engine: Engine) -> None:
    check(*soak(engine, 300, more=(1,)))


@pytest.mark.long
@pytest.mark.timeout(7200)
def test_ten_thousand_conversations(engine: Engine) -> None:
    check(*soak(engine, 10_000, more=(1, 2, 3, 4, 5)))
