"""What only the demo has: a case clock that can be moved, and the texts that a telephone would have got."""

from datetime import datetime, timedelta
from typing import Protocol

from flask import Blueprint, Response, jsonify, request

from channels.sms import Pocket
from channels.web.border import as_json, body_as
from channels.web.models import ClockIn, ClockOut


class DemoClock(Protocol):
    """A case clock that can be moved forward; what has come due is sent before `forward` returns."""

    def forward(self, by: timedelta) -> datetime:
        """The hour that it is then."""


def demo_routes(clock: DemoClock, pocket: Pocket) -> Blueprint:
    """`/demo/clock` and `/demo/texts`."""
    demo = Blueprint("demo", __name__, url_prefix="/demo")

    @demo.post("/clock")
    def forward() -> Response:
        by = body_as(ClockIn)
        now = clock.forward(timedelta(minutes=by.forward_minutes))
        return as_json(ClockOut(now=now))

    @demo.get("/texts")
    def texts() -> Response:
        after = request.args.get("after", "0")
        found = pocket.texts(request.args.get("to", ""), int(after) if after.isdecimal() else 0)
        return jsonify({"texts": [{"id": place, "text": text} for place, text in found]})

    return demo
