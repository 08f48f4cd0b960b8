"""Many cases in one go: a storm night's groups, one reply to many, and the shift handed over."""

from datetime import datetime

from flask import Blueprint, Response, redirect, request, url_for
from werkzeug.wrappers import Response as Answered

from assistant.helpline import CaseClock, Door, QueueLine, Reached, Sending, clusters_of
from channels.desk.deeds import Hands, told
from channels.desk.guard import colleague
from channels.desk.rendering import conditional, page_language, render
from kb.errors import RequestError


def together(desk: Blueprint, hands: Hands, door: Door, clock: CaseClock) -> None:
    """`/desk/many` and `/desk/shift`."""

    @desk.get("/many")
    def many() -> Response:
        return conditional(_many_page(hands, clock.now()))

    @desk.post("/many")
    def reply_to_many() -> str:
        name, at = colleague().name, clock.now()
        reached = _reply(hands, name, at)
        for one in reached:
            if not one.why_not:
                door.note(name, "wrote to many", one.case, at)
        return render("reached.html", reached=reached, lines=_by_case(hands, at), at=at)

    @desk.get("/shift")
    def shift() -> str:
        others = tuple(name for name in hands.room.colleagues() if name != colleague().name)
        return render("shift.html", lines=_mine(hands, clock.now()), others=others, at=clock.now())

    @desk.post("/shift")
    def hand_over_shift() -> Answered:
        name, at, to = colleague().name, clock.now(), told("to")
        ticked = request.form.getlist("case")
        notes = [(case, told(f"note-{case}")) for case in ticked]
        hands.work.hand_over_shift(notes, name, to, told("client_id"), at)
        for case in ticked:
            door.note(name, f"handed over to {to}", case, at)
        return redirect(url_for("desk.queue"), 303)


def _many_page(hands: Hands, at: datetime) -> str:
    language = page_language()
    clusters, alone = clusters_of(hands.room.queue(at, language))
    return render(
        "many.html",
        clusters=clusters,
        alone=alone,
        at=at,
        ours=hands.helpline.house.conversing.sentences[language],
    )


def _reply(hands: Hands, name: str, at: datetime) -> tuple[Reached, ...]:
    seen = []
    for ticked in request.form.getlist("case"):
        case, _, last = ticked.partition(":")
        seen.append((case, int(last) if last.isdecimal() else 0))
    sentence = told("sentence") or None
    if sentence is not None and sentence not in hands.helpline.house.conversing.sentences["en"]:
        raise RequestError(f"no sentence {sentence[:60]!r}", mend="choose one of the list")
    words = {"en": told("words_en"), "es": told("words_es")}
    if not seen:
        raise RequestError("nobody is ticked", mend="go back and tick those who should get it")
    if sentence is None and not any(words.values()):
        raise RequestError("there are no words", mend="go back and write some, or choose a sentence")
    sending = Sending(words=words, sentence=sentence, keep=told("then") == "mine")  # type: ignore[arg-type]  # both languages stand there
    return hands.work.reply_to_many(seen, name, sending, told("client_id"), at)


def _by_case(hands: Hands, at: datetime) -> dict[str, QueueLine]:
    return {str(line.row.case): line for line in hands.room.queue(at, page_language())}


def _mine(hands: Hands, at: datetime) -> tuple[QueueLine, ...]:
    name = colleague().name
    return tuple(line for line in hands.room.queue(at, page_language()) if line.row.voice == name)
