"""The desk's pages: the queue, a case on one sheet, the hand-over sheet, and the deeds behind their buttons."""

import secrets
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Final

from flask import (
    Blueprint,
    Response,
    make_response,
    redirect,
    render_template,
    request,
    send_from_directory,
    url_for,
)
from werkzeug.exceptions import HTTPException
from werkzeug.wrappers import Response as Answered

from assistant.helpline import CaseClock, DeskRoom, Door, Helpline, QueueLine
from channels.desk.guard import Guard, colleague, drop_key, mark, set_key
from channels.desk.words import LANGUAGES, REASONS, STANDINGS, STATES, WHYS, WORDS, hour_words, span_words
from kb.errors import RequestError
from kb.ids import Language

FOLDER: Final = Path(__file__).parent / "pages"
LANGUAGE_COOKIE: Final = "cold_room_desk_lang"
A_YEAR_S: Final = 365 * 24 * 3600
WAITING: Final = (
    "phone_now",
    "danger",
    "food",
    "unreachable",
    "waits_for_person",
    "colleague_silent",
    "stuck",
)
STATUS: Final = {"not_found": 404, "conflict": 409, "forbidden": 403}


def desk_routes(helpline: Helpline, clock: CaseClock, door: Door) -> Blueprint:
    """`/desk/…`."""
    desk = Blueprint("desk", __name__, url_prefix="/desk", template_folder=str(FOLDER))
    room, guard = DeskRoom(helpline.house), Guard(door, clock)
    desk.before_request(guard.check)
    desk.after_request(_remember_language)
    desk.register_error_handler(RequestError, _refused)
    desk.register_error_handler(HTTPException, _turned_away)

    @desk.get("/<any('desk.css', 'desk.js'):name>")
    def asset(name: str) -> Response:
        return send_from_directory(FOLDER, name)

    @desk.get("/")
    def queue() -> Response:
        return _conditional(_queue_page(room, clock.now()))

    @desk.get("/cases/<case>")
    def case(case: str) -> Response:
        door.note_look(colleague().name, case, clock.now())
        return _conditional(_case_page(room, helpline, case, clock.now()))

    @desk.get("/cases/<case>/hand-over")
    def hand_over(case: str) -> str:
        door.note(colleague().name, "made a hand-over sheet", case, clock.now())
        return _render("hand_over.html", folder=room.folder(case, clock.now(), _language()))

    @desk.get("/cases/<case>/photos/<photo>")
    def photo(case: str, photo: str) -> Response:
        return Response(room.photo(case, photo), content_type="image/jpeg")

    _signing_in(desk, door, clock)
    _deeds(desk, helpline, room, door, clock)
    return desk


def _signing_in(desk: Blueprint, door: Door, clock: CaseClock) -> None:
    @desk.route("/sign-in", methods=["GET", "POST"])
    def sign_in() -> Answered:
        if request.method == "GET":
            return make_response(_render("sign_in.html", problem=None))
        try:
            key = door.sign_in(request.form.get("name", ""), request.form.get("password", ""), clock.now())
        except RequestError as refused:
            return make_response(_render("sign_in.html", problem=_told(refused)), 403)
        response = redirect(_inside(request.args.get("to")), 303)
        set_key(response, key)
        return response

    @desk.post("/sign-out")
    def sign_out() -> Answered:
        door.sign_out(request.cookies.get("cold_room_desk", ""))
        response = redirect(url_for("desk.sign_in"), 303)
        drop_key(response)
        return response


Doing = Callable[[Helpline, DeskRoom, str, str, datetime], object]


def _deeds(desk: Blueprint, helpline: Helpline, room: DeskRoom, door: Door, clock: CaseClock) -> None:
    @desk.post(f"/cases/<case>/<any({', '.join(repr(deed) for deed in DEEDS)}):deed>")
    def do(case: str, deed: str) -> Answered:
        said, doing = DEEDS[deed]
        doing(helpline, room, case, colleague().name, clock.now())
        door.note(colleague().name, said, case, clock.now())
        place = "#next" if deed in ("learn", "heard") else "#talk"
        return redirect(url_for("desk.case", case=case) + place, 303)

    @desk.post("/calls")
    def call() -> Answered:
        name, at = colleague().name, clock.now()
        case = _take_call(helpline, name, at)
        door.note(name, "took a call", case, at)
        return redirect(url_for("desk.case", case=case) + "#next", 303)


def _take_call(helpline: Helpline, name: str, at: datetime) -> str:
    """A case for somebody on the telephone; the colleague speaks in it from the start."""
    form = request.form
    language: Language = "es" if form.get("language") == "es" else "en"
    client_id = form.get("client_id", "")
    case = helpline.open_case(client_id=client_id, at=at, language=language, channel="call").case
    helpline.take_over(case, name, at)
    if form.get("room", "").strip():
        helpline.name_room(case, form["room"].strip())
    if form.get("text", "").strip():
        helpline.receive(case, None, form["text"], f"{case}-first", at)
    return case


def _write(helpline: Helpline, _room: DeskRoom, case: str, name: str, at: datetime) -> object:
    seen, text = request.form.get("seen", ""), request.form.get("text", "")
    number = int(seen) if seen.isdecimal() else 0
    return helpline.write(case, name, text, seen=number, client_id=request.form.get("client_id", ""), at=at)


def _take_over(helpline: Helpline, _room: DeskRoom, case: str, name: str, at: datetime) -> object:
    return helpline.take_over(case, name, at, instead_of=request.form.get("instead_of") or None)


def _hand_back(helpline: Helpline, _room: DeskRoom, case: str, name: str, at: datetime) -> object:
    return helpline.hand_back(case, name, at)


def _reopen(helpline: Helpline, _room: DeskRoom, case: str, name: str, at: datetime) -> object:
    return helpline.reopen_after_danger(case, name, at)


def _close(helpline: Helpline, _room: DeskRoom, case: str, name: str, at: datetime) -> object:
    return helpline.close(case, name, at, cause=request.form.get("cause") or None)


def _aside(_helpline: Helpline, room: DeskRoom, case: str, name: str, at: datetime) -> object:
    client_id, text = request.form.get("client_id", ""), request.form.get("text", "")
    room.note_aside(case, name, text, client_id, at)
    return None


def _learn(helpline: Helpline, _room: DeskRoom, case: str, name: str, at: datetime) -> object:
    finding, _, state = request.form.get("fact", "").partition("=")
    return helpline.learn(case, name, finding, state, at)


def _heard(helpline: Helpline, _room: DeskRoom, case: str, _name: str, at: datetime) -> object:
    words, client_id = request.form.get("text", ""), request.form.get("client_id", "")
    return helpline.receive(case, None, words, client_id, at)


DEEDS: Final[dict[str, tuple[str, Doing]]] = {
    "take-over": ("took over", _take_over),
    "hand-back": ("handed back", _hand_back),
    "write": ("wrote", _write),
    "aside": ("wrote an aside", _aside),
    "learn": ("set a fact", _learn),
    "heard": ("wrote down what they said", _heard),
    "reopen": ("reopened after a danger", _reopen),
    "close": ("closed", _close),
}


def _queue_page(room: DeskRoom, at: datetime) -> str:
    lines = room.queue(at, _language())
    only = request.args.get("only", "all")
    name = colleague().name
    shown = [line for line in lines if _wanted(line, only, name)]
    counts = {key: sum(_wanted(line, key, name) for line in lines) for key in ("all", "needs_us", "mine")}
    return _render("queue.html", lines=shown, only=only, counts=counts, at=at)


def _wanted(line: QueueLine, only: str, name: str) -> bool:
    if only == "mine":
        return line.row.voice == name
    return only != "needs_us" or line.reason in WAITING


def _case_page(room: DeskRoom, helpline: Helpline, case: str, at: datetime) -> str:
    folder = room.folder(case, at, _language())
    line = next((line for line in room.queue(at, _language()) if line.row.case == case), None)
    causes = sorted(helpline.house.conversing.causes.get(_language(), {}).items(), key=lambda pair: pair[1])
    return _render("case.html", folder=folder, line=line, causes=causes, at=at)


def _language() -> Language:
    asked = request.args.get("lang") or request.cookies.get(LANGUAGE_COOKIE)
    return "es" if asked == "es" else "en"


def _remember_language(response: Response) -> Response:
    if request.args.get("lang") in ("en", "es"):
        response.set_cookie(
            LANGUAGE_COOKIE, _language(), path="/desk", max_age=A_YEAR_S, samesite="Strict", httponly=True,
            secure=request.is_secure,
        )  # fmt: skip
    return response


def _render(template: str, **values: object) -> str:
    from flask import g

    language = _language()
    return render_template(
        f"desk/{template}",
        words=WORDS[language],
        reasons=REASONS[language],
        whys=WHYS[language],
        states=STATES[language],
        standings=STANDINGS[language],
        languages=LANGUAGES[language],
        lang=language,
        me=g.get("colleague"),
        mark=mark(),
        once=secrets.token_hex(16),
        span=lambda seconds: span_words(seconds, language),
        hour=hour_words,
        **values,
    )


def _conditional(page: str) -> Response:
    """The page with an ETag of all but its marks of this very answer."""
    import hashlib
    import re

    bare = re.sub(r'name="client_id" value="[0-9a-f]+"', "", page)
    response = make_response(page)
    response.set_etag(hashlib.sha256(bare.encode()).hexdigest()[:32])
    return response


def _inside(to: str | None) -> str:
    """Where to go after the sign-in: a page of the desk, whatever the address says."""
    queue = url_for("desk.queue")
    return to if to is not None and to.startswith(queue) and "//" not in to and "\\" not in to else queue


def _told(refused: RequestError) -> str:
    what = refused.what[:1].upper() + refused.what[1:]
    return f"{what}: {refused.mend}."


def _refused(refused: RequestError) -> Answered:
    return make_response(_render("problem.html", problem=_told(refused)), STATUS.get(refused.kind, 422))


def _turned_away(error: HTTPException) -> Answered:
    return make_response(_render("problem.html", problem=error.description or error.name), error.code or 500)
