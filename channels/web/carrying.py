"""A case taken along: from this page to a phone, by a code to text; from a phone to this page, by a code to type."""

from datetime import datetime
from typing import Annotated

from flask import Blueprint, Response
from pydantic import BaseModel, Field

from assistant.helpline import CaseClock, Helpline, code_to_phone, open_by_code
from channels.web.border import as_json, bearer, body_as, let_in, network_address
from channels.web.models import CaseOut, In


class CodeOut(BaseModel):
    """A code to be texted to a number: good once, until then."""

    code: str
    number: str
    until: datetime


class CodeIn(In):
    """A code that a phone was sent."""

    code: Annotated[str, Field(pattern=r"^[0-9 ]{1,20}$", examples=["4821 9372"])]


def add_carrying(api: Blueprint, helpline: Helpline, clock: CaseClock, proxies: int) -> None:
    """The two routes."""

    @api.post("/cases/<case_id>/code")
    def make_code(case_id: str) -> Response:
        let_in(helpline, case_id, bearer())
        shown = code_to_phone(helpline.house, case_id, clock.now())
        return as_json(CodeOut(code=shown.code, number=shown.number, until=shown.until))

    @api.post("/cases/by-code")
    def by_code() -> Response:
        code = body_as(CodeIn).code
        opening = open_by_code(helpline.house, code, network_address(proxies), clock.now())
        return as_json(CaseOut.opened(opening))
