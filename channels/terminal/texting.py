"""`helpline text`: a pretend phone beside the demo. It signs what it sends, as the provider would, and shows what comes."""

import secrets
import threading
from dataclasses import dataclass
from typing import Final
from xml.etree import ElementTree as ET

import click
import requests
from twilio.request_validator import RequestValidator

from channels.house import demo_line, settings_of
from channels.sms import Line
from channels.terminal.demonstrating import demo_address
from kb.errors import RequestError

PATIENCE_S: Final = 20
LOOKS: Final = 10
BETWEEN_LOOKS_S: Final = 0.2
SENDER: Final = "+15125550100"
"""Reserved for fiction (North American Numbering Plan, 555-0100 to 555-0199)."""


@dataclass(slots=True)
class Phone:
    """A phone in the hand: it texts, and tells the provider's side of every text that reaches it."""

    server: str
    line: Line
    number: str
    seen: int = 0

    def text(self, words: str) -> tuple[str, ...]:
        """Send a text; what came back at once."""
        form = {
            "AccountSid": self.line.account,
            "MessageSid": f"SM{secrets.token_hex(16)}",
            "From": self.number,
            "To": self.line.sender,
            "Body": words,
            "NumMedia": "0",
        }
        answer = self._post("/sms/inbound", form)
        markup = ET.fromstring(answer.content)  # noqa: S314 - our own server's answer
        came = [(message.text or "", message.get("statusCallback", "")) for message in markup]
        for _, callback in came:
            if callback:
                self._delivered(callback.removeprefix(self.line.public_url))
        return tuple(text for text, _ in came)

    def answers_to(self, words: str) -> tuple[str, ...]:
        """Send a text; what came back at once, or by the worker where it was quicker."""
        came = self.text(words)
        for _ in range(LOOKS):
            if came:
                break
            threading.Event().wait(BETWEEN_LOOKS_S)
            came = self.later()
        return came

    def later(self) -> tuple[str, ...]:
        """What the worker sent since the last look."""
        wanted: dict[str, str | int] = {"to": self.number, "after": self.seen}
        answer = requests.get(f"{self.server}/demo/texts", params=wanted, timeout=PATIENCE_S)
        answer.raise_for_status()
        texts = answer.json()["texts"]
        self.seen = max((text["id"] for text in texts), default=self.seen)
        return tuple(text["text"] for text in texts)

    def _delivered(self, path: str) -> None:
        form = {"AccountSid": self.line.account, "MessageSid": f"SM{secrets.token_hex(16)}"}
        self._post(path, {**form, "MessageStatus": "delivered"})

    def _post(self, path: str, form: dict[str, str]) -> requests.Response:
        url = f"{self.line.public_url}{path}"
        signature = RequestValidator(self.line.tokens[0]).compute_signature(url, form)
        answer = requests.post(
            f"{self.server}{path}", data=form, headers={"X-Twilio-Signature": signature}, timeout=PATIENCE_S
        )
        answer.raise_for_status()
        return answer


@click.command("text")
@click.option("--number", default=SENDER, show_default=True, help="Whose phone it is.")
@click.argument("words", nargs=-1)
def text(number: str, words: tuple[str, ...]) -> None:
    """Text the running demo from a pretend phone: WORDS once, or line by line until the end of the input."""
    settings = settings_of(demo=True)
    phone = Phone(demo_address(settings), demo_line(settings), number)
    try:
        if words:
            phone.later()
            _show(phone.answers_to(" ".join(words)))
        else:
            _talk(phone)
    except requests.RequestException as error:
        raise RequestError(
            f"the demo at {phone.server} does not answer ({type(error).__name__})",
            mend="start it again with `helpline demo`",
        ) from error


def _talk(phone: Phone) -> None:
    click.echo("A pretend phone. Write a text and press Enter; an empty line looks for new texts.")
    while True:
        try:
            words = click.prompt("", prompt_suffix="> ", default="", show_default=False)
        except (EOFError, click.Abort):
            return
        if words.strip():
            _show(phone.answers_to(words))
        _show(phone.later())


def _show(texts: tuple[str, ...]) -> None:
    for one in texts:
        click.echo(f"    {one}")
