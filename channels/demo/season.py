"""Who writes when: the cases of a season that has gone by, and those of today, in the order of the clock."""

import heapq
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from assistant.casebook import inbox
from assistant.helpline import Helpline
from channels.demo.people import Customer
from channels.demo.playing import Play
from channels.demo.stories import Story, drawn, our_region, our_stories, share
from kb.ids import Language
from kb.knowledge import Knowledge

PAST: Final = 170
"""Cases of the season that has gone by."""
DAYS: Final = 110
STORM_HOURS: Final = 5.0
STORM_ROOMS: Final = 9
STORM: Final = "unit forgot its mode"
"""The story of the night on which the lights went out in one place."""
SPANISH_OF: Final = 3
"""One customer in so many writes Spanish."""
BURST_MIN: Final = 40
PATIENCE: Final = 22
"""Texts; nobody writes for ever about one room."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Today:
    """One of today's cases: whose, since how many hours, and how far it has come by now."""

    story: str
    language: Language
    hours_ago: float
    room: str | None = None
    staffed: bool = False
    """A colleague has taken it up already, or will."""


TODAY: Final = (
    Today(story="burning smell", language="en", hours_ago=0.4),
    Today(story="iced coil, probe fallen out", language="es", hours_ago=1.2),
    Today(story="dirty filter", language="en", hours_ago=0.15),
    Today(story="low on gas", language="en", hours_ago=3.0, staffed=True),
    Today(story="cold milk getting warm", language="en", hours_ago=1.1, room="milk room"),
    Today(story="cold milk getting warm", language="es", hours_ago=0.6, room="cámara de la leche"),
    Today(story="hums and clicks", language="en", hours_ago=0.9, room="keg room"),
    Today(story="never defrosts", language="en", hours_ago=1.8, room="meat cooler"),
    Today(story="warmer dead", language="es", hours_ago=2.0),
    Today(story="nothing the book knows", language="en", hours_ago=1.0),
    Today(story="nothing the book knows", language="es", hours_ago=2.4, staffed=True),
    Today(story="cottonwood on the outdoor coil", language="en", hours_ago=6.0),
    Today(story="split stops itself", language="es", hours_ago=4.5),
    Today(story="torn gasket", language="en", hours_ago=26.0),
    Today(story="defrost clock after an outage", language="en", hours_ago=0.7),
    Today(story="unit too small", language="en", hours_ago=5.5),
    Today(story="swing is normal", language="es", hours_ago=0.5),
    Today(story="warm load", language="en", hours_ago=9.0),
    Today(story="probe in the cold jet", language="en", hours_ago=1.6),
)


@dataclass(frozen=True, slots=True)
class Season:
    """A season that ends at `now`, over a helpline."""

    helpline: Helpline
    knowledge: Knowledge
    now: datetime

    def past(self) -> tuple[Play, ...]:
        """The cases that are over by now."""
        return tuple(
            Play(
                self.helpline, self.knowledge, _customer(number, drawn(_by_weight(), number, "story")), begins
            )
            for number, begins in _hours_of_the_season(self.now)
        )

    def today(self) -> tuple[Play, ...]:
        """The cases that run."""
        stories = {story.story: story for story in our_stories()}
        plays = [
            Play(
                self.helpline, self.knowledge,
                _customer(1000 + number, stories[one.story], language=one.language, room=one.room),
                self.now - timedelta(hours=one.hours_ago),
                staffed=one.staffed,
            )
            for number, one in enumerate(TODAY)
        ]  # fmt: skip
        place = our_region().places[0]
        for number in range(STORM_ROOMS):
            begins = (
                self.now - timedelta(hours=STORM_HOURS) + timedelta(minutes=share(BURST_MIN, number, "storm"))
            )
            customer = _customer(1100 + number, stories[STORM], place=place, chatty=False)
            plays.append(Play(self.helpline, self.knowledge, customer, begins, staffed=False))
        return tuple(plays)


def play_season(season: Season) -> int:
    """Let the season that has gone by happen; how many cases."""
    return _play(season.helpline, season.past(), until=season.now)


def play_now(season: Season) -> int:
    """Let what has come up lately happen, as far as it has come by now, the newest first; how many cases."""
    newest_first = sorted(season.today(), key=lambda play: play.begins, reverse=True)
    return sum(_play(season.helpline, (play,), until=season.now) for play in newest_first)


def _play(helpline: Helpline, plays: tuple[Play, ...], until: datetime) -> int:
    """All plays together, each next thing at its own hour; promised hours are kept on the way."""
    with helpline.house.casebook.reading() as session:
        played = inbox.client_ids_from(session, "season-")
    waiting = [(play.begins, place, play) for place, play in enumerate(plays) if play.first_id not in played]
    count = len(waiting)
    heapq.heapify(waiting)
    while waiting:
        at, place, play = heapq.heappop(waiting)
        if at > until:
            continue
        later = play.go_on(at)
        if later is not None:
            heapq.heappush(waiting, (later, place, play))
    return count


def _hours_of_the_season(now: datetime) -> Iterator[tuple[int, datetime]]:
    """More in the hot middle than at either end, and by day: two draws of a day, and an hour of the grower's day."""
    for number in range(PAST):
        days_ago = 3 + (share(DAYS, number, "day") + share(DAYS, number, "other day")) // 2
        minutes = share(24 * 60, number, "minute") // 2
        yield number, now - timedelta(days=days_ago) + timedelta(minutes=minutes)


def _customer(
    number: int,
    story: Story,
    *,
    language: Language | None = None,
    place: str | None = None,
    room: str | None = None,
    chatty: bool = True,
) -> Customer:
    region = our_region()
    who = number // 2 if number < PAST and share(4, number, "again") == 0 else number
    spoken: Language = language or (
        "es" if story.first.es and share(SPANISH_OF, who, "language") == 0 else "en"
    )
    names, rooms = (
        (region.people.en, region.rooms.en) if spoken == "en" else (region.people.es, region.rooms.es)
    )
    texts = share(5, who, "channel") < 3  # noqa: PLR2004 - three of five text
    area = region.areas[who % len(region.areas)]
    address = f"+1{area}55501{who // len(region.areas) % 100:02d}" if texts else None
    return Customer(
        number=number,
        name=drawn(names, who, "name"),
        language=spoken,
        room=next((one for one in rooms if one.room == room), drawn(rooms, who, "room")),
        place=place or drawn(region.places, who, "place"),
        address=address,
        on_the_line=not texts and chatty and share(4, number, "calls") == 0,
        story=story,
        lasts=(2 + share(4, number, "lasts")) if share(9, number, "silent") == 0 or not chatty else PATIENCE,
    )


def _by_weight() -> tuple[Story, ...]:
    return tuple(story for story in our_stories() for _ in range(story.weight))
