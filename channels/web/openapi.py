"""The API in its own words: OpenAPI 3.1, with the schemas of the very models that check the requests."""

from collections.abc import Mapping
from typing import Any, Final

from pydantic import BaseModel
from pydantic.json_schema import models_json_schema

from channels.web.carrying import CodeIn, CodeOut
from channels.web.models import (
    CaseIn,
    CaseOut,
    ClockIn,
    ClockOut,
    MessageIn,
    MessagesOut,
    PhotoMessageIn,
    ProblemOut,
    ReasoningOut,
    SumsOut,
)
from channels.web.problems import (
    FAULT,
    FORBIDDEN,
    INVALID,
    KINDS,
    MEDIA_TYPE,
    NOT_FOUND,
    NOT_JSON,
    NOT_SIGNED_IN,
    TOO_LARGE,
    TOO_MANY,
    UNREADABLE,
    ProblemKind,
)

Json = dict[str, Any]  # Any: JSON, whose shape is the OpenAPI Specification's
IN_BODY: Final = (UNREADABLE, TOO_LARGE, NOT_JSON, INVALID)
INTRODUCTION: Final = (
    "A customer's page opens a case and writes to it; the answer carries what the assistant says. What comes later "
    "(a promised follow-up, a colleague) is polled for. Every POST names a client_id: send it again when no answer "
    "came, and nothing happens twice."
)
_CASE: Final = "c7Yq2m4kTn"
_EXAMPLE: Final[Json] = {
    "messages": [
        {
            "id": 9,
            "from": "assistant",
            "text": "Look at the filter. Clean, dusty, or packed with dust?",
            "options": [
                {"value": "clean", "text": "clean"},
                {"value": "clogged", "text": "packed with dust"},
            ],
            "at": "2026-07-14T13:32:00Z",
        }
    ],
    "state": "asking",
}


def document() -> Json:
    """The whole document."""
    return {
        "openapi": "3.1.0",
        "info": {"title": "Cold room helpline", "version": "1.0.0", "description": INTRODUCTION},
        "servers": [{"url": "/"}],
        "paths": {
            "/api/cases": {"post": _open()},
            "/api/cases/{case}/messages": {"parameters": [_case()], "post": _write(), "get": _look()},
            "/api/cases/{case}/code": {"parameters": [_case()], "post": _code()},
            "/api/cases/by-code": {"post": _by_code()},
            "/api/cases/{case}/reasoning": {"parameters": [_case()], "get": _reasoning()},
            "/api/cases/{case}/sums": {"parameters": [_case()], "get": _sums()},
            "/api/openapi.json": {"get": _plain("document", "This document", "application/json")},
            "/demo/clock": {"post": _clock()},
            "/demo/texts": {"get": _plain("texts", "What a telephone would have got", "application/json")},
            "/health/live": {"get": _plain("alive", "The process runs", "application/json")},
            "/health/ready": {"get": _ready()},
            "/metrics": {"get": _metrics()},
        },
        "components": {
            "schemas": _schemas(),
            "responses": {kind.name: _problem(kind) for kind in KINDS},
            "securitySchemes": {
                "caseToken": _scheme("The token that came with the case"),
                "staffToken": _scheme("The staff token of a setting; the demo prints one"),
                "metricsToken": _scheme("The token of a setting; not needed on loopback"),
            },
        },
    }


def _open() -> Json:
    return {
        "operationId": "openCase",
        "summary": "Open a case, with or without a first message",
        "description": "The same client_id with the same content gives the same case and token.",
        "security": [],
        "requestBody": _body(
            CaseIn, {"text": "my cooler is at 52, set to 38", "client_id": "b5d4c1f2a9e84c0f8d3b7a6e"}
        ),
        "responses": {
            "201": _answer(
                "The case",
                CaseOut,
                {"case": _CASE, "token": "3vL0hYh3yZ0k9dGQb1rXfA", **_EXAMPLE},
                headers={"Location": {"schema": {"type": "string"}, "description": "Where its messages are"}},
            ),
            **_refused(*IN_BODY, TOO_MANY, FAULT),
        },
    }


def _write() -> Json:
    return {
        "operationId": "writeMessage",
        "summary": "Write a message; the answer is what the assistant says to it",
        "security": [{"caseToken": []}],
        "description": "As JSON, or as a form with photos in the field `photo`: JPEG, PNG, WebP or GIF, 5 MiB in all. "
        "People look at photos; the assistant does not.",
        "requestBody": _with_photos(
            _body(MessageIn, {"text": "packed with dust", "client_id": "0c9be2f87a6d4e0db1a27f5c"})
        ),
        "responses": {
            "200": _answer("What is said to it", MessagesOut, _EXAMPLE),
            **_refused(NOT_SIGNED_IN, FORBIDDEN, NOT_FOUND, *IN_BODY, TOO_MANY, FAULT),
        },
    }


def _code() -> Json:
    return {
        "operationId": "takeAlong",
        "summary": "A code to text from a phone, which takes the case along to it",
        "description": "Good once, for ten minutes. Nothing is ever sent to a number that was merely typed.",
        "security": [{"caseToken": []}],
        "responses": {
            "200": _answer(
                "The code",
                CodeOut,
                {"code": "482 193", "number": "+15125550199", "until": "2026-07-14T13:42:00Z"},
            ),
            **_refused(NOT_SIGNED_IN, FORBIDDEN, NOT_FOUND, TOO_MANY, FAULT),
        },
    }


def _by_code() -> Json:
    return {
        "operationId": "openByCode",
        "summary": "Go on here with a case from a phone, by the code that the phone was sent",
        "security": [],
        "requestBody": _body(CodeIn, {"code": "4821 9372"}),
        "responses": {
            "200": _answer(
                "The case", CaseOut, {"case": _CASE, "token": "3vL0hYh3yZ0k9dGQb1rXfA", **_EXAMPLE}
            ),
            **_refused(NOT_FOUND, *IN_BODY, TOO_MANY, FAULT),
        },
    }


def _look() -> Json:
    after = {
        "name": "after",
        "in": "query",
        "description": "The id of the last message that you have; 0 for all",
        "schema": {"type": "integer", "default": 0, "minimum": 0},
    }
    known = {
        "name": "If-None-Match",
        "in": "header",
        "schema": {"type": "string"},
        "description": "The ETag you have",
    }
    tag = {"ETag": {"schema": {"type": "string"}, "description": "Send it back as If-None-Match"}}
    return {
        "operationId": "messagesAfter",
        "summary": "What came since, the customer's own messages included",
        "security": [{"caseToken": []}],
        "parameters": [after, known],
        "responses": {
            "200": _answer("What came since", MessagesOut, _EXAMPLE, headers=tag),
            "304": {"description": "Nothing since"},
            **_refused(NOT_SIGNED_IN, FORBIDDEN, NOT_FOUND, INVALID, FAULT),
        },
    }


def _reasoning() -> Json:
    return {
        "operationId": "reasoning",
        "summary": "What is believed, what each next question is worth, for staff",
        "security": [{"staffToken": []}],
        "responses": {
            "200": {
                "description": "Beliefs and gains",
                "content": {"application/json": {"schema": _ref(ReasoningOut)}},
            },
            **_refused(NOT_SIGNED_IN, FORBIDDEN, NOT_FOUND, FAULT),
        },
    }


def _sums() -> Json:
    return {
        "operationId": "sums",
        "summary": "The sums of a case on their sheets, with pictures, for staff",
        "security": [{"staffToken": []}],
        "responses": {
            "200": {
                "description": "Inputs, what was taken for granted, formula, results, source, picture",
                "content": {"application/json": {"schema": _ref(SumsOut)}},
            },
            **_refused(NOT_SIGNED_IN, FORBIDDEN, NOT_FOUND, FAULT),
        },
    }


def _clock() -> Json:
    return {
        "operationId": "moveClock",
        "summary": "Move the case clock; in the demo only",
        "description": "What has come due is sent before it answers.",
        "security": [],
        "requestBody": _body(ClockIn, {"forward_minutes": 240}),
        "responses": {
            "200": _answer("The clock", ClockOut, {"now": "2026-07-14T17:32:00Z"}),
            **_refused(NOT_FOUND, *IN_BODY, FAULT),
        },
    }


def _ready() -> Json:
    ready = _plain("ready", "It can serve", "application/json")
    ready["responses"]["503"] = {"description": "It cannot serve; the reason stands in its log"}
    return ready


def _metrics() -> Json:
    metrics = _plain("metrics", "Counts, in the text form of OpenMetrics", "application/openmetrics-text")
    metrics["security"] = [{}, {"metricsToken": []}]
    metrics["responses"] |= _refused(NOT_SIGNED_IN, FORBIDDEN)
    return metrics


def _plain(name: str, summary: str, media_type: str) -> Json:
    schema = {"type": "object"} if media_type == "application/json" else {"type": "string"}
    response = {"description": summary, "content": {media_type: {"schema": schema}}}
    return {"operationId": name, "summary": summary, "security": [], "responses": {"200": response}}


def _case() -> Json:
    return {
        "name": "case", "in": "path", "required": True, "schema": {"type": "string"}, "example": _CASE,
        "description": "The id that opening gave",
    }  # fmt: skip


def _body(model: type[BaseModel], example: Json) -> Json:
    return {"required": True, "content": {"application/json": {"schema": _ref(model), "example": example}}}


def _with_photos(body: Json) -> Json:
    """The same body, or a form with files in it."""
    photo = {"type": "array", "items": {"type": "string", "contentMediaType": "image/*"}, "minItems": 1}
    form = PhotoMessageIn.model_json_schema()
    form["properties"]["photo"] = photo
    form["required"] = [*form["required"], "photo"]
    body["content"]["multipart/form-data"] = {"schema": form}
    return body


def _answer(
    means: str, model: type[BaseModel], example: Json, *, headers: Mapping[str, Json] | None = None
) -> Json:
    answer: Json = {
        "description": means,
        "content": {"application/json": {"schema": _ref(model), "example": example}},
    }
    return answer | ({"headers": dict(headers)} if headers else {})


def _refused(*kinds: ProblemKind) -> Json:
    return {str(kind.status): {"$ref": f"#/components/responses/{kind.name}"} for kind in kinds}


def _problem(kind: ProblemKind) -> Json:
    example = {
        "type": f"/api/openapi.json#/components/responses/{kind.name}",
        "title": kind.title,
        "status": kind.status,
        "detail": "What is wrong. How to mend it.",
    }
    told = (
        f"{kind.title}; also where a client_id comes again with other content"
        if kind is INVALID
        else kind.title
    )
    response: Json = {
        "description": told,
        "content": {MEDIA_TYPE: {"schema": _ref(ProblemOut), "example": example}},
    }
    if kind is NOT_SIGNED_IN:
        response["headers"] = {"WWW-Authenticate": {"schema": {"type": "string"}}}
    return response


def _scheme(means: str) -> Json:
    return {"type": "http", "scheme": "bearer", "description": means}


def _ref(model: type[BaseModel]) -> Json:
    return {"$ref": f"#/components/schemas/{model.__name__}"}


def _schemas() -> Json:
    incoming = [(model, "validation") for model in (CaseIn, MessageIn, ClockIn, CodeIn)]
    outgoing = [
        (model, "serialization")
        for model in (CaseOut, MessagesOut, ReasoningOut, SumsOut, ClockOut, ProblemOut, CodeOut)
    ]
    _, schema = models_json_schema(
        [*incoming, *outgoing],  # type: ignore[list-item]  # the modes are the two literals that pydantic names
        ref_template="#/components/schemas/{model}",
    )
    return dict(schema["$defs"])
