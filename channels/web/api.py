"""The public API: open a case, write, read what came since, see the reasoning."""

from typing import Annotated, Final

from flask import Blueprint, Response, jsonify, request
from pydantic import Field, TypeAdapter

from assistant.helpline import CaseClock, Helpline, slip_of
from channels.web.border import (
    as_json,
    bearer,
    body_as,
    check_exists,
    conditional,
    let_in,
    need_token,
    network_address,
    photo_message,
)
from channels.web.carrying import add_carrying
from channels.web.models import CaseIn, CaseOut, MessageIn, MessagesOut, PhotoMessageIn
from channels.web.openapi import document

_AFTER: Final[TypeAdapter[int]] = TypeAdapter(Annotated[int, Field(ge=0, le=2**53)])


def public_api(helpline: Helpline, clock: CaseClock, staff_token: str | None, proxies: int = 0) -> Blueprint:
    """The routes under `/api`."""
    api = Blueprint("api", __name__, url_prefix="/api")

    @api.post("/cases")
    def open_case() -> Response:
        helpline.admit("case", network_address(proxies), clock.now())
        case = body_as(CaseIn)
        opening = helpline.open_case(
            client_id=case.client_id, at=clock.now(), text=case.text, language=case.language, zone=case.zone
        )
        response = as_json(CaseOut.opened(opening), 201)
        response.headers["Location"] = f"/api/cases/{opening.case}/messages"
        return response

    @api.post("/cases/<case_id>/messages")
    def receive(case_id: str) -> Response:
        let_in(helpline, case_id, bearer())
        helpline.admit("message", network_address(proxies), clock.now())
        message, photos = _written()
        answer = helpline.receive(case_id, None, message.text, message.client_id, clock.now(), photos=photos)
        return as_json(MessagesOut.of(answer))

    @api.get("/cases/<case_id>/messages")
    def messages_after(case_id: str) -> Response:
        let_in(helpline, case_id, bearer())
        after = _AFTER.validate_python(request.args.get("after", "0"))
        came = MessagesOut.since(helpline.messages_after(case_id, after), slip_of(helpline.house, case_id))
        return conditional(as_json(came))

    add_carrying(api, helpline, clock, proxies)
    _staff_routes(api, helpline, clock, staff_token)

    @api.get("/openapi.json")
    def openapi() -> Response:
        return jsonify(document())

    return api


def _written() -> tuple[MessageIn | PhotoMessageIn, tuple[bytes, ...]]:
    """The message of a request, as JSON or as a form with photos."""
    if request.mimetype == "multipart/form-data":
        return photo_message()
    return body_as(MessageIn), ()


def _staff_routes(api: Blueprint, helpline: Helpline, clock: CaseClock, staff_token: str | None) -> None:
    """What only staff may see: the reasoning of a case, and its sums."""

    @api.get("/cases/<case_id>/reasoning")
    def reasoning(case_id: str) -> Response:
        need_token(staff_token, "Send the staff token; `helpline demo` prints one.")
        check_exists(helpline, case_id)
        return jsonify(helpline.reasoning(case_id, clock.now()))

    @api.get("/cases/<case_id>/sums")
    def sums(case_id: str) -> Response:
        need_token(staff_token, "Send the staff token; `helpline demo` prints one.")
        check_exists(helpline, case_id)
        return jsonify(helpline.sums(case_id, clock.now()))
