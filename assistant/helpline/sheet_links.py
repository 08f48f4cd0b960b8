"""A sheet by a link that ends: whoever has it reads one sheet of one case, and nothing else.

Everything stands in the link itself, under the server's key: nothing is kept, and nobody can write one.
"""

import base64
import hmac
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Final, Literal, get_args

from assistant.helpline.keys import derived
from kb.errors import RequestError
from kb.ids import Language

LASTS: Final = timedelta(days=7)
"""A trade that has not come by then asks for a new one (ours)."""
MARK_BYTES: Final = 20
PARTS: Final = 5
Kind = Literal["mechanic", "customer"]


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetLink:
    """What a link opens."""

    case: str
    kind: Kind
    language: Language
    ends_at: datetime


def link_for(key: bytes, case: str, kind: Kind, language: Language, at: datetime) -> tuple[str, SheetLink]:
    """The link's last part, and what it opens."""
    ends_at = (at + LASTS).astimezone(UTC).replace(microsecond=0)
    told = (case, kind, language, f"{int(ends_at.timestamp())}")
    link = SheetLink(case=case, kind=kind, language=language, ends_at=ends_at)
    return ".".join((*told, _mark(key, told))), link


def opened(key: bytes, token: str, at: datetime) -> SheetLink:
    """What a link opens. Fails with `RequestError` when nobody of ours wrote it, or when it has ended."""
    told = token.split(".")
    if len(told) != PARTS or not hmac.compare_digest(
        _mark(key, tuple(told[:-1])).encode(), told[-1].encode()
    ):
        raise RequestError("no such sheet", mend="ask the desk for a new link", kind="not_found")
    case, kind, language, ends = told[:-1]
    assert kind in get_args(Kind)  # noqa: S101 - our own mark stands under it
    ends_at = datetime.fromtimestamp(int(ends), UTC)
    if at > ends_at:
        raise RequestError("this link has ended", mend="ask the desk for a new link", kind="not_found")
    return SheetLink(case=case, kind=kind, language="es" if language == "es" else "en", ends_at=ends_at)  # type: ignore[arg-type]  # looked at above


def _mark(key: bytes, told: tuple[str, ...]) -> str:
    mark = derived(key, "a sheet by a link", *told)[:MARK_BYTES]
    return base64.urlsafe_b64encode(mark).decode().rstrip("=")
