"""The border of the JSON API: who asks, and in what form."""

import hmac
from typing import Final, TypeVar

from flask import Response, request
from pydantic import BaseModel

from assistant.helpline import LARGEST_BYTES, Helpline
from channels.web.models import PhotoMessageIn
from channels.web.problems import (
    FORBIDDEN,
    INVALID,
    NOT_JSON,
    NOT_SIGNED_IN,
    TOO_LARGE,
    UNREADABLE,
    BorderError,
)
from kb.errors import RequestError

LARGEST_BODY: Final = 256 * 1024
"""Bytes; a text of 10,000 characters, each escaped as a pair of surrogates, is under half of it."""
LARGEST_FORM: Final = LARGEST_BYTES + LARGEST_BODY
"""Bytes of a message with photos, words and boundaries included."""
LOOPBACK: Final = ("127.0.0.1", "::1", None)
Body = TypeVar("Body", bound=BaseModel)


def body_as(model: type[Body]) -> Body:
    """The request's body as `model`.

    Fails with `BorderError` on another content type, a body that is too large or not UTF-8; with pydantic's
    `ValidationError` on anything that the model refuses.
    """
    if request.mimetype != "application/json":
        raise BorderError(
            NOT_JSON, "Send the header `Content-Type: application/json` and a JSON object as the body."
        )
    if (request.content_length or 0) > LARGEST_BODY:
        raise BorderError(
            TOO_LARGE, f"Send at most {LARGEST_BODY // 1024} KiB; a text has at most 10,000 characters."
        )
    raw = request.get_data()
    try:
        raw.decode("utf-8")
    except UnicodeDecodeError as error:
        raise BorderError(
            UNREADABLE, f"Byte {error.start} is not UTF-8. Send one JSON object in UTF-8."
        ) from error
    return model.model_validate_json(raw)


def photo_message() -> tuple[PhotoMessageIn, tuple[bytes, ...]]:
    """The request's form as a message with photos. Fails with `BorderError`, and as `body_as` does."""
    request.max_content_length = LARGEST_FORM
    if (request.content_length or 0) > LARGEST_FORM:
        raise BorderError(TOO_LARGE, f"Send at most {LARGEST_FORM // 1024**2} MiB; shrink the photo first.")
    message = PhotoMessageIn.model_validate(request.form.to_dict())
    photos = tuple(part.read() for part in request.files.getlist("photo"))
    for part in (one for parts in request.files.listvalues() for one in parts):
        part.close()  # a large one lies in a file of its own
    if not photos:
        raise BorderError(INVALID, "Send the picture as a file in the field `photo`, or the words as JSON.")
    return message, photos


def network_address(proxies: int) -> str | None:
    """Where the request comes from, as the nearest of our `proxies` saw it; None where a proxy that we do not know speaks."""
    if proxies:
        told = [part.strip() for part in request.headers.get("X-Forwarded-For", "").split(",")]
        return told[-proxies] if len(told) >= proxies and told[-proxies] else None
    near = request.remote_addr
    return None if near in LOOPBACK else near


def bearer() -> str:
    """The token that came with the request.

    Fails with `BorderError` where none came.
    """
    scheme, _, token = request.headers.get("Authorization", "").partition(" ")
    if scheme.lower() != "bearer" or not token.strip():
        raise BorderError(NOT_SIGNED_IN, "Send the header `Authorization: Bearer TOKEN`.")
    return token.strip()


def let_in(helpline: Helpline, case_id: str, token: str) -> None:
    """Let only the case's own customer on.

    Fails with `RequestError`: `not_found` where there is no such case, `forbidden` where the token is another's.
    """
    check_exists(helpline, case_id)
    helpline.authorise(case_id, token)


def check_exists(helpline: Helpline, case_id: str) -> None:
    """Fails with `RequestError` where there is no such case."""
    if not (
        case_id.isascii() and case_id.isalnum()
    ):  # an id of ours is; some databases choke on what else may come
        raise RequestError("no such case", mend="send the id that opening the case gave", kind="not_found")
    helpline.person_of(case_id)


def need_token(right: str | None, mend: str) -> None:
    """Let only the holder of one token on.

    Fails with `BorderError` where it is missing, wrong, or where none was ever set.
    """
    given = bearer()
    if right is None or not hmac.compare_digest(given.encode(), right.encode()):
        raise BorderError(FORBIDDEN, mend)


def as_json(answer: BaseModel, status: int = 200) -> Response:
    """A model as the response."""
    return Response(
        answer.model_dump_json(by_alias=True, exclude_none=True), status, content_type="application/json"
    )


def conditional(response: Response) -> Response:
    """With its ETag; empty, as 304, where the caller has it already."""
    response.add_etag()
    response.make_conditional(request)
    return response
