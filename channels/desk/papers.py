"""Papers that leave the desk: sheets to print, a link for the mechanic, parts to send, drafts for the author."""

from flask import Blueprint, Response, make_response, redirect, render_template, url_for
from werkzeug.wrappers import Response as Answered

from assistant.helpline import CaseClock, Door, Folder, Helpline, SheetLink, link_for, opened
from channels.desk.deeds import Hands, told
from channels.desk.guard import colleague
from channels.desk.rendering import STATUS, page_language, render
from channels.desk.words import SECTIONS, hour_words, words_of
from kb.errors import RequestError
from kb.ids import Language

TEMPLATES = {"mechanic": "hand_over.html", "customer": "customer_sheet.html"}


def papers(desk: Blueprint, hands: Hands, door: Door, clock: CaseClock) -> None:
    """`/desk/cases/…/hand-over`, `/desk/parts`, `/desk/drafts`."""

    @desk.get("/cases/<case>/<any('hand-over', 'customer-sheet'):paper>")
    def hand_over(case: str, paper: str) -> str:
        door.note(colleague().name, f"made a {paper.replace('-', ' ')} sheet", case, clock.now())
        template = "hand_over.html" if paper == "hand-over" else "customer_sheet.html"
        folder, language = hands.room.folder(case, clock.now(), page_language()), page_language()
        if paper == "customer-sheet" and folder.language != language:
            language = folder.language
            folder = hands.room.folder(case, clock.now(), language)
        return render(template, folder=folder, in_language=language, link=None)

    @desk.post("/cases/<case>/link")
    def link(case: str) -> str:
        kind = "customer" if told("kind") == "customer" else "mechanic"
        language: Language = "es" if told("language") == "es" else "en"
        hands.room.folder(case, clock.now(), language)
        token, made = link_for(hands.helpline.house.key, case, kind, language, clock.now())  # type: ignore[arg-type]  # one of two
        door.note(colleague().name, f"made a link to the {kind}'s sheet", case, clock.now())
        return render(
            "link.html", address=url_for("sheets.sheet", token=token, _external=True), link=made, case=case
        )

    @desk.get("/parts")
    def parts() -> str:
        return render("parts.html", requests=hands.parts.requests(), at=clock.now())

    @desk.post("/parts/<int:number>/sent")
    def sent(number: int) -> Answered:
        hands.parts.note_sent(number, colleague().name, clock.now())
        door.note(colleague().name, f"sent part {number}", None, clock.now())
        return redirect(url_for("desk.parts"), 303)

    @desk.get("/drafts")
    def drafts() -> str:
        return render("drafts.html", ended=hands.room.new_causes(page_language()))

    @desk.get("/drafts/<case>.yaml")
    def draft(case: str) -> Response:
        response = make_response(hands.room.draft(case, page_language()))
        response.headers["Content-Type"] = "text/plain; charset=utf-8"
        response.headers["Content-Disposition"] = f'attachment; filename="draft_{case}.yaml"'
        return response


def sheet_routes(helpline: Helpline, clock: CaseClock) -> Blueprint:
    """`/sheet/…`: one sheet by a link that ends, for somebody who is not signed in."""
    hands = Hands.over(helpline)
    sheets = Blueprint("sheets", __name__, url_prefix="/sheet", template_folder="pages")

    @sheets.get("/<token>")
    def sheet(token: str) -> Response:
        link = opened(hands.helpline.house.key, token, clock.now())
        folder = hands.room.folder(link.case, clock.now(), link.language)
        response = make_response(_bare(link, folder))
        response.headers |= {
            "Cache-Control": "no-store",
            "X-Robots-Tag": "noindex",
            "Referrer-Policy": "no-referrer",
        }
        return response

    @sheets.errorhandler(RequestError)
    def refused(error: RequestError) -> Answered:
        words = words_of("words", "en")["link_over"] + " " + words_of("words", "es")["link_over"]
        return make_response(
            render_template("desk/no_sheet.html", problem=words, lang="en"), STATUS.get(error.kind, 404)
        )

    return sheets


def _bare(link: SheetLink, folder: Folder) -> str:
    sections = {name: words_of(name, link.language) for name in SECTIONS}
    return render_template(
        f"desk/{TEMPLATES[link.kind]}",
        **sections,
        lang=link.language,
        folder=folder,
        hour=hour_words,
        link=link,
    )
