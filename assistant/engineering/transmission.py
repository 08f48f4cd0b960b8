"""Heat that comes through walls, ceiling and floor, face by face."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final, Literal

from assistant.engineering.errors import in_range
from assistant.engineering.footing import Term

Shade = Literal["dark", "medium", "light"]
Facing = Literal["east", "towards_noon", "west", "flat_roof"]

SUN_K: Final[Mapping[tuple[Shade, Facing], float]] = MappingProxyType(
    {
        ("dark", "east"): 5.0,
        ("dark", "towards_noon"): 3.0,
        ("dark", "west"): 5.0,
        ("dark", "flat_roof"): 11.0,
        ("medium", "east"): 4.0,
        ("medium", "towards_noon"): 3.0,
        ("medium", "west"): 4.0,
        ("medium", "flat_roof"): 9.0,
        ("light", "east"): 3.0,
        ("light", "towards_noon"): 2.0,
        ("light", "west"): 3.0,
        ("light", "flat_roof"): 5.0,
    }
)
"""Added to the temperature difference of a sunlit face; the wall towards noon is the south one north of the equator.

Source: Refrigeration Manual Part 3 (Emerson AE-103 R3) table 6, from ASHRAE; whole kelvins, the larger of two.
"""

GROUND_C: Final = 12.8
"""Ground under a slab (AE-103 R3, worked job: 55 °F under a summer of 100 °F); warmer in hot climates."""

SLAB_W_M2K: Final = 1.18
"""A bare slab on grade with the soil below it, R 0.85 m²K/W (engineering manual H-ENGM0408, 2008, as printed)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """One face of the room: area by outside dimensions, what lies beyond it, and the sun on it in kelvin."""

    name: str
    area_m2: float
    u_w_m2k: float
    outside_c: float
    sun_k: float = 0.0


def heat_through_w(face: Face, room_c: float) -> float:
    """U A (T_out + sun - T_room), below 0 if heat leaves the room.

    Fails with `OutOfRangeError` outside 0-1000 m², 0.05-20 W/m²K, -50 to 70 °C, 0-25 K.

    >>> round(heat_through_w(Face(name="wall", area_m2=6.0, u_w_m2k=0.5733, outside_c=36.0), 2.0))
    117
    """
    in_range(f"area of {face.name}", face.area_m2, 0.0, 1000.0, "m²")
    in_range(f"U of {face.name}", face.u_w_m2k, 0.05, 20.0, "W/m²K")
    in_range(f"temperature beyond {face.name}", face.outside_c, -50.0, 70.0, "°C")
    in_range(f"sun on {face.name}", face.sun_k, 0.0, 25.0, "K")
    return face.u_w_m2k * face.area_m2 * (face.outside_c + face.sun_k - room_c)


def transmission(faces: Sequence[Face], room_c: float) -> tuple[Term, ...]:
    """Every face with its heat, in the order given."""
    in_range("room temperature", room_c, -40.0, 40.0, "°C")
    return tuple(Term(name=face.name, mean_w=heat_through_w(face, room_c)) for face in faces)


def box_faces(
    long_m: float,
    wide_m: float,
    high_m: float,
    *,
    u_w_m2k: float,
    outside_c: float,
    floor_u_w_m2k: float = SLAB_W_M2K,
    ground_c: float = GROUND_C,
) -> tuple[Face, ...]:
    """Walls, ceiling and floor of a box by its outside dimensions, 0.5 to 30 m.

    >>> sum(face.area_m2 for face in box_faces(8.0, 4.0, 2.8, u_w_m2k=0.26, outside_c=30.0))
    131.2
    """
    for what, side_m in (("length", long_m), ("width", wide_m), ("height", high_m)):
        in_range(what, side_m, 0.5, 30.0, "m")
    walls_m2 = 2.0 * (long_m + wide_m) * high_m
    return (
        Face(name="walls", area_m2=walls_m2, u_w_m2k=u_w_m2k, outside_c=outside_c),
        Face(name="ceiling", area_m2=long_m * wide_m, u_w_m2k=u_w_m2k, outside_c=outside_c),
        Face(name="floor", area_m2=long_m * wide_m, u_w_m2k=floor_u_w_m2k, outside_c=ground_c),
    )
