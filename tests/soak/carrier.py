"""A pretend provider for the soak: it repeats, loses, reorders and times out, all from one seed.

It speaks to the program as the real one does: signed webhooks in, its REST interface out (through the real client).
"""

import json
import random  # noqa: TID251 - a seeded simulation
from collections import Counter, defaultdict
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Any
from xml.etree import ElementTree as ET

from flask.testing import FlaskClient
from requests.exceptions import ConnectTimeout, ReadTimeout
from twilio.http import HttpClient
from twilio.http.response import Response
from twilio.request_validator import RequestValidator

from channels.sms import Line

LIST_LAGS: timedelta = timedelta(minutes=1)
"""How long a text that was taken on may be missing from the provider's list."""


@dataclass(frozen=True, slots=True)
class Carried:
    """A text that the provider took on: it reaches the phone."""

    sid: str
    to: str
    body: str
    at: datetime
    once: str


@dataclass(slots=True)
class Carrier:
    """The provider, and all the phones behind it."""

    line: Line
    dice: random.Random
    trouble: float
    """How often something goes wrong where it can."""
    now: datetime
    carried: list[Carried] = field(default_factory=list)
    callbacks: list[tuple[str, dict[str, str]]] = field(default_factory=list)
    happened: Counter[str] = field(default_factory=Counter)
    _sids: int = 0

    # -- in: what phones send ----------------------------------------------------------------------------------------

    def deliver(self, client: FlaskClient, form: dict[str, str]) -> bool:
        """One webhook; false: it was not answered well, and comes again."""
        answer = self._post(client, "/sms/inbound", form)
        if answer.status_code != 200:
            self.happened["webhook failed"] += 1
            return False
        if self._strikes():
            for_good = self.dice.random() < 0.5
            self.happened["webhook answer lost" + (" for good" if for_good else "")] += 1
            return for_good
        for message in ET.fromstring(answer.data):  # noqa: S314 - our own bytes
            self.accept(form["From"], message.text or "", message.get("statusCallback") or "")
        return True

    def repeat(self, client: FlaskClient, form: dict[str, str]) -> bool:
        """The same webhook once more, whose answer the provider throws away: it has one."""
        self.happened["webhook twice"] += 1
        return bool(self._post(client, "/sms/inbound", form).status_code == 200)

    def call_back(self, client: FlaskClient) -> bool:
        """Tell what became of texts: out of order, some twice, some never."""
        self.dice.shuffle(self.callbacks)
        waiting, self.callbacks = self.callbacks, []
        for path, form in waiting:
            if self._strikes():
                self.happened["callback lost"] += 1
                continue
            for _ in range(2 if self._strikes() else 1):
                self._post(client, path, form)
        return bool(waiting)

    def accept(self, to: str, body: str, callback: str) -> str:
        """Take a text on; it will arrive."""
        self._sids += 1
        sid = f"SM{self._sids:032x}"
        once = callback.rpartition("o=")[2]
        self.carried.append(Carried(sid, to, body, self.now, once))
        path = callback.removeprefix(self.line.public_url)
        for word in ("sent", "delivered") if self.dice.random() < 0.3 else ("delivered",):
            form = {"AccountSid": self.line.account, "MessageSid": sid, "MessageStatus": word}
            self.callbacks.append((path, form))
        return sid

    # -- out: the REST interface -------------------------------------------------------------------------------------

    def create(self, form: dict[str, str]) -> tuple[int, dict[str, Any]]:
        """`POST Messages.json`."""
        fate = self.dice.random() if self.dice.random() < min(0.5, 5 * self.trouble) else 1.0
        if fate < 0.25:
            self.happened["too many"] += 1
            return 429, {"code": 20429, "message": "too many", "status": 429}
        if fate < 0.4:
            self.happened["not reached"] += 1
            raise ConnectTimeout
        if fate < 0.7:
            self.happened["timed out, not taken on"] += 1
            raise ReadTimeout
        sid = self.accept(form["To"], form["Body"], form["StatusCallback"])
        if fate < 1.0:
            self.happened["timed out, taken on"] += 1
            raise ReadTimeout
        return 201, {"sid": sid}

    def listed(self, to: str) -> tuple[int, dict[str, Any]]:
        """`GET Messages.json`: what was taken on lately may not be in it yet."""
        if self._strikes():
            self.happened["list timed out"] += 1
            raise ReadTimeout
        known = [one for one in self.carried if one.to == to and one.at + self._lag() <= self.now]
        listed = [{"sid": one.sid, "body": one.body, "status": "delivered"} for one in known]
        return 200, {"messages": listed, "next_page_uri": None}

    def _lag(self) -> timedelta:
        return 4 * LIST_LAGS if self.dice.random() < 0.3 else LIST_LAGS * self.dice.random()

    # -- what can be looked at afterwards ----------------------------------------------------------------------------

    def arrived(self) -> dict[str, list[Carried]]:
        """What each phone got, in order."""
        phones: dict[str, list[Carried]] = defaultdict(list)
        for one in self.carried:
            phones[one.to].append(one)
        return phones

    def _strikes(self) -> bool:
        return self.dice.random() < self.trouble

    def _post(self, client: FlaskClient, path: str, form: dict[str, str]) -> Any:  # Any: a test response
        signature = RequestValidator(self.line.tokens[0]).compute_signature(self.line.public_url + path, form)
        return client.post(path, data=form, headers={"X-Twilio-Signature": signature})


@dataclass(slots=True)
class Wire(HttpClient):  # type: ignore[misc]  # the library is untyped
    """The real client's way to the pretend provider."""

    carrier: Carrier

    def request(self, method: str, url: str, params: Any = None, data: Any = None, **_: Any) -> Response:
        """One call of the REST interface."""
        if method.upper() == "POST":
            status, body = self.carrier.create(dict(data))
        else:
            status, body = self.carrier.listed(params["To"])
        return Response(status, json.dumps(body))
