"""The page and its two calls. Only this machine is answered, and only under a name of its own."""

from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Annotated, Final

from flask import Flask, Response, jsonify, request, send_from_directory
from pydantic import BaseModel, ConfigDict, Field, ValidationError

from channels.author.playing import played
from channels.author.working_copy import WorkingCopy
from channels.web.headers import add_headers
from kb.ids import Language

PAGES: Final = Path(__file__).parent / "pages"
OUR_NAMES: Final = frozenset({"localhost", "127.0.0.1", "[::1]"})
MOST_MESSAGES: Final = 40
LONGEST: Final = 2_000
LARGEST_BODY: Final = 200_000


class Typed(BaseModel):
    """What the author typed, message by message."""

    model_config = ConfigDict(extra="forbid")

    messages: tuple[Annotated[str, Field(min_length=1, max_length=LONGEST)], ...] = Field(
        max_length=MOST_MESSAGES
    )
    language: Language | None = None


def create_try_app(copy: WorkingCopy, now: Callable[[], datetime]) -> Flask:
    """The app over a working copy."""
    app = Flask(__name__, static_folder=None, template_folder=None)
    app.config["MAX_CONTENT_LENGTH"] = LARGEST_BODY
    app.json.sort_keys = False  # type: ignore[attr-defined]  # the default provider has it
    add_headers(app, ())

    @app.before_request
    def only_here() -> Response | None:
        # a page elsewhere may point a name of its own at this machine: under that name nobody is answered
        if request.host.rsplit(":", 1)[0] in OUR_NAMES or request.host in OUR_NAMES:
            return None
        return _refused("this page answers its own machine only", "open it as http://127.0.0.1", 403)

    @app.get("/")
    def page() -> Response:
        return send_from_directory(PAGES, "try.html")

    @app.get("/<any('try.css','try.js'):name>")
    def part(name: str) -> Response:
        return send_from_directory(PAGES, name)

    _add_calls(app, copy, now)
    return app


def _add_calls(app: Flask, copy: WorkingCopy, now: Callable[[], datetime]) -> None:
    @app.get("/edition")
    def edition() -> Response:
        return jsonify(edition=copy.saved().edition)

    @app.post("/played")
    def play() -> Response:
        if not request.is_json:
            return _refused("the body is not JSON", "send Content-Type: application/json", 415)
        try:
            typed = Typed.model_validate_json(request.get_data())
        except ValidationError as error:
            return _refused(
                str(error.errors()[0]["msg"]), "send {messages: [text, …], language: en, es or null}", 422
            )
        saved = copy.saved()
        problems = [problem.as_row() for problem in saved.problems]
        told: dict[str, object] = {"edition": saved.edition, "problems": problems}
        if saved.knowledge is not None:
            told |= played(saved.knowledge, typed.messages, typed.language, now())
        return jsonify(told)


def _refused(what: str, mend: str, status: int) -> Response:
    answer = jsonify(title=what, status=status, detail=mend)
    answer.status_code = status
    answer.content_type = "application/problem+json"  # RFC 9457
    return answer
