"""The desk's pages: the queue with its search, and a case on one sheet. What is done stands in the modules beside."""

from datetime import datetime, timedelta
from pathlib import Path
from typing import Final

from flask import Blueprint, Response, make_response, redirect, request, send_from_directory, url_for
from werkzeug.wrappers import Response as Answered

from assistant.helpline import ASKED_AFTER_DAYS, CaseClock, Door, Helpline, QueueLine
from channels.desk.deeds import Hands, deeds
from channels.desk.guard import Guard, colleague, drop_key, session_key, set_key
from channels.desk.papers import papers
from channels.desk.rendering import conditional, in_words, page_language, render, speaks_to_people
from channels.desk.together import together
from kb.errors import RequestError

FOLDER: Final = Path(__file__).parent / "pages"
WAITING: Final = (
    "phone_now", "danger", "food", "promise_over", "unreachable", "came_back", "waits_for_person", "colleague_silent",
    "photo", "promise_soon", "stuck",
)  # fmt: skip
IN_DANGER: Final = ("phone_now", "danger")
A_WHILE: Final = timedelta(hours=2)
"""What the form proposes for a promise."""
FILTERS: Final = ("all", "danger_only", "needs_us", "mine")


def desk_routes(helpline: Helpline, clock: CaseClock, door: Door) -> Blueprint:
    """`/desk/…`."""
    desk = Blueprint("desk", __name__, url_prefix="/desk", template_folder=str(FOLDER))
    hands, guard = Hands.over(helpline), Guard(door, clock)
    desk.before_request(guard.check)
    speaks_to_people(desk)

    @desk.get("/<any('desk.css', 'desk.js'):name>")
    def asset(name: str) -> Response:
        return send_from_directory(FOLDER, name)

    @desk.get("/")
    def queue() -> Response:
        return conditional(_queue_page(hands, clock.now()))

    @desk.get("/cases/<case>")
    def case(case: str) -> Response:
        door.note_look(colleague().name, case, clock.now())
        return conditional(_case_page(hands, case, clock.now()))

    @desk.get("/cases/<case>/photos/<photo>")
    def photo(case: str, photo: str) -> Response:
        return Response(hands.room.photo(case, photo), content_type="image/jpeg")

    _signing_in(desk, door, clock)
    deeds(desk, hands, door, clock)
    together(desk, hands, door, clock)
    papers(desk, hands, door, clock)
    return desk


def _signing_in(desk: Blueprint, door: Door, clock: CaseClock) -> None:
    @desk.route("/sign-in", methods=["GET", "POST"])
    def sign_in() -> Answered:
        if request.method == "GET":
            return make_response(render("sign_in.html", problem=None))
        try:
            key = door.sign_in(request.form.get("name", ""), request.form.get("password", ""), clock.now())
        except RequestError as refused:
            return make_response(render("sign_in.html", problem=in_words(refused)), 403)
        response = redirect(_inside(request.args.get("to")), 303)
        set_key(response, key)
        return response

    @desk.post("/sign-out")
    def sign_out() -> Answered:
        door.sign_out(session_key())
        response = redirect(url_for("desk.sign_in"), 303)
        drop_key(response)
        return response


def _queue_page(hands: Hands, at: datetime) -> str:
    lines = hands.room.queue(at, page_language())
    only, sought = request.args.get("only", "all"), request.args.get("find", "").strip()
    name = colleague().name
    return render(
        "queue.html",
        lines=[line for line in lines if _wanted(line, only, name)],
        only=only,
        filters=FILTERS,
        counts={key: sum(_wanted(line, key, name) for line in lines) for key in FILTERS},
        sought=sought,
        hits=hands.room.search(sought) if sought else (),
        at=at,
    )


def _wanted(line: QueueLine, only: str, name: str) -> bool:
    if only == "mine":
        return line.row.voice == name
    if only == "danger_only":
        return line.reason in IN_DANGER
    return only != "needs_us" or line.reason in WAITING


def _case_page(hands: Hands, case: str, at: datetime) -> str:
    language, conversing = page_language(), hands.helpline.house.conversing
    folder = hands.room.folder(case, at, language)
    line = next((line for line in hands.room.queue(at, language) if line.row.case == case), None)
    theirs = folder.language
    return render(
        "case.html",
        folder=folder,
        line=line,
        causes=sorted(conversing.causes[language].items(), key=lambda pair: pair[1]),
        fixes=sorted(conversing.fixes[language].items(), key=lambda pair: pair[1]),
        ours=conversing.sentences[language],
        theirs=conversing.sentences[theirs],
        their_language=theirs,
        covers=hands.parts.covers(case, at, language),
        days=ASKED_AFTER_DAYS,
        soon=at + A_WHILE,
        at=at,
    )


def _inside(to: str | None) -> str:
    """Where to go after the sign-in: a page of the desk, whatever the address says."""
    queue = url_for("desk.queue")
    return to if to is not None and to.startswith(queue) and "//" not in to and "\\" not in to else queue
