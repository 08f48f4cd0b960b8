"""Our end of the telephone line, and how we know that a webhook comes from the provider."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from urllib.parse import quote

from twilio.request_validator import RequestValidator
from werkzeug.datastructures import MultiDict


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """An account with the provider, a number of ours, and the address under which the provider reaches us."""

    account: str
    tokens: tuple[str, ...] = field(repr=False)
    """The account's token, and while it is being changed the next one, too."""
    sender: str
    """Our number, as `+15125550199`, or the id of a messaging service (`MG…`)."""
    public_url: str
    """As the provider dials it: `https://help.example.org`, without a slash at the end."""

    def url_of(self, path: str, query: bytes | str = "") -> str:
        """The address of one of our routes as the provider signed it: never as a proxy handed it on."""
        asked = query.decode("ascii", "replace") if isinstance(query, bytes) else query
        return f"{self.public_url}{quote(path)}{'?' if asked else ''}{asked}"

    def is_signed(
        self, path: str, query: bytes, form: MultiDict[str, str], headers: Mapping[str, str]
    ) -> bool:
        """The provider signed this request with a token of ours: HMAC-SHA1 over the address and every field.

        A request that names another way of signing is not let in: we hold no key for one, and a header must not
        choose a weaker check.
        """
        signature = headers.get("X-Twilio-Signature")
        if not signature or "X-Twilio-Webhooks-Signature-Settings" in headers:
            return False
        url = self.url_of(path, query)
        return any(RequestValidator(token).validate(url, form, signature) for token in self.tokens)
