"""The page that shows the element, the element itself, and a plain page that needs no script."""

import gzip
import mimetypes
import secrets
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Final, Literal

from flask import Blueprint, Response, make_response, redirect, render_template, request, send_from_directory
from pydantic import ValidationError
from werkzeug.wrappers import Response as Answered

from assistant.conversation.ids import CaseState
from assistant.helpline import CaseClock, CodeShown, Helpline, MessageView, code_to_phone, slip_of
from channels.web.border import let_in, network_address
from channels.web.models import CaseIn, MessageIn, language_of
from channels.web.words import PAGE_WORDS
from kb.errors import RequestError
from kb.ids import Language

FOLDER: Final = Path(__file__).parent / "pages"
COOKIE: Final = "cold_room_case"
A_MONTH_S: Final = 30 * 24 * 3600
AN_HOUR_S: Final = 3600


def page_routes(helpline: Helpline, clock: CaseClock, proxies: int = 0) -> Blueprint:
    """`/`, `/plain`, `/widget.js` and the style sheets."""
    pages = Blueprint("pages", __name__, template_folder=str(FOLDER))

    @pages.get("/")
    def index() -> str:
        return render_template("index.html", words=PAGE_WORDS[_language()])

    @pages.get("/<any('widget.js', 'widget.css', 'page.css', 'icon.svg'):name>")
    def asset(name: str) -> Response:
        return _asset(name)

    @pages.get("/plain")
    def plain() -> str:
        return _plain_page(_so_far(helpline))

    @pages.post("/plain")
    def write_plain() -> Answered:
        try:
            what: Literal["case", "message"] = "case" if _key() is None else "message"
            helpline.admit(what, network_address(proxies), clock.now())
            key = _write(helpline, clock)
        except (RequestError, ValidationError) as refused:
            return make_response(_plain_page(_so_far(helpline), problem=_told(refused)), 422)
        response = redirect(f"/plain?lang={_language()}#write", 303)
        response.set_cookie(
            COOKIE,
            key,
            max_age=A_MONTH_S,
            path="/plain",
            httponly=True,
            samesite="Lax",
            secure=request.is_secure,
        )
        return response

    _code_route(pages, helpline, clock)
    return pages


def _code_route(pages: Blueprint, helpline: Helpline, clock: CaseClock) -> None:
    @pages.post("/plain/code")
    def plain_code() -> Answered:
        key = _key()
        if key is None or _so_far(helpline) is None:
            return redirect(f"/plain?lang={_language()}", 303)
        try:
            shown = code_to_phone(helpline.house, key[0], clock.now())
        except RequestError as refused:
            return make_response(_plain_page(_so_far(helpline), problem=_told(refused)), 422)
        return make_response(_plain_page(_so_far(helpline), shown=shown))


def _asset(name: str) -> Response:
    if not request.accept_encodings.quality("gzip"):
        return send_from_directory(FOLDER, name, max_age=AN_HOUR_S)
    response = Response(_packed(name), content_type=mimetypes.guess_type(name)[0])
    response.headers["Content-Encoding"] = "gzip"
    response.headers["Vary"] = "Accept-Encoding"
    response.cache_control.max_age = AN_HOUR_S
    response.add_etag()
    response.make_conditional(request)
    return response


@cache
def _packed(name: str) -> bytes:
    """A third of the bytes, for a phone with one bar."""
    return gzip.compress((FOLDER / name).read_bytes(), mtime=0)


def _language() -> Language:
    asked = request.values.get("lang")
    return language_of(asked or request.accept_languages.best_match(("en", "es")))


def _key() -> tuple[str, str] | None:
    """The case and its token, from the cookie; None where there is none."""
    case, _, token = request.cookies.get(COOKIE, "").partition(".")
    return (case, token) if case and token else None


@dataclass(frozen=True, slots=True)
class SoFar:
    """A case as the plain page shows it."""

    messages: tuple[MessageView, ...]
    state: CaseState


def _so_far(helpline: Helpline) -> SoFar | None:
    key = _key()
    if key is None:
        return None
    try:
        let_in(helpline, *key)
    except RequestError:
        return None  # a cookie of a case that is no longer there: a new one begins
    return SoFar(helpline.messages_after(key[0]), slip_of(helpline.house, key[0]).state)


def _write(helpline: Helpline, clock: CaseClock) -> str:
    text = request.form.get("choice") or request.form.get("text", "").strip()
    client_id = request.form.get("client_id", "")
    key = _key() if _so_far(helpline) is not None else None
    if key is None:
        case = CaseIn(text=text, language=_language(), client_id=client_id)
        opening = helpline.open_case(
            client_id=case.client_id, at=clock.now(), text=case.text, language=case.language, channel="web"
        )
        return f"{opening.case}.{opening.token}"
    message = MessageIn(text=text, client_id=client_id)
    helpline.receive(key[0], None, message.text, message.client_id, clock.now())
    return ".".join(key)


def _plain_page(so_far: SoFar | None, problem: str | None = None, shown: CodeShown | None = None) -> str:
    messages = so_far.messages if so_far is not None else ()
    return render_template(
        "plain.html",
        words=PAGE_WORDS[_language()],
        messages=messages,
        state=so_far.state if so_far is not None else None,
        choices=messages[-1].options if messages else (),
        problem=problem,
        shown=shown,
        draft=request.form.get("text", "") if problem else "",
        client_id=secrets.token_hex(18),
    )


def _told(refused: RequestError | ValidationError) -> str:
    if isinstance(refused, RequestError):
        return str(refused)
    empty = refused.errors()[0]["type"] != "string_too_long"
    told = {
        "en": "Write a few words first." if empty else "That is too long for one message. Send it in parts.",
        "es": "Escriba primero unas palabras." if empty else "Es demasiado largo. Mándelo en partes.",
    }
    return told[_language()]
