"""The courier over the provider's REST interface: one call a text, and a look back where a call's end is unknown."""

from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Final

from requests.exceptions import ConnectTimeout
from twilio.base.exceptions import TwilioException, TwilioRestException
from twilio.http.http_client import TwilioHttpClient
from twilio.rest import Client
from urllib3.exceptions import NewConnectionError

from assistant.helpline import Accepted, Later, NotSent, Outcome
from channels.sms.refusals import outcome_of
from channels.sms.signing import Line

TIMEOUT_S: Final = 10.0
"""The client's own default waits for ever."""
VALID_S: Final = 3600
"""A repair step that the carrier cannot deliver within the hour is worse than none."""
LOOK_BACK: Final = timedelta(minutes=5)
"""The provider's clock and ours may differ by a little."""
MOST_LISTED: Final = 200


class UnknownOutcomeError(Exception):
    """The call failed after it may have been obeyed."""


@dataclass(frozen=True, slots=True)
class TwilioCourier:
    """Carries texts out. Raises where nobody knows what became of one: then it comes again with `again_since`."""

    line: Line
    client: Client = field(repr=False)

    @classmethod
    def over(cls, line: Line) -> "TwilioCourier":
        """A courier with a client of its own."""
        http = TwilioHttpClient(timeout=TIMEOUT_S)
        return cls(line, Client(line.account, line.tokens[0], http_client=http))

    def send(self, address: str, text: str, once: str, again_since: datetime | None) -> Outcome:
        """Carry `text` to `address`. Fails with `UnknownOutcomeError`, or as the connection does."""
        if again_since is not None:
            try:
                gone = self._gone_before(address, text, again_since)
            except (TwilioException, OSError):  # a look sends nothing: it may be looked again
                return Later(why="the provider's list cannot be read")
            if gone is not None:
                return Accepted(provider_id=gone)
        try:
            return self._create(address, text, once)
        except TwilioRestException as error:
            outcome = outcome_of(error.status, error.code)
            if outcome is None:
                msg = f"the provider failed with status {error.status}"  # its own words may quote the number
                raise UnknownOutcomeError(msg) from None
            return outcome
        except (ConnectTimeout, ConnectionError, OSError) as error:
            if _never_connected(error):
                return Later(why="the provider cannot be reached")
            raise

    def look_back(self, address: str, text: str, since: datetime) -> Accepted | NotSent:
        """Whether the provider has it. Fails as the connection does."""
        gone = self._gone_before(address, text, since)
        return NotSent() if gone is None else Accepted(provider_id=gone)

    def _create(self, address: str, text: str, once: str) -> Accepted:
        service = self.line.sender.startswith("MG")
        made = self.client.messages.create(
            to=address,
            body=text,
            status_callback=self.line.url_of("/sms/status", f"o={once}"),
            validity_period=VALID_S,
            **({"messaging_service_sid": self.line.sender} if service else {"from_": self.line.sender}),
        )
        return Accepted(provider_id=made.sid)

    def _gone_before(self, address: str, text: str, since: datetime) -> str | None:
        """The provider's id of the same text to the same number, if it has one."""
        listed = self.client.messages.list(to=address, date_sent_after=since - LOOK_BACK, limit=MOST_LISTED)
        failed = ("failed", "canceled")
        return next((one.sid for one in listed if one.body == text and one.status not in failed), None)


def _never_connected(error: BaseException) -> bool:
    """The connection was never made, so nothing went out."""
    if isinstance(error, ConnectTimeout):
        return True
    reason = getattr(error.args[0], "reason", None) if error.args else None
    return isinstance(reason, NewConnectionError)
