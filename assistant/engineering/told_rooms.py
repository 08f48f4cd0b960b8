"""A room as its owner tells of it: what was said, the usual for what was not, and the heat load of each combination.

Nothing that nobody said is hidden: every combination says which guesses it stands on, and which guess could turn a
result is told, so that only that is asked.
"""

import itertools
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Final, Literal

from assistant.engineering.errors import in_range
from assistant.engineering.infiltration import Use
from assistant.engineering.insulation import Layer, u_w_m2k
from assistant.engineering.load import Batch, Load, RoomJob, heat_load, net_heat_w
from assistant.engineering.transmission import box_faces

Walls = Literal["foam", "thin_or_fibrous", "wet_or_rotten"]
DoorUse = Literal["usual", "often_or_propped"]

USUAL_HIGH_M: Final = 2.4
USUAL_TARGET_C: Final = 3.3
USUAL_FROM_C: Final = 25.0
USUAL_HEAT_KJ_KGK: Final = 3.8
STORED_DAYS: Final = 4.0
"""What a room holds, in days of what comes in (common practice, no source)."""

HOLDS_KG_M3: Final = 120.0
"""Boxes on shelves with aisles, of the whole volume (common practice, no source)."""

FOAM_W_MK: Final = 0.026
FIBRE_W_MK: Final = 0.046
WET_W_MK: Final = 0.08
"""Closed-cell foam and glass fibre as in `insulation`; wet: what a tenth of water makes of foam at the most."""

GOOD_FOAM_M: Final = 0.1
"""Four inches of closed-cell foam: R-25, the US rule for walk-in coolers (10 CFR 431.306)."""

Guess = tuple[tuple[float, float], ...]
FOAM_GUESS_M: Final[Mapping[Walls | None, Guess]] = MappingProxyType(
    {
        None: ((0.05, 0.25), (0.075, 0.25), (0.1, 0.35), (0.15, 0.15)),
        "foam": ((0.075, 0.35), (0.1, 0.45), (0.15, 0.2)),
        "thin_or_fibrous": ((0.025, 0.3), (0.05, 0.4), (0.09, 0.3)),
        "wet_or_rotten": ((0.05, 0.4), (0.09, 0.6)),
    }
)
OUTDOOR_GUESS_C: Final[Guess] = ((25.0, 0.3), (30.0, 0.4), (35.0, 0.3))
OFTEN_GUESS: Final[Guess] = ((0.0, 0.7), (1.0, 0.3))
PRODUCT_GUESS: Final[Guess] = ((0.0, 0.6), (0.1, 0.4))
"""Value and weight; product as a share of what the room holds. A warm season's farm room (common practice, no source)."""

BIG_LOAD_SHARE: Final = 0.25
"""A load that people call big: over a fifth of what the room holds (common practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldRoom:
    """What was told of a room; None is not told. Lengths are inside or outside: walls are thin beside the room."""

    long_m: float
    wide_m: float
    high_m: float | None = None
    walls: Walls | None = None
    foam_m: float | None = None
    target_c: float | None = None
    outdoor_c: float | None = None
    door_use: DoorUse | None = None
    product_kg: float | None = None
    """Warm product a day."""
    big_load: bool | None = None
    """Without kilograms: a big warm load lately, or none."""
    product_from_c: float | None = None
    heat_kj_kgk: float | None = None
    respiration_mw_kg: float = 0.0

    @property
    def volume_m3(self) -> float:
        """Of the box."""
        return self.long_m * self.wide_m * (USUAL_HIGH_M if self.high_m is None else self.high_m)

    @property
    def holds_kg(self) -> float:
        """What goes into it, roughly."""
        return HOLDS_KG_M3 * self.volume_m3


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """One way in which the room may be, and its load at a room temperature."""

    weight: float
    guessed: tuple[tuple[str, float], ...]
    """What was guessed: name and value."""
    room: ToldRoom
    """With the guesses filled in."""

    def load_at(self, room_c: float) -> Load:
        """The heat load with the room at `room_c`."""
        return heat_load(_job(self.room, room_c))

    def net_w_at(self, room_c: float) -> float:
        """The same as one number, which may be below 0 in a warm room on cool ground."""
        return net_heat_w(_job(self.room, room_c))

    @property
    def load(self) -> Load:
        """The heat load at the target."""
        return self.load_at(USUAL_TARGET_C if self.room.target_c is None else self.room.target_c)


def ways_of(told: ToldRoom) -> tuple[Way, ...]:
    """Every combination of the usual for what was not told; the weights sum to 1.

    Fails with `OutOfRangeError` on a box that is no room.

    >>> len(ways_of(ToldRoom(long_m=3.0, wide_m=2.4, foam_m=0.1, outdoor_c=35.0, door_use="usual", product_kg=0.0)))
    1
    """
    for what, side_m, least_m in (
        ("length", told.long_m, 0.8),
        ("width", told.wide_m, 0.8),
        ("height", USUAL_HIGH_M if told.high_m is None else told.high_m, 1.2),
    ):
        in_range(
            f"the room's {what}", side_m, least_m, 30.0, "m", mend="give the room's length, width and height"
        )
    return tuple(_ways(told))


def _ways(told: ToldRoom) -> Iterator[Way]:
    guesses: dict[str, Guess] = {}
    if told.foam_m is None:
        guesses["foam_m"] = FOAM_GUESS_M[told.walls]
    if told.outdoor_c is None:
        guesses["outdoor_c"] = OUTDOOR_GUESS_C
    if told.door_use is None:
        guesses["door_often"] = OFTEN_GUESS
    if told.product_kg is None and told.big_load is None:
        guesses["product_kg"] = tuple((share * told.holds_kg, weight) for share, weight in PRODUCT_GUESS)
    for chosen in itertools.product(*guesses.values()):
        weight = 1.0
        for _, share in chosen:
            weight *= share
        values = {name: value for name, (value, _) in zip(guesses, chosen, strict=True)}
        yield Way(weight=weight, guessed=tuple(values.items()), room=_filled(told, values))


def _filled(told: ToldRoom, values: Mapping[str, float]) -> ToldRoom:
    known_kg = BIG_LOAD_SHARE * told.holds_kg if told.big_load else 0.0
    often: DoorUse = "often_or_propped" if values.get("door_often") else "usual"
    return replace(
        told,
        foam_m=values.get("foam_m", told.foam_m),
        outdoor_c=values.get("outdoor_c", told.outdoor_c),
        door_use=told.door_use or often,
        product_kg=values.get("product_kg", known_kg if told.product_kg is None else told.product_kg),
    )


def _job(room: ToldRoom, room_c: float) -> RoomJob:
    assert room.foam_m is not None and room.outdoor_c is not None and room.product_kg is not None  # noqa: S101, PT018 - filled
    high_m = USUAL_HIGH_M if room.high_m is None else room.high_m
    wall = Layer(material="wall", thick_m=room.foam_m, conductivity_w_mk=_conductivity_w_mk(room.walls))
    from_c = max(USUAL_FROM_C if room.product_from_c is None else room.product_from_c, room_c)
    heat_kj_kgk = USUAL_HEAT_KJ_KGK if room.heat_kj_kgk is None else room.heat_kj_kgk
    use: Use = "heavy" if room.door_use == "often_or_propped" else "average"
    return RoomJob(
        room_c=room_c,
        outside_c=max(room.outdoor_c, room_c),
        volume_m3=room.volume_m3,
        faces=box_faces(room.long_m, room.wide_m, high_m, u_w_m2k=u_w_m2k([wall]), outside_c=room.outdoor_c),
        use=use,
        batches=(Batch(mass_kg=room.product_kg, from_c=from_c, heat_kj_kgk=heat_kj_kgk),)
        if room.product_kg
        else (),
        stored_kg=min(STORED_DAYS * room.product_kg, room.holds_kg),
        respiration_mw_kg=room.respiration_mw_kg,
    )


def _conductivity_w_mk(walls: Walls | None) -> float:
    if walls == "thin_or_fibrous":
        return FIBRE_W_MK
    return WET_W_MK if walls == "wet_or_rotten" else FOAM_W_MK


def good_walls(room: ToldRoom) -> ToldRoom:
    """The same room with four inches of dry foam."""
    return replace(room, walls="foam", foam_m=max(room.foam_m or 0.0, GOOD_FOAM_M))
