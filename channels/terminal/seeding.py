"""The demo's own cases: a valley that is on no map, and people of whom we know the first name only."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from assistant.helpline import Helpline
from kb.ids import Language


@dataclass(frozen=True, slots=True)
class Seed:
    """One case: what the person wrote, a few minutes apart, and what they call their room."""

    name: str
    room: str
    language: Language
    hours_ago: float
    texts: tuple[str, ...]


SEEDS: Final = (
    Seed(
        "ines",
        "cuarto de flores",
        "es",
        5.0,
        ("Soy Inés. El cuarto de flores está a 57 F y lo tengo a 38", "aparato de ventana", "no sé"),
    ),
    Seed(
        "otto",
        "grain room",
        "en",
        3.0,
        ("Otto here, the breaker tripped again and there is a burning smell at the plug",),
    ),
    Seed(
        "june",
        "berry room",
        "en",
        1.5,
        ("This is June. Coil is a block of ice, room at 49, set to 36", "I would rather talk to a person"),
    ),
)
BETWEEN: Final = timedelta(minutes=3)


def seed(helpline: Helpline, now: datetime) -> None:
    """Let the demo's people write; who has written already does not write twice."""
    for one in SEEDS:
        at = now - timedelta(hours=one.hours_ago)
        first, *more = one.texts
        opening = helpline.open_case(
            client_id=f"demo-{one.name}-0", at=at, text=first, language=one.language, channel="web"
        )
        helpline.name_room(opening.case, one.room)
        for number, text in enumerate(more, start=1):
            at += BETWEEN
            helpline.receive(opening.case, None, text, f"demo-{one.name}-{number}", at)
