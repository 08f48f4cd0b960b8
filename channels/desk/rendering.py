"""Pages of the desk made from templates, in the colleague's language; and refusals in words."""

import hashlib
import re
import secrets
from typing import Final

from flask import Blueprint, Response, g, make_response, render_template, request
from werkzeug.exceptions import HTTPException
from werkzeug.wrappers import Response as Answered

from channels.desk.guard import mark
from channels.desk.words import SECTIONS, hour_words, span_words, words_of
from kb.errors import RequestError
from kb.ids import Language

LANGUAGE_COOKIE: Final = "cold_room_desk_lang"
A_YEAR_S: Final = 365 * 24 * 3600
STATUS: Final = {"not_found": 404, "conflict": 409, "forbidden": 403}


def speaks_to_people(desk: Blueprint) -> None:
    """Refusals in words, and the language that a colleague chose."""
    desk.after_request(_remember_language)
    desk.register_error_handler(RequestError, _refused)
    desk.register_error_handler(HTTPException, _turned_away)


def page_language() -> Language:
    """The language in which the colleague reads."""
    asked = request.args.get("lang") or request.cookies.get(LANGUAGE_COOKIE)
    return "es" if asked == "es" else "en"


def render(template: str, *, in_language: Language | None = None, **values: object) -> str:
    """A page from its template."""
    language = in_language or page_language()
    sections = {name: words_of(name, language) for name in SECTIONS}
    return render_template(
        f"desk/{template}",
        **sections,
        lang=language,
        me=g.get("colleague"),
        mark=mark(),
        once=secrets.token_hex(16),
        span=lambda seconds: span_words(seconds, language),
        hour=hour_words,
        **values,
    )


def conditional(page: str) -> Response:
    """The page with an ETag of all but its marks of this very answer."""
    bare = re.sub(r'name="client_id" value="[0-9a-z]+"', "", page)
    response = make_response(page)
    response.set_etag(hashlib.sha256(bare.encode()).hexdigest()[:32])
    response.make_conditional(request)
    return response


def in_words(refused: RequestError) -> str:
    """A refusal as a sentence."""
    what = refused.what[:1].upper() + refused.what[1:]
    return f"{what}: {refused.mend}."


def _refused(refused: RequestError) -> Answered:
    return make_response(render("problem.html", problem=in_words(refused)), STATUS.get(refused.kind, 422))


def _turned_away(error: HTTPException) -> Answered:
    return make_response(render("problem.html", problem=error.description or error.name), error.code or 500)


def _remember_language(response: Response) -> Response:
    if request.args.get("lang") in ("en", "es"):
        response.set_cookie(
            LANGUAGE_COOKIE, page_language(), path="/desk", max_age=A_YEAR_S, samesite="Strict", httponly=True,
            secure=request.is_secure,
        )  # fmt: skip
    return response
