"""What goes wrong, as problem details: type, title, status, and a detail that says how to mend it.

The form is RFC 9457; `type` points into our own OpenAPI document, where the same problem is described.
"""

import json
import logging
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from flask import Flask, Response, request
from pydantic import ValidationError
from pydantic_core import ErrorDetails
from werkzeug.exceptions import HTTPException

from kb.errors import HelplineError, RequestError

MEDIA_TYPE: Final = "application/problem+json"
log = logging.getLogger("helpline.web")


@dataclass(frozen=True, slots=True)
class ProblemKind:
    """A sort of problem: its name in the OpenAPI document, its status, its title."""

    name: str
    status: int
    title: str


UNREADABLE: Final = ProblemKind("Unreadable", 400, "The body is not JSON")
NOT_SIGNED_IN: Final = ProblemKind("TokenMissing", 401, "The token is missing")
FORBIDDEN: Final = ProblemKind("Forbidden", 403, "The token does not fit")
NOT_FOUND: Final = ProblemKind("NotFound", 404, "There is no such thing")
WRONG_METHOD: Final = ProblemKind("WrongMethod", 405, "This cannot be done here")
CONFLICT: Final = ProblemKind("OtherContent", 422, "The same client_id stands for something else")
TOO_LARGE: Final = ProblemKind("TooLarge", 413, "The body is too large")
NOT_JSON: Final = ProblemKind("WrongContentType", 415, "The content type is not application/json")
TOO_MANY: Final = ProblemKind("TooMany", 429, "That was too much at once")
INVALID: Final = ProblemKind("Invalid", 422, "The request cannot be taken as it is")
FAULT: Final = ProblemKind("Fault", 500, "Something failed on our side")
KINDS: Final = (
    UNREADABLE, NOT_SIGNED_IN, FORBIDDEN, NOT_FOUND, WRONG_METHOD, CONFLICT, TOO_LARGE, NOT_JSON, INVALID,
    TOO_MANY, FAULT,
)  # fmt: skip
BY_STATUS: Final = {kind.status: kind for kind in KINDS if kind is not CONFLICT}
OF_REFUSAL: Final = {
    "not_found": NOT_FOUND,
    "forbidden": FORBIDDEN,
    "conflict": CONFLICT,
    "too_long": INVALID,
    "too_large": TOO_LARGE,
    "too_many": TOO_MANY,
    "invalid": INVALID,
}


class BorderError(Exception):
    """Refused at the border, before any use case saw it."""

    def __init__(self, kind: ProblemKind, detail: str) -> None:
        super().__init__(detail)
        self.kind = kind
        self.detail = detail


def problem(kind: ProblemKind, detail: str, errors: Sequence[dict[str, str]] = ()) -> Response:
    """One problem as a response."""
    body: dict[str, object] = {
        "type": f"/api/openapi.json#/components/responses/{kind.name}",
        "title": kind.title,
        "status": kind.status,
        "detail": detail,
    }
    if errors:
        body["errors"] = list(errors)
    response = Response(json.dumps(body, ensure_ascii=False), kind.status, content_type=MEDIA_TYPE)
    if kind is NOT_SIGNED_IN:
        response.headers["WWW-Authenticate"] = "Bearer"
    return response


def handle_problems(app: Flask) -> None:
    """Every error of the app leaves it as a problem, and none unseen."""
    app.register_error_handler(BorderError, lambda error: problem(error.kind, error.detail))
    app.register_error_handler(ValidationError, _invalid)
    app.register_error_handler(RequestError, _refused)
    app.register_error_handler(HTTPException, _http)
    app.register_error_handler(Exception, _fault)


def _refused(error: RequestError) -> Response:
    response = problem(OF_REFUSAL[error.kind], _told(error))
    if error.again_in_s is not None:
        response.headers["Retry-After"] = str(error.again_in_s)
    return response


def _told(error: HelplineError) -> str:
    return f"{_sentence(error.what)} {_sentence(error.mend)}"


def _sentence(words: str) -> str:
    begun = words[:1].upper() + words[1:]
    return begun if begun.endswith((".", "!", "?")) else begun + "."


def _invalid(error: ValidationError) -> Response:
    found = error.errors(include_url=False, include_context=False, include_input=False)
    if any(one["type"] == "json_invalid" for one in found):
        return problem(UNREADABLE, f"{_sentence(found[0]['msg'])} Send one JSON object in UTF-8.")
    errors = [{"pointer": _pointer(one), "detail": one["msg"]} for one in found]
    told = "; ".join(f"{one['pointer'] or 'the body'}: {one['detail']}" for one in errors)
    return problem(INVALID, f"{_sentence(told)} The fields are described at /api/openapi.json.", errors)


def _pointer(error: ErrorDetails) -> str:
    return "".join(f"/{str(step).replace('~', '~0').replace('/', '~1')}" for step in error["loc"])


def _http(error: HTTPException) -> Response:
    if error.code is not None and error.code < 400:  # noqa: PLR2004 - a redirect is no problem
        return Response(error.get_response().get_data(), error.code, dict(error.get_response().headers))
    kind = BY_STATUS.get(error.code or 500) or ProblemKind("Invalid", error.code or 500, error.name)
    made = problem(kind, _MEND.get(kind.status, f"{error.description} See /api/openapi.json."))
    for name, value in error.get_headers():
        if name not in ("Content-Type", "Content-Length"):
            made.headers[name] = value
    return made


def _fault(error: Exception) -> Response:
    # the cause goes to the log with its place; the caller learns only that what was accepted is kept
    log.error("fault at %s %s", request.method, request.path, exc_info=error)
    return problem(
        FAULT, "What was accepted before is kept. Send this again with the same client_id in a minute."
    )


_MEND: Final = {
    404: "Nothing is at this address. The addresses stand in /api/openapi.json.",
    405: "Use one of the methods in the Allow header.",
    413: "Send at most 256 KiB; a text has at most 10,000 characters.",
}
