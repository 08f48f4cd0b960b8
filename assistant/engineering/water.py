"""Water that outdoor air brings into the room, and the ice it can become."""

from dataclasses import dataclass

from assistant.engineering.air import Air
from assistant.engineering.errors import in_range
from assistant.engineering.infiltration import Door, heat_by_door_w, open_door_m3_s


@dataclass(frozen=True, slots=True, kw_only=True)
class Brought:
    """Water and heat, per cubic metre of entering air or for a whole opening."""

    water_g: float
    heat_kj: float


def brought_by_m3(outside: Air, room: Air) -> Brought:
    """What one cubic metre of entering air leaves in the room; below 0: it dries or cools it.

    >>> from assistant.engineering.air import moist_air
    >>> found = brought_by_m3(moist_air(30.0, 60.0), moist_air(4.0, 85.0))
    >>> round(found.water_g, 1), round(found.heat_kj)
    (13.4, 64)
    """
    return Brought(
        water_g=1000.0 * (outside.water_kg_kg - room.water_kg_kg) / outside.volume_m3_kg,
        heat_kj=(outside.enthalpy_kj_kg - room.enthalpy_kj_kg) / outside.volume_m3_kg,
    )


def brought_by_opening(
    door: Door, outside: Air, room: Air, seconds: float, *, flow_factor: float = 0.8
) -> Brought:
    """What one opening of a door leaves in the room, 1 to 3600 s; the flow factor as in `infiltration`.

    >>> from assistant.engineering.air import moist_air
    >>> door = Door(wide_m=0.9, high_m=2.0, passages=1)
    >>> round(brought_by_opening(door, moist_air(30.0, 60.0), moist_air(4.0, 85.0), 15.0).water_g)
    93
    """
    in_range("seconds open", seconds, 1.0, 3600.0, "s")
    in_range("flow factor", flow_factor, 0.1, 1.1)
    room_air_kg = open_door_m3_s(door, outside, room) * room.density_kg_m3 * flow_factor * seconds
    dry_kg = room_air_kg / (1.0 + room.water_kg_kg)
    return Brought(
        water_g=1000.0 * dry_kg * (outside.water_kg_kg - room.water_kg_kg),
        heat_kj=room_air_kg * (outside.enthalpy_kj_kg - room.enthalpy_kj_kg),
    )


def ice_a_day_kg(door: Door, outside: Air, room: Air) -> float:
    """Water through the door in a day, all of which a coil below freezing turns to ice.

    >>> from assistant.engineering.air import moist_air
    >>> round(ice_a_day_kg(Door(wide_m=0.9, high_m=2.0, passages=60), moist_air(30.0, 60.0), moist_air(4.0, 85.0)), 1)
    5.6
    """
    per_m3 = brought_by_m3(outside, room)
    day_kj = heat_by_door_w(door, outside, room) * 86.4
    return 0.0 if per_m3.heat_kj <= 0.0 else max(0.0, day_kj * per_m3.water_g / per_m3.heat_kj / 1000.0)
