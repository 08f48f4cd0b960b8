"""Pictures that wait with the provider: fetched with the account's own key, from the provider's hosts and no others."""

import re
from dataclasses import dataclass, field
from typing import Final
from urllib.parse import urljoin, urlsplit

import requests

from assistant.helpline import LARGEST_BYTES, NotYet, Unfit
from channels.sms.signing import Line

TIMEOUT_S: Final = (3.0, 15.0)
"""To connect, and between two pieces."""
MOST_MOVES: Final = 3
A_PIECE: Final = 64 * 1024
API_HOST: Final = "api.twilio.com"
HOSTS: Final = re.compile(r"(?:[a-z0-9-]+\.)*(?:twilio\.com|twiliocdn\.com)")
"""Where the provider keeps media, and where it sends us on to."""
MOVED: Final = frozenset({301, 302, 303, 307, 308})
GONE: Final = frozenset({400, 403, 404, 410})
MISSING: Final = 404


@dataclass(frozen=True, slots=True)
class TwilioMedia:
    """Fetches what a webhook named, if it is what a webhook may name."""

    line: Line
    session: requests.Session = field(default_factory=requests.Session, repr=False)

    def fetch(self, origin: str) -> bytes | Unfit | NotYet:
        """The bytes at an address of our account's own media, at most `LARGEST_BYTES` of them."""
        if not self.is_ours(origin):
            return Unfit("it is not among our account's media")
        url = origin
        try:
            for _ in range(MOST_MOVES + 1):
                with self._get(url) as answer:
                    if answer.status_code not in MOVED:
                        return _body(answer)
                    url = urljoin(url, answer.headers.get("Location", ""))
                if not _is_the_providers(url):
                    return Unfit("the provider sent us on to a host that is not its own")
        except requests.RequestException as error:
            return NotYet(type(error).__name__)
        return Unfit("the provider sent us on too often")

    def forget(self, origin: str) -> bool:
        """Have the provider delete it; what is no media of ours is left alone."""
        if not self.is_ours(origin):
            return True
        try:
            answer = self.session.delete(origin, auth=self._key(), timeout=TIMEOUT_S, allow_redirects=False)
        except requests.RequestException:
            return False
        return answer.ok or answer.status_code == MISSING

    def is_ours(self, origin: str) -> bool:
        """It is the address of one picture that our own account was sent."""
        ours = rf"https://{re.escape(API_HOST)}/2010-04-01/Accounts/{self.line.account}/Messages/[SM]M[0-9a-f]{{32}}/Media/ME[0-9a-f]{{32}}"
        return re.fullmatch(ours, origin) is not None

    def _get(self, url: str) -> requests.Response:
        key = self._key() if urlsplit(url).hostname == API_HOST else None  # no other host ever learns it
        return self.session.get(url, auth=key, timeout=TIMEOUT_S, allow_redirects=False, stream=True)

    def _key(self) -> tuple[str, str]:
        return (self.line.account, self.line.tokens[0])


def _is_the_providers(url: str) -> bool:
    parts = urlsplit(url)
    return (
        parts.scheme == "https"
        and parts.username is None
        and parts.port in (None, 443)
        and HOSTS.fullmatch(parts.hostname or "") is not None
    )


def _body(answer: requests.Response) -> bytes | Unfit | NotYet:
    if answer.status_code in GONE and answer.status_code != MISSING:
        return Unfit(f"the provider says {answer.status_code}")
    if not answer.ok:  # a picture may be there a little after the webhook that names it
        return NotYet(f"the provider says {answer.status_code}")
    body = bytearray()
    for piece in answer.iter_content(A_PIECE):
        body += piece
        if len(body) > LARGEST_BYTES:
            return Unfit("it is larger than a picture may be")
    return bytes(body)
