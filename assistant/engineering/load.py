"""The whole heat load of a room, itemised: which term dominates, and what fixing that one is worth."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from assistant.engineering.air import moist_air
from assistant.engineering.contents import chill, electric_w, people_w, respiration_w
from assistant.engineering.errors import OutOfRangeError, in_range
from assistant.engineering.footing import Footing, Term
from assistant.engineering.infiltration import Door, Use, changes_a_day, heat_by_changes_w, heat_by_door_w
from assistant.engineering.transmission import Face, transmission

USUAL_ROOM_RH_PCT: Final = 85.0
USUAL_OUTSIDE_RH_PCT: Final = 50.0
USUAL_SAFETY: Final = 0.10
"""AIRAH, Australian Refrigeration and Air-conditioning vol. 2, ch. 6."""

USUAL_RUN_HOURS: Final = 16.0
"""Rooms above 2 °C that thaw in the rests: 16-18 h a day (AE-103 R3; AIRAH vol. 2, ch. 6)."""

DAY_H: Final = 24.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Batch:
    """Product that comes in each day, `hours` allowed to cool it; heat of respiration is that of all that is stored."""

    mass_kg: float
    from_c: float
    heat_kj_kgk: float
    hours: float = DAY_H


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomJob:
    """All that a load asks of a room; what is None was not told and is taken from the usual."""

    room_c: float
    outside_c: float
    volume_m3: float
    faces: tuple[Face, ...]
    door: Door | None = None
    use: Use = "average"
    room_rh_pct: float | None = None
    outside_rh_pct: float | None = None
    batches: tuple[Batch, ...] = ()
    stored_kg: float = 0.0
    respiration_mw_kg: float = 0.0
    people: float = 0.0
    people_hours: float = 0.0
    lights_w: float = 0.0
    lights_hours: float = 0.0
    fans_w: float = 0.0
    safety: float | None = None
    run_hours: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Worth:
    """A mend of one term, and the share of the whole load that it takes away."""

    mend: str
    saves_w: float
    saves_share: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """Mean heat over a day, term by term, and the capacity that carries it in the hours a unit runs."""

    terms: tuple[Term, ...]
    total_w: float
    """Safety included."""

    required_w: float
    dominant: Term
    worth: Worth | None
    footing: Footing


MENDS: Final[Mapping[str, tuple[str, float]]] = MappingProxyType(
    {
        "walls": ("twice_the_insulation", 0.5),
        "ceiling": ("twice_the_insulation", 0.5),
        "floor": ("insulate_the_floor", 0.7),
        "door": ("strip_curtain", 0.85),
        "air_changes": ("half_the_door_use_and_leaks", 0.5),
        "product": ("half_as_much_a_day", 0.5),
        "lights": ("lights_off_when_out", 0.8),
        "fans": ("smaller_fans", 0.3),
    }
)
"""What a mend takes off its term: strip curtain from ASHRAE Refrigeration (from memory), the rest common practice."""


def heat_load(job: RoomJob) -> Load:
    """The load of a room above -40 °C by term: walls, air, product, respiration, people, lights, fans.

    Infiltration is by the door's use if a `door` is told, else by the table of air changes.
    Fails with `OutOfRangeError` on any input outside its range, or where nothing warms the room.
    Source: structure of ASHRAE Handbook - Refrigeration, refrigerated-facility loads.
    """
    terms, safety = _terms(job), _safety(job)
    run_hours = in_range(
        "run hours", USUAL_RUN_HOURS if job.run_hours is None else job.run_hours, 4.0, DAY_H, "h"
    )
    total_w = (1.0 + safety) * sum(term.mean_w for term in terms)
    if total_w <= 0.0:
        raise OutOfRangeError(
            f"the load is {total_w:.0f} W: nothing warms this room; check room and outdoor temperature"
        )
    dominant = max(terms, key=lambda term: (term.mean_w, term.name))
    return Load(
        terms=terms,
        total_w=total_w,
        required_w=total_w * DAY_H / run_hours,
        dominant=dominant,
        worth=_worth(dominant, total_w, safety),
        footing=_footing(job),
    )


def net_heat_w(job: RoomJob) -> float:
    """The load, safety included; below 0 where the ground or the air outside would cool the room further."""
    return (1.0 + _safety(job)) * sum(term.mean_w for term in _terms(job))


def _terms(job: RoomJob) -> tuple[Term, ...]:
    return (
        *transmission(job.faces, job.room_c),
        _infiltration(job),
        Term(name="product", mean_w=sum(_batch_w(batch, job.room_c) for batch in job.batches)),
        Term(name="respiration", mean_w=respiration_w(job.stored_kg, job.respiration_mw_kg)),
        Term(name="people", mean_w=people_w(job.people, job.people_hours, job.room_c)),
        Term(name="lights", mean_w=electric_w(job.lights_w, job.lights_hours)),
        Term(name="fans", mean_w=electric_w(job.fans_w, DAY_H)),
    )


def _safety(job: RoomJob) -> float:
    return in_range("safety", USUAL_SAFETY if job.safety is None else job.safety, 0.0, 0.5)


def _infiltration(job: RoomJob) -> Term:
    outside = moist_air(
        job.outside_c, USUAL_OUTSIDE_RH_PCT if job.outside_rh_pct is None else job.outside_rh_pct
    )
    inside = moist_air(job.room_c, USUAL_ROOM_RH_PCT if job.room_rh_pct is None else job.room_rh_pct)
    if job.door is not None:
        return Term(name="door", mean_w=heat_by_door_w(job.door, outside, inside))
    changes = changes_a_day(job.volume_m3, below_freezing=job.room_c < 0.0, use=job.use)
    return Term(name="air_changes", mean_w=heat_by_changes_w(job.volume_m3, changes, outside, inside))


def _batch_w(batch: Batch, room_c: float) -> float:
    """Product comes in once a day: its heat is spread over the day, whatever hours the cooling is allowed."""
    cooled = chill(batch.mass_kg, batch.from_c, room_c, batch.hours, above_kj_kgk=batch.heat_kj_kgk)
    return cooled.mean_w * batch.hours / DAY_H


def _worth(dominant: Term, total_w: float, safety: float) -> Worth | None:
    if dominant.name not in MENDS:
        return None
    mend, share = MENDS[dominant.name]
    saves_w = (1.0 + safety) * share * dominant.mean_w
    return Worth(mend=mend, saves_w=saves_w, saves_share=saves_w / total_w)


def _footing(job: RoomJob) -> Footing:
    optional = {
        "room_rh_pct": job.room_rh_pct,
        "outside_rh_pct": job.outside_rh_pct,
        "safety": job.safety,
        "run_hours": job.run_hours,
        "door": job.door,
    }
    return Footing(
        inputs=(
            ("room_c", job.room_c),
            ("outside_c", job.outside_c),
            ("volume_m3", job.volume_m3),
            *((f"{face.name}: area_m2", face.area_m2) for face in job.faces),
            *((f"{face.name}: u_w_m2k", face.u_w_m2k) for face in job.faces),
        ),
        defaults=tuple(name for name, told in optional.items() if told is None),
        holds="day means; infiltration ± 30-50 %, walls dry and as thick as told",
        source="ASHRAE Handbook - Refrigeration, refrigerated-facility loads; AE-103 R3",
    )
