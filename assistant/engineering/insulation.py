"""How well a wall of layers keeps heat out: conductivities, U, framing, wet insulation."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from assistant.engineering.errors import OutOfRangeError, in_range, row_of

CONDUCTIVITY_W_MK: Final[Mapping[str, float]] = MappingProxyType(
    {
        "polyurethane": 0.026,
        "polyisocyanurate": 0.026,
        "closed_cell_spray": 0.025,
        "open_cell_spray": 0.040,
        "extruded_polystyrene": 0.033,
        "expanded_polystyrene": 0.037,
        "cork": 0.043,
        "glass_fibre": 0.046,
        "mineral_wool": 0.040,
        "cellulose": 0.043,
        "softwood": 0.115,
        "plywood": 0.115,
        "hardwood": 0.21,
        "particle_board": 0.108,
        "brick": 1.15,
        "concrete": 1.73,
        "steel": 50.0,
        "water": 0.58,
        "ice": 2.2,
    }
)
"""The leakier end of each printed range, as design values are chosen.

Sources: Refrigeration Manual Part 3 (Emerson AE-103 R3) table 4; AIRAH Australian Refrigeration and Air-conditioning
vol. 2, ch. 6; ASHRAE Handbook - Refrigeration, refrigerated-facility loads. Steel, water and ice from memory.
"""

FILM_STILL_W_M2K: Final = 9.3
FILM_WIND_W_M2K: Final = 34.0
"""Still air, and wind of 24 km/h (ASHRAE Handbook - Refrigeration, refrigerated-facility loads)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """A sheet of one material, 0.1 mm to 2 m thick; a key of `CONDUCTIVITY_W_MK`, or any with its conductivity."""

    material: str
    thick_m: float
    conductivity_w_mk: float | None = None
    """As printed on its sheet, 0.005 to 400; without it, that of the table."""

    def resistance_m2k_w(self) -> float:
        """Thickness over conductivity.

        >>> round(Layer(material="cork", thick_m=0.075).resistance_m2k_w(), 3)
        1.744
        """
        in_range(f"thickness of {self.material}", self.thick_m, 1e-4, 2.0, "m")
        if self.conductivity_w_mk is None:
            return self.thick_m / row_of("material", self.material, CONDUCTIVITY_W_MK)
        return self.thick_m / in_range("conductivity", self.conductivity_w_mk, 0.005, 400.0, "W/mK")


def u_w_m2k(
    layers: Sequence[Layer], *, film_in_w_m2k: float | None = None, film_out_w_m2k: float | None = None
) -> float:
    """Heat through a square metre per kelvin, layers one behind the other; a film left out is neglected.

    1/U = 1/h_in + Σ x/k + 1/h_out. Leaving out films is usual for insulated panels and on the safe side.
    Fails with `OutOfRangeError` without any layer, and on a material that the table lacks.

    >>> round(u_w_m2k([Layer(material="polyurethane", thick_m=0.1)]), 2)
    0.26
    """
    if not layers:
        raise OutOfRangeError("a wall has at least one layer; name its material and thickness")
    films = [
        in_range("film", film, 1.0, 60.0, "W/m²K")
        for film in (film_in_w_m2k, film_out_w_m2k)
        if film is not None
    ]
    return 1.0 / (sum(layer.resistance_m2k_w() for layer in layers) + sum(1.0 / film for film in films))


def u_framed_w_m2k(between: Sequence[Layer], through: Sequence[Layer], frame_share: float) -> float:
    """U of a framed wall by parallel paths: `frame_share` (0 to 0.5) of the area goes through the studs.

    Holds for wood; studs of metal leak more than this.
    Source: ASHRAE Handbook - Fundamentals, ch. 25-27 (parallel-path method; from memory).
    """
    in_range("share of the studs", frame_share, 0.0, 0.5, mend="0.15-0.25 is usual for wooden walls")
    return (1.0 - frame_share) * u_w_m2k(between) + frame_share * u_w_m2k(through)


def wet_conductivity_w_mk(dry_w_mk: float, water_share: float) -> float:
    """The most that insulation with `water_share` of its volume (0 to 1) soaked conducts.

    The bound of layers side by side: real wet insulation lies below it.

    >>> round(wet_conductivity_w_mk(0.025, 0.05), 3)        # a twentieth of water can double the heat
    0.053
    """
    in_range("share of water", water_share, 0.0, 1.0)
    in_range("dry conductivity", dry_w_mk, 0.01, 1.0, "W/mK")
    return (1.0 - water_share) * dry_w_mk + water_share * CONDUCTIVITY_W_MK["water"]
