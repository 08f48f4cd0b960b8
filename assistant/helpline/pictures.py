"""What is kept of a picture, and under which id: looked at by its content, whatever it calls itself, and drawn anew.

Drawn anew, it carries no place, no phone and no hidden page along, only what can be seen.
"""

import io
from collections.abc import Sequence
from datetime import datetime
from typing import Final

from PIL import Image, ImageOps, UnidentifiedImageError
from sqlalchemy.orm import Session

from assistant.casebook import photos as rows
from assistant.conversation.ids import MessageId
from assistant.helpline.house import House
from assistant.helpline.keys import id_from
from kb.errors import RequestError

LARGEST_BYTES: Final = 5 * 1024 * 1024
"""A message's media at the provider is at most as large (its media documentation, 2026-09-28)."""
LARGEST_PIXELS: Final = 50_000_000
"""A file of a few kilobytes can unfold to gigabytes; a phone's camera stays below this."""
LONGEST_SIDE_PX: Final = 2048
QUALITY: Final = 85
MOST_AT_ONCE: Final = 10
"""Pictures of one message (the provider's own limit)."""
FORMS: Final = ("JPEG", "PNG", "WEBP", "GIF")
"""Told by their first bytes."""


def as_kept(raw: bytes) -> bytes:
    """The picture as a JPEG that shows the same. Fails with `RequestError` on anything that is none."""
    if len(raw) > LARGEST_BYTES:
        raise RequestError(
            f"a picture of {len(raw) / 1e6:.1f} MB",
            mend=f"send at most {LARGEST_BYTES // 1024**2} MB, or a smaller picture",
            kind="too_large",
        )
    try:
        with Image.open(io.BytesIO(raw), formats=FORMS) as image:
            return _drawn(image)
    except (
        UnidentifiedImageError,
        Image.DecompressionBombError,
        Image.DecompressionBombWarning,
        OSError,
        SyntaxError,  # Pillow's word for a broken PNG
        ValueError,
    ) as error:
        raise RequestError(
            "that is no picture that can be opened", mend="send a JPEG, PNG, WebP or GIF picture"
        ) from error


def photo_id(house: House, message_id: MessageId, number: int) -> str:
    """The id of a message's n-th picture."""
    return id_from(house.key, "photo", message_id, str(number))


def note_waiting(
    session: Session, house: House, message_id: MessageId, origins: Sequence[str], at: datetime
) -> None:
    """Remember pictures that wait with the provider."""
    for number, origin in enumerate(origins, start=1):
        rows.add_photo(session, photo_id(house, message_id, number), message_id, number, origin, at)


def keep_photos(
    session: Session, house: House, message_id: MessageId, pictures: Sequence[bytes], at: datetime
) -> None:
    """Keep pictures that came with a request: the files before the rows, so that no row points nowhere."""
    for number, picture in enumerate(pictures, start=1):
        name = photo_id(house, message_id, number)
        assert house.album is not None  # noqa: S101 - `checked_photos` turned them away otherwise
        house.album.put(name, picture)
        rows.add_photo(session, name, message_id, number, None, at)
        rows.note_size(session, name, len(picture))


def _drawn(image: Image.Image) -> bytes:
    if image.width * image.height > LARGEST_PIXELS:
        msg = "more pixels than any camera takes"
        raise ValueError(msg)
    upright = ImageOps.exif_transpose(image)
    upright.thumbnail((LONGEST_SIDE_PX, LONGEST_SIDE_PX))
    if upright.mode in ("RGBA", "LA", "P", "PA"):
        over = upright.convert("RGBA")
        upright = Image.new("RGBA", over.size, "white")
        upright.alpha_composite(over)
    out = io.BytesIO()
    upright.convert("RGB").save(out, "JPEG", quality=QUALITY)
    return out.getvalue()
