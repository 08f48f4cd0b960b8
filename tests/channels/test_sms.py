"""Texts by telephone, without a network: really signed webhooks in, the provider's REST interface played by `responses`."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from urllib.parse import parse_qsl, urlencode
from xml.etree import ElementTree as ET

import pytest
import requests
import responses
from flask.testing import FlaskClient
from twilio.request_validator import RequestValidator
from werkzeug.datastructures import MultiDict
from werkzeug.test import TestResponse

from assistant.casebook import Casebook
from assistant.helpline import Accepted, Helpline, Later, Refused
from channels.sms import Line, TwilioCourier
from channels.sms.courier import TIMEOUT_S, UnknownOutcomeError
from channels.sms.refusals import outcome_of
from channels.web import create_app
from tests.channels.conftest import Hour
from tests.helpline.fakes import NOON, OTHER, TEXAS, small_helpline

ACCOUNT, OURS = "AC" + "0" * 32, "+15125550199"
TOKEN, NEXT = "00112233445566778899aabbccddeeff", "ffeeddccbbaa99887766554433221100"
LINE = Line(account=ACCOUNT, tokens=(TOKEN, NEXT), sender=OURS, public_url="https://help.example.org")
MESSAGES = f"https://api.twilio.com/2010-04-01/Accounts/{ACCOUNT}/Messages.json"


@dataclass(slots=True)
class Provider:
    """The provider's side of the webhooks: it signs what it sends, and counts its own ids."""

    client: FlaskClient
    token: str = TOKEN
    texts: int = 0
    behind: dict[str, str] = field(default_factory=dict)
    """What a proxy on the way changes in the request."""

    def text(self, words: str, *, sender: str = TEXAS, sid: str | None = None, **more: str) -> TestResponse:
        self.texts += 1
        form = {
            "AccountSid": ACCOUNT, "Body": words, "From": sender, "To": OURS, "NumMedia": "0",
            "MessageSid": sid or f"SM{self.texts:032x}", **more,
        }  # fmt: skip
        return self.post("/sms/inbound", form)

    def status(self, callback: str, word: str, **more: str) -> TestResponse:
        path = callback.removeprefix(LINE.public_url)
        return self.post(
            path, {"AccountSid": ACCOUNT, "MessageSid": "SM" + "f" * 32, "MessageStatus": word, **more}
        )

    def post(self, path: str, form: dict[str, str]) -> TestResponse:
        signature = RequestValidator(self.token).compute_signature(LINE.public_url + path, form)
        return self.client.post(path, data=form, headers={"X-Twilio-Signature": signature, **self.behind})


@pytest.fixture
def book(helpline: Helpline) -> Casebook:
    return helpline.house.casebook


@pytest.fixture
def hour(helpline: Helpline) -> Hour:
    return Hour(helpline)


@pytest.fixture
def provider(helpline: Helpline, hour: Hour) -> Provider:
    return Provider(create_app(helpline, hour, line=LINE).test_client())


@pytest.fixture
def rest() -> Iterator[responses.RequestsMock]:
    with responses.RequestsMock(assert_all_requests_are_fired=False) as played:
        yield played


def told(response: TestResponse) -> list[tuple[str, str | None]]:
    """The texts in the markup, each with where its fate is to be told."""
    assert response.status_code == 200
    assert response.mimetype == "text/xml"
    return [(message.text or "", message.get("statusCallback")) for message in ET.fromstring(response.data)]  # noqa: S314 - our own bytes


# -- in --------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("token", "signature"), [(TOKEN, "2T5OvB+6/VU+6XDeYBFyZ3hGI6g=")])
def test_the_signature_is_hmac_sha1_over_address_and_sorted_fields(token: str, signature: str) -> None:
    """Worked out by hand with hashlib from the provider's published rule; blanks inside a field count."""
    form = MultiDict(
        {
            "AccountSid": ACCOUNT, "Body": "  ¿No enfría? 41 F ", "From": TEXAS, "MessageSid": "SM" + "1" * 32,
            "NumMedia": "0", "To": OURS,
        }
    )  # fmt: skip
    line = Line(account=ACCOUNT, tokens=(token,), sender=OURS, public_url="https://help.example.org")

    assert line.is_signed("/hooks/sms", b"ch=main", form, {"X-Twilio-Signature": signature})
    assert not line.is_signed("/hooks/sms", b"ch=other", form, {"X-Twilio-Signature": signature})


def test_a_text_is_answered_in_the_answer_to_its_webhook(provider: Provider) -> None:
    ((text, callback),) = told(provider.text("too warm"))

    assert text == "Question 1? 1 yes, 2 no"
    assert re.fullmatch(r"https://help\.example\.org/sms/status\?o=\d+", callback or "")


def test_the_same_webhook_again_gets_the_same_bytes_and_is_read_once(
    provider: Provider, helpline: Helpline
) -> None:
    first = provider.text("too warm", sid="SM" + "a" * 32)
    again = provider.text("too warm", sid="SM" + "a" * 32)

    assert again.data == first.data
    assert len(helpline.desk_list()) == 1


def test_while_a_text_is_under_way_the_next_answers_wait_behind_it(provider: Provider) -> None:
    """Two answers on two roads could arrive in the wrong order."""
    ((_, callback),) = told(provider.text("too warm"))

    assert told(provider.text("yes")) == []

    provider.status(str(callback), "sent")
    assert [text for text, _ in told(provider.text("no"))] == [
        "Question 2? 1 yes, 2 no",
        "Question 3? 1 yes, 2 no",
    ]


def test_what_the_webhook_may_have_lost_goes_out_once_more_by_the_courier(book: Casebook) -> None:
    post = Carried()
    helpline = small_helpline(book, post)
    hour = Hour(helpline)
    told(Provider(create_app(helpline, hour, line=LINE).test_client()).text("too warm"))

    hour.forward(timedelta(minutes=3))
    hour.forward(timedelta(minutes=3))

    assert post.carried == [("Question 1? 1 yes, 2 no", NOON)]


@dataclass(slots=True)
class Carried:
    """A courier that notes what it carried, and since when it may have gone before."""

    carried: list[tuple[str, datetime | None]] = field(default_factory=list)

    def send(self, address: str, text: str, once: str, again_since: datetime | None) -> Accepted:
        assert address == TEXAS
        assert once.isdecimal()
        self.carried.append((text, again_since))
        return Accepted()

    def look_back(self, address: str, text: str, since: datetime) -> Accepted | None:
        return None


@pytest.mark.parametrize(
    "forge", ["no signature", "other token", "other address", "other account", "other way"]
)
def test_what_the_provider_did_not_sign_is_not_read(
    provider: Provider, helpline: Helpline, forge: str
) -> None:
    form = {
        "AccountSid": ACCOUNT,
        "Body": "too warm",
        "From": TEXAS,
        "MessageSid": "SM" + "b" * 32,
        "NumMedia": "0",
    }
    if forge == "other account":
        form["AccountSid"] = "AC" + "9" * 32
    token = "another" if forge == "other token" else TOKEN
    url = ("http://127.0.0.1" if forge == "other address" else LINE.public_url) + "/sms/inbound"
    headers = {"X-Twilio-Signature": RequestValidator(token).compute_signature(url, form)}
    if forge == "no signature":
        headers = {}
    if forge == "other way":
        headers["X-Twilio-Webhooks-Signature-Settings"] = "key=a,algorithm=HMAC_SHA256"

    assert provider.client.post("/sms/inbound", data=form, headers=headers).status_code == 403
    assert helpline.desk_list() == ()


def test_the_next_token_signs_too_while_it_is_being_changed(provider: Provider) -> None:
    provider.token = NEXT
    assert told(provider.text("too warm"))


def test_a_proxy_does_not_change_what_was_signed(provider: Provider) -> None:
    provider.behind = {
        "Host": "127.0.0.1:8000",
        "X-Forwarded-Proto": "http",
        "X-Forwarded-Host": "evil.example",
    }
    assert told(provider.text("too warm"))


def test_unknown_fields_are_signed_over_and_passed_over(provider: Provider) -> None:
    assert told(provider.text("too warm", SomethingNew="1", FromCity="AUSTIN"))


def test_a_short_code_is_never_answered(provider: Provider) -> None:
    assert told(provider.text("too warm", sender="32665")) == []


def test_a_picture_without_words_is_asked_about(provider: Provider) -> None:
    ((text, callback),) = told(provider.text("", NumMedia="1"))
    assert "words" in text
    assert callback is None


def test_what_the_carrier_answers_itself_is_acted_on_in_silence(book: Casebook) -> None:
    helpline = small_helpline(book)
    quiet = Helpline(replace(helpline.house, carrier_answers=frozenset({"stop"})))
    provider = Provider(create_app(quiet, Hour(quiet), line=LINE).test_client())
    ((_, callback),) = told(provider.text("too warm"))
    provider.status(str(callback), "delivered")

    assert told(provider.text("STOP")) == []
    assert quiet.desk_list()[0].no_texts
    # a phrase is ours to answer
    assert (
        "no more texts"
        in told(Provider(provider.client, texts=9).text("stop texting me", sender=OTHER))[0][0]
    )


# -- what became of it -----------------------------------------------------------------------------------------------


def test_a_carrier_that_says_they_opted_out_is_believed(provider: Provider, helpline: Helpline) -> None:
    ((_, callback),) = told(provider.text("too warm"))

    assert provider.status(str(callback), "failed", ErrorCode="21610").status_code == 204

    assert helpline.desk_list()[0].no_texts


def test_a_number_that_no_text_reaches_calls_the_desk(provider: Provider, helpline: Helpline) -> None:
    ((_, callback),) = told(provider.text("too warm"))

    provider.status(str(callback), "undelivered", ErrorCode="30006")

    row = helpline.desk_list()[0]
    assert (row.unreachable, row.needs_since is not None) == ("30006", True)
    provider.text("hello?")
    assert helpline.desk_list()[0].unreachable is None


def test_a_danger_that_did_not_arrive_is_telephoned(provider: Provider, helpline: Helpline) -> None:
    ((_, callback),) = told(provider.text("fire"))

    provider.status(str(callback), "undelivered", ErrorCode="30007")

    assert helpline.desk_list()[0].phone_now


def test_callbacks_come_twice_and_out_of_order(provider: Provider, helpline: Helpline) -> None:
    ((_, callback),) = told(provider.text("too warm"))

    for word in ("delivered", "sent", "queued", "delivered"):
        assert provider.status(str(callback), word).status_code == 204

    assert told(provider.text("yes"))
    assert helpline.desk_list()[0].unreachable is None


@pytest.mark.parametrize("once", ["", "0", "999999999", "9" * 40, "x", "1;2", "%C2%B2"])
def test_a_callback_about_no_text_of_ours_does_nothing(provider: Provider, once: str) -> None:
    assert provider.status(f"{LINE.public_url}/sms/status?o={once}", "sent").status_code == 204


# -- out -------------------------------------------------------------------------------------------------------------


def sent(call: responses.Call) -> dict[str, str]:
    return dict(parse_qsl(str(call.request.body)))


def test_a_text_goes_out_with_its_callback_and_a_time_limit(rest: responses.RequestsMock) -> None:
    rest.post(MESSAGES, json={"sid": "SM1"}, status=201)

    assert TwilioCourier.over(LINE).send(TEXAS, "¿Cómo está? 41 F", "9", None) == Accepted(provider_id="SM1")

    call = rest.calls[0]
    assert sent(call) == {
        "To": TEXAS, "From": OURS, "Body": "¿Cómo está? 41 F", "ValidityPeriod": "3600",
        "StatusCallback": "https://help.example.org/sms/status?o=9",
    }  # fmt: skip
    assert call.request.req_kwargs["timeout"] == TIMEOUT_S  # type: ignore[attr-defined]


def failure(code: int, status: int = 400) -> dict[str, object]:
    return {"status": status, "json": {"code": code, "message": "m", "status": status, "more_info": ""}}


@pytest.mark.parametrize(
    ("answer", "outcome"),
    [
        (failure(21610), Refused(why="21610", kind="opted_out")),
        (failure(21614), Refused(why="21614", kind="unusable")),
        (failure(21211), Refused(why="21211", kind="unusable")),
        (failure(21617), Refused(why="21617", kind="ours")),
        (failure(12345), Refused(why="12345", kind="ours")),
        (failure(20429, 429), Later(why="20429")),
        (failure(20003, 401), Later(why="20003")),
        ({"body": requests.exceptions.ConnectTimeout()}, Later(why="the provider cannot be reached")),
    ],
)  # fmt: skip
def test_each_answer_of_the_provider_has_its_meaning(
    rest: responses.RequestsMock, answer: dict[str, object], outcome: object
) -> None:
    rest.post(MESSAGES, **answer)
    assert TwilioCourier.over(LINE).send(TEXAS, "x", "1", None) == outcome


@pytest.mark.parametrize(
    "answer",
    [
        {"body": requests.exceptions.ReadTimeout()},
        {"body": requests.exceptions.ConnectionError("reset")},
        {"body": "<html>bad gateway</html>", "status": 502},
        failure(20500, 500),
    ],
)
def test_where_nobody_knows_it_raises(rest: responses.RequestsMock, answer: dict[str, object]) -> None:
    rest.post(MESSAGES, **answer)
    with pytest.raises((UnknownOutcomeError, requests.exceptions.RequestException)):
        TwilioCourier.over(LINE).send(TEXAS, "x", "1", None)


@pytest.mark.parametrize(("known", "posts"), [("Is it colder now?", 0), ("something else", 1)])
def test_before_it_sends_again_it_looks_whether_the_first_try_went_out(
    rest: responses.RequestsMock, known: str, posts: int
) -> None:
    listed = [{"sid": "SM7", "body": known, "status": "delivered"}]
    rest.get(MESSAGES, json={"messages": listed, "next_page_uri": None})
    rest.post(MESSAGES, json={"sid": "SM8"}, status=201)

    outcome = TwilioCourier.over(LINE).send(
        TEXAS, "Is it colder now?", "1", datetime(2026, 7, 14, tzinfo=UTC)
    )

    assert outcome == Accepted(provider_id="SM8" if posts else "SM7")
    assert sum(call.request.method == "POST" for call in rest.calls) == posts


def test_where_the_list_cannot_be_read_it_sends_nothing(rest: responses.RequestsMock) -> None:
    rest.get(MESSAGES, body=requests.exceptions.ReadTimeout())
    since = datetime(2026, 7, 14, tzinfo=UTC)
    assert TwilioCourier.over(LINE).send(TEXAS, "x", "1", since) == Later(
        why="the provider's list cannot be read"
    )
    assert len(rest.calls) == 1


def test_an_unknown_status_of_the_server_is_unknown() -> None:
    assert outcome_of(503, None) is None


def test_the_body_of_a_webhook_is_what_a_form_encodes(provider: Provider) -> None:
    """The same text as a raw request: blanks at both ends are signed over, and do no harm."""
    form = {"AccountSid": ACCOUNT, "Body": "  too warm ", "From": TEXAS, "MessageSid": "SM" + "c" * 32}
    signature = RequestValidator(TOKEN).compute_signature(f"{LINE.public_url}/sms/inbound", form)

    answer = provider.client.post(
        "/sms/inbound",
        data=urlencode(form),
        content_type="application/x-www-form-urlencoded",
        headers={"X-Twilio-Signature": signature},
    )

    assert told(answer)


def test_the_courier_leaves_a_fresh_text_to_the_webhook(book: Casebook) -> None:
    """Two roads for one answer could swap its texts."""
    post = Carried()
    waiting = replace(small_helpline(book, post).house, courier_waits=timedelta(seconds=5))
    helpline = Helpline(waiting)
    helpline.receive_from("sms", TEXAS, "too warm", "s1", NOON)

    helpline.run_due(NOON + timedelta(seconds=2))
    assert post.carried == []
    helpline.run_due(NOON + timedelta(seconds=6))
    assert len(post.carried) == 1


@pytest.mark.parametrize("word", ["STOP", "START", "HELP", "NEW"])
def test_the_providers_own_notice_of_an_opt_out_is_believed_whatever_the_text_says(
    provider: Provider, helpline: Helpline, word: str
) -> None:
    provider.text("too warm")

    answer = provider.text("a word that they set up", OptOutType=word)

    assert helpline.desk_list()[0].no_texts is (word == "STOP")
    if word != "NEW":
        assert told(answer) == []
