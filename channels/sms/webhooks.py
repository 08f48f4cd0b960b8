"""The provider's webhooks: a text that came in, and what became of one that went out.

A text is kept and answered before we answer the webhook; what is due to its sender travels back in that answer. The same
text again, as a provider sends it after a broken line, gets the same bytes.
"""

import logging
from collections.abc import Mapping
from typing import Final

from flask import Blueprint, Response, request
from twilio.twiml.messaging_response import MessagingResponse

from assistant.helpline import MOST_AT_ONCE, CaseClock, Helpline
from assistant.thread import ServiceWord
from channels.sms.refusals import refusal_of
from channels.sms.signing import Line
from kb.errors import RequestError

log = logging.getLogger("helpline.sms")
NO_WORDS: Final = (
    "I cannot look at pictures. Tell me in a few words what you see. / "
    "No puedo ver fotos. Dígame en pocas palabras qué ve."
)
NOTICES: Final[Mapping[str, ServiceWord]] = {"STOP": "stop", "START": "start", "HELP": "help"}
"""What the provider took a text for by its own rules, and has acted on and answered itself."""
LONGEST_COUNT: Final = 4
FAILED: Final = frozenset({"failed", "undelivered"})


def sms_routes(helpline: Helpline, clock: CaseClock, line: Line) -> Blueprint:
    """The two routes that the provider calls."""
    routes = Blueprint("sms", __name__, url_prefix="/sms")

    @routes.before_request
    def check_signature() -> Response | None:
        if line.is_signed(request.path, request.query_string, request.form, request.headers):  # type: ignore[arg-type]  # headers are a mapping in all that matters
            return None
        log.warning("a request to %s was not signed by the provider", request.path)
        return Response("", 403, content_type="text/plain")

    @routes.post("/inbound")
    def inbound() -> Response:
        return _inbound(helpline, clock, line)

    @routes.post("/status")
    def status() -> Response:
        return _status(helpline, clock)

    return routes


def _inbound(helpline: Helpline, clock: CaseClock, line: Line) -> Response:
    form = request.form
    if form.get("AccountSid") != line.account:
        return Response("", 403, content_type="text/plain")
    sender, words, once = form.get("From", ""), form.get("Body", ""), form.get("MessageSid", "")
    photos = _photos(form) if helpline.takes_photos else ()
    notice = NOTICES.get(form.get("OptOutType", ""))
    if not words.strip() and not photos and notice is None:
        return _twiml(((None, NO_WORDS),) if form.get("NumMedia", "0") != "0" else (), line)
    try:
        handed = helpline.exchange(
            "sms", sender, words, once, clock.now(), photos=photos, carrier_word=notice
        )
    except (
        RequestError
    ) as error:  # the sender is a machine, or the text is not to be had: answering would loop
        log.warning("a text was not taken in: %s", error.what)
        return _twiml((), line)
    return _twiml(tuple((one.once, one.text) for one in handed), line)


def _photos(form: Mapping[str, str]) -> tuple[str, ...]:
    """Where the provider has the pictures; whether they are any, and ours, is looked at when they are fetched."""
    told = form.get("NumMedia", "0")
    count = min(int(told), MOST_AT_ONCE) if told.isdecimal() and len(told) < LONGEST_COUNT else 0
    return tuple(url for n in range(count) if (url := form.get(f"MediaUrl{n}", "")))


def _status(helpline: Helpline, clock: CaseClock) -> Response:
    form, word = request.form, request.form.get("MessageStatus", "")
    code = form.get("ErrorCode", "")
    refusal = refusal_of(int(code) if code.isdecimal() else None) if word in FAILED else None
    once, provider_id = request.args.get("o", ""), form.get("MessageSid")
    helpline.note_delivery(once, word, clock.now(), provider_id=provider_id, refusal=refusal)
    return Response("", 204)


def _twiml(texts: tuple[tuple[str | None, str], ...], line: Line) -> Response:
    """The texts as the provider's markup; each tells us by its callback what became of it."""
    answer = MessagingResponse()
    for once, text in texts:
        callback = {} if once is None else {"status_callback": line.url_of("/sms/status", f"o={once}")}
        answer.message(text, **callback)
    return Response(str(answer), content_type="text/xml; charset=utf-8")
