"""Whether a surface sweats or frosts: its temperature against the dew or frost point of the air that touches it."""

from dataclasses import dataclass
from typing import Final, Literal

from assistant.engineering.air import Air
from assistant.engineering.errors import in_range

Wetness = Literal["dry", "sweats", "frosts"]
FREEZING_C: Final = 0.0
STILL_AIR_W_M2K: Final = 9.3
"""Film of still air (ASHRAE Handbook - Refrigeration, refrigerated-facility loads)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Surface:
    """A surface, the air that touches it, and what happens there."""

    wetness: Wetness
    surface_c: float
    dew_point_c: float
    margin_k: float
    """How much warmer than the dew or frost point it is; below 0: wet."""


def touched_surface(surface_c: float, touching: Air) -> Surface:
    """Whether a surface of `surface_c` stays dry in this air.

    Fails with `OutOfRangeError` outside -60 to 60 °C.

    >>> from assistant.engineering.air import moist_air
    >>> touched_surface(18.0, moist_air(30.0, 60.0)).wetness, touched_surface(-5.0, moist_air(4.0, 85.0)).wetness
    ('sweats', 'frosts')
    """
    in_range("surface temperature", surface_c, -60.0, 60.0, "°C")
    margin_k = surface_c - touching.dew_point_c
    wet: Wetness = "frosts" if surface_c < FREEZING_C else "sweats"
    return Surface(
        wetness=wet if margin_k < 0.0 else "dry",
        surface_c=surface_c,
        dew_point_c=touching.dew_point_c,
        margin_k=margin_k,
    )


def outer_wall(
    u_w_m2k: float, room_c: float, outside: Air, *, film_w_m2k: float = STILL_AIR_W_M2K
) -> Surface:
    """Whether the outer face of a wall sweats: the heat that goes in cools the face below the air around it.

    `u_w_m2k` from 0.05 to the film itself. T_face = T_out - U (T_out - T_room) / film.

    >>> from assistant.engineering.air import moist_air
    >>> outer_wall(0.23, 4.0, moist_air(30.0, 85.0)).wetness, outer_wall(2.5, 4.0, moist_air(30.0, 85.0)).wetness
    ('dry', 'sweats')
    """
    in_range("film", film_w_m2k, 1.0, 60.0, "W/m²K")
    in_range(
        "U of the wall", u_w_m2k, 0.05, film_w_m2k, "W/m²K", mend="U of a wall is never above its own film"
    )
    in_range("room temperature", room_c, -40.0, 40.0, "°C")
    return touched_surface(outside.air_c - u_w_m2k * (outside.air_c - room_c) / film_w_m2k, outside)
