"""The app: use cases in, routes out; nothing of ours is global."""

from collections.abc import Callable
from dataclasses import dataclass

from flask import Flask

from assistant.helpline import CaseClock, Door, Helpline, figures_of
from channels.desk import desk_routes, sheet_routes
from channels.sms import Line, Pocket, sms_routes
from channels.web.api import public_api
from channels.web.border import LARGEST_BODY
from channels.web.demo import DemoClock, demo_routes
from channels.web.figures import add_figures
from channels.web.headers import add_headers
from channels.web.pages import page_routes
from channels.web.problems import handle_problems


@dataclass(frozen=True, slots=True, kw_only=True)
class WebSettings:
    """What the web needs to know; a token that is None lets nobody in."""

    staff_token: str | None = None
    metrics_token: str | None = None
    proxies: int = 0
    """How many proxies of ours stand before the server: what they say of where a request came from is believed."""
    allowed_origins: tuple[str, ...] = ()
    """Sites that may show the element on their own pages, as `https://example.org`."""


def create_app(
    helpline: Helpline,
    clock: CaseClock,
    settings: WebSettings | None = None,
    *,
    line: Line | None = None,
    door: Door | None = None,
    demo_clock: DemoClock | None = None,
    pocket: Pocket | None = None,
    ready: Callable[[], None] = lambda: None,
) -> Flask:
    """The web app over a helpline; with `line` it answers texts by telephone, with `door` it has the desk's pages, and with `demo_clock` it can be moved through time, as the demo is.

    `ready` raises where the helpline could not serve: it answers `/health/ready`.
    """
    settings = settings or WebSettings()
    app = Flask(__name__, static_folder=None, template_folder=None)
    app.config["MAX_CONTENT_LENGTH"] = LARGEST_BODY
    app.json.sort_keys = False  # type: ignore[attr-defined]  # the default provider has it; the order is the document's
    handle_problems(app)
    add_headers(app, settings.allowed_origins)
    add_figures(app, ready, settings.metrics_token, lambda: figures_of(helpline.house, clock.now()))
    app.register_blueprint(public_api(helpline, clock, settings.staff_token, settings.proxies))
    app.register_blueprint(page_routes(helpline, clock, settings.proxies))
    if door is not None:
        app.register_blueprint(desk_routes(helpline, clock, door))
        app.register_blueprint(sheet_routes(helpline, clock))
    if line is not None:
        app.register_blueprint(sms_routes(helpline, clock, line))
    if demo_clock is not None:
        app.register_blueprint(demo_routes(demo_clock, pocket or Pocket()))
    return app
