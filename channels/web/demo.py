"""What only the demo has: a case clock that can be moved."""

from datetime import datetime, timedelta
from typing import Protocol

from flask import Blueprint, Response

from channels.web.border import as_json, body_as
from channels.web.models import ClockIn, ClockOut


class DemoClock(Protocol):
    """A case clock that can be moved forward; what has come due is sent before `forward` returns."""

    def forward(self, by: timedelta) -> datetime:
        """The hour that it is then."""


def demo_routes(clock: DemoClock) -> Blueprint:
    """`/demo/clock`."""
    demo = Blueprint("demo", __name__, url_prefix="/demo")

    @demo.post("/clock")
    def forward() -> Response:
        by = body_as(ClockIn)
        now = clock.forward(timedelta(minutes=by.forward_minutes))
        return as_json(ClockOut(now=now))

    return demo
