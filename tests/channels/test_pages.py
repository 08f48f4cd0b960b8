"""The page, the element and the plain page: served under a strict policy, and of use without script."""

import gzip
import re
from dataclasses import replace
from html.parser import HTMLParser

from flask.testing import FlaskClient

from assistant.helpline import Helpline
from channels.web import create_app
from channels.web.pages import FOLDER
from channels.web.words import PAGE_WORDS
from tests.channels.conftest import Hour
from tests.helpline.fakes import NOON, TEXAS

LARGEST_WIDGET = 10_000
"""Bytes of script that a phone with one bar of signal has to load (our own budget)."""


class Inline(HTMLParser):
    """Finds what a policy without inline script and style would block."""

    def __init__(self) -> None:
        super().__init__()
        self.blocked: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        named = dict(attrs)
        if tag == "style" or (tag == "script" and "src" not in named):
            self.blocked.append(tag)
        self.blocked += [name for name in named if name == "style" or name.startswith("on")]


def test_every_answer_has_a_policy_that_allows_nothing_inline_and_nothing_foreign(
    client: FlaskClient,
) -> None:
    for address in (
        "/",
        "/plain",
        "/widget.js",
        "/widget.css",
        "/api/openapi.json",
        "/health/live",
        "/nowhere",
    ):
        policy = client.get(address, buffered=True).headers["Content-Security-Policy"]
        assert "default-src 'none'" in policy
        assert "script-src 'self'" in policy
        assert "unsafe" not in policy
        assert "http" not in policy


def test_the_pages_hold_nothing_that_the_policy_would_block(client: FlaskClient) -> None:
    for address in ("/", "/?lang=es", "/plain", "/plain?lang=es"):
        page = Inline()
        page.feed(client.get(address).text)
        assert page.blocked == []


def test_the_element_is_one_small_classic_script_that_builds_no_markup_from_text(client: FlaskClient) -> None:
    script = client.get("/widget.js", buffered=True)

    assert script.mimetype in ("text/javascript", "application/javascript")
    assert script.headers["Cross-Origin-Resource-Policy"] == "cross-origin"
    loaded = client.get("/widget.js", headers={"Accept-Encoding": "gzip"})
    assert gzip.decompress(loaded.data) == script.data
    assert len(loaded.data) < LARGEST_WIDGET
    for forbidden in (
        "innerHTML",
        "outerHTML",
        "insertAdjacentHTML",
        "document.write",
        "eval(",
        "import ",
        "<style",
    ):
        assert forbidden not in script.text


def test_the_page_speaks_the_language_it_is_asked_in(client: FlaskClient) -> None:
    assert '<html lang="en">' in client.get("/").text
    assert '<html lang="es">' in client.get("/?lang=es").text
    assert '<html lang="es">' in client.get("/", headers={"Accept-Language": "es-MX,es;q=0.9"}).text
    assert 'lang="es">' in client.get("/?lang=es").text.split("<cold-room-chat")[1]


def test_inside_the_element_stands_a_way_for_phones_without_script(client: FlaskClient) -> None:
    inside = client.get("/").text.split("<cold-room-chat", 1)[1].split("</cold-room-chat>")[0]

    assert 'href="/plain?lang=en"' in inside


def test_both_languages_have_the_same_words_on_the_pages() -> None:
    english, spanish = PAGE_WORDS["en"], PAGE_WORDS["es"]

    assert english.keys() == spanish.keys()
    assert english["states"].keys() == spanish["states"].keys()  # type: ignore[union-attr]  # the one table among texts


def test_both_languages_have_the_same_words_in_the_element() -> None:
    script = (FOLDER / "widget.js").read_text(encoding="utf-8")
    english, spanish = script.split("\n    en: {", 1)[1].split("\n    es: {", 1)
    spanish = spanish.split("\n    },\n  };", 1)[0]

    def keys(words: str) -> list[str]:
        return re.findall(r"(\w+):", re.sub(r'"[^"]*"', '""', words))

    assert keys(english) == keys(spanish)
    assert len(keys(english)) > 30


def form(client: FlaskClient) -> dict[str, str]:
    return dict(re.findall(r'<input type="hidden" name="(\w+)" value="([^"]*)">', client.get("/plain").text))


def test_a_whole_talk_works_without_script(client: FlaskClient) -> None:
    first = client.post("/plain", data=form(client) | {"text": "too <warm>"})
    page = client.get("/plain").text

    assert first.status_code == 303
    assert "HttpOnly" in first.headers["Set-Cookie"]
    assert "SameSite=Lax" in first.headers["Set-Cookie"]
    assert "too &lt;warm&gt;" in page
    assert 'name="choice" value="yes"' in page

    client.post("/plain", data=form(client) | {"choice": "yes", "text": ""})
    assert "Question 2?" in client.get("/plain").text


def test_a_form_sent_twice_is_one_message(client: FlaskClient) -> None:
    client.post("/plain", data=form(client) | {"text": "too warm"})
    once = form(client) | {"text": "loud"}

    client.post("/plain", data=once)
    client.post("/plain", data=once)

    assert "Question 3?" not in client.get("/plain").text


def test_an_empty_form_is_told_what_to_do_and_loses_nothing(client: FlaskClient) -> None:
    refused = client.post("/plain", data=form(client) | {"text": "  "})
    too_long = client.post("/plain", data=form(client) | {"text": "x" * 10_001})

    assert refused.status_code == too_long.status_code == 422
    assert "Write a few words first." in refused.text
    assert "x" * 10_001 in too_long.text


def test_a_cookie_that_opens_nothing_begins_anew(client: FlaskClient, helpline: Helpline) -> None:
    case = helpline.open_case(client_id="other", at=NOON, text="secret").case
    for cookie in ("nonsense", f"{case}.wrong", "..", "é.é"):
        client.set_cookie("cold_room_case", cookie, path="/plain")
        page = client.get("/plain")
        assert page.status_code == 200
        assert "secret" not in page.text


def test_the_plain_page_takes_a_case_along_to_a_phone(helpline: Helpline) -> None:
    on_line = Helpline(replace(helpline.house, line="+15125550199"))
    client = create_app(on_line, Hour(on_line)).test_client()
    client.post("/plain", data={"text": "too warm", "client_id": "p1", "lang": "en"})
    assert "Take it to my phone" in client.get("/plain").text

    shown = client.post("/plain/code", data={"lang": "en"}).text

    code = re.search(r"text the code (\d{3} \d{3}) to \+15125550199", shown)
    assert code
    assert "goes on here" in on_line.receive_from("sms", TEXAS, code.group(1), "s1", NOON).messages[0].text


def test_without_a_line_the_plain_page_says_so(client: FlaskClient) -> None:
    client.post("/plain", data={"text": "too warm", "client_id": "p1", "lang": "en"})
    assert "no telephone line" in client.post("/plain/code", data={"lang": "en"}).text
