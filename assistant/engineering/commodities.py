"""The table of what is stored: temperatures, freezing and chilling, heat, breathing, with the source of each row.

The figures stand in `data/commodities.csv`, degrees Celsius; a blank is a figure that we do not hold.
HB66: USDA Agriculture Handbook 66. AE-103: Refrigeration Manual Part 3 (Emerson AE-103 R3), tables after ASHRAE.
"""

import csv
import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Final

from assistant.engineering.contents import MW_PER_MG_CO2
from assistant.engineering.errors import OutOfRangeError, in_range, row_of

RATES_AT_C: Final = (0.0, 5.0, 10.0, 15.0, 20.0)
CLEAR_OF_FREEZING_K: Final = 0.5
"""Kept between target and freezing point, besides half the switching band (common practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Commodity:
    """One row. `co2_mg_kg_h` belongs to `RATES_AT_C`; None: not held."""

    commodity: str
    name: str
    kind: str
    store_from_c: float
    store_to_c: float
    rh_from_pct: float | None
    rh_to_pct: float | None
    freezes_c: float | None
    chills_below_c: float | None
    heat_kj_kgk: float | None
    water_pct: float | None
    co2_mg_kg_h: tuple[float | None, ...]
    ethylene_makes: str
    ethylene_minds: str
    keeps: str
    source: str


@cache
def all_commodities() -> Mapping[str, Commodity]:
    """Every row by its id, in the order of the file.

    >>> all_commodities()["strawberries"].freezes_c
    -0.8
    """
    text = files("assistant.engineering").joinpath("data", "commodities.csv").read_text(encoding="utf-8")
    rows = [_row(line) for line in csv.DictReader(text.splitlines())]
    return MappingProxyType({row.commodity: row for row in rows})


def _row(line: dict[str, str]) -> Commodity:
    return Commodity(
        commodity=line["commodity"],
        name=line["name"],
        kind=line["kind"],
        store_from_c=float(line["store_from_c"]),
        store_to_c=float(line["store_to_c"]),
        rh_from_pct=_number(line["rh_from_pct"]),
        rh_to_pct=_number(line["rh_to_pct"]),
        freezes_c=_number(line["freezes_c"]),
        chills_below_c=_number(line["chills_below_c"]),
        heat_kj_kgk=_number(line["heat_kj_kgk"]),
        water_pct=_number(line["water_pct"]),
        co2_mg_kg_h=tuple(_number(line[f"co2_mg_kg_h_{at_c:.0f}c"]) for at_c in RATES_AT_C),
        ethylene_makes=line["ethylene_makes"],
        ethylene_minds=line["ethylene_minds"],
        keeps=line["keeps"],
        source=line["source"],
    )


def _number(cell: str) -> float | None:
    return float(cell) if cell else None


def commodity(name: str) -> Commodity:
    """The row under an id; fails with `OutOfRangeError` that lists the ids.

    >>> commodity("broccoli").name
    'Broccoli'
    """
    return row_of("commodity", name, all_commodities())


def advised_target_c(stored: Commodity, band_k: float) -> float:
    """The lowest target that keeps clear of freezing: storage minimum, or freezing + 0.5 K + half the band.

    `band_k` is the switching band, 0.1 to 6 K.

    >>> advised_target_c(commodity("lettuce_crisphead"), 2.0)
    1.3
    """
    in_range("switching band", band_k, 0.1, 6.0, "K")
    if stored.freezes_c is None:
        return stored.store_from_c
    return round(max(stored.store_from_c, stored.freezes_c + CLEAR_OF_FREEZING_K + band_k / 2.0), 2)


def respiration_mw_kg(stored: Commodity, at_c: float) -> float:
    """Heat of respiration at a temperature between those with a figure, straight in the logarithm.

    Fails with `OutOfRangeError` outside them, and for a row without figures.

    >>> round(respiration_mw_kg(commodity("broccoli"), 5.0))
    101
    """
    held = [(c, rate) for c, rate in zip(RATES_AT_C, stored.co2_mg_kg_h, strict=True) if rate is not None]
    if not held:
        raise OutOfRangeError(
            f"no rate of respiration is held for {stored.name}; leave it out, or give mW/kg yourself"
        )
    in_range(
        f"temperature of {stored.name}",
        at_c,
        held[0][0],
        held[-1][0],
        "°C",
        mend="only between known figures",
    )
    below = max((pair for pair in held if pair[0] <= at_c), key=lambda pair: pair[0])
    above = min((pair for pair in held if pair[0] >= at_c), key=lambda pair: pair[0])
    share = 0.0 if below == above else (at_c - below[0]) / (above[0] - below[0])
    log_rate = (1.0 - share) * math.log(below[1]) + share * math.log(above[1])
    return MW_PER_MG_CO2 * math.exp(log_rate)
