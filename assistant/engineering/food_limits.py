"""Temperature limits of food by kind, stage and place: which rule, and what it measures. Local rules prevail.

No number here ever means that food is safe: the inspector or adviser decides, and hours that nobody knows count as too
many. Whole produce and flowers have no such limit: warmth costs them quality only.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final, Literal

FoodKind = Literal["milk", "eggs", "meat", "poultry", "fish", "kept at 41"]
Jurisdiction = Literal["US", "EU", "MX"]


@dataclass(frozen=True, slots=True, kw_only=True)
class FoodLimit:
    """The usual limit of one kind of food in one place."""

    limit_c: float
    of: Literal["product", "air"]
    rule: str
    """As it is cited to a customer."""
    stage: Literal["farm", "shop", "any"]


_US_COLD: Final = FoodLimit(limit_c=5.0, of="product", rule="FDA Food Code 3-501.16", stage="shop")
LIMITS: Final[Mapping[tuple[FoodKind, Jurisdiction], FoodLimit]] = MappingProxyType(
    {
        ("milk", "US"): FoodLimit(limit_c=7.2, of="product", rule="Grade A PMO", stage="farm"),
        ("eggs", "US"): FoodLimit(limit_c=7.2, of="air", rule="FDA Food Code 3-501.16", stage="any"),
        ("meat", "US"): _US_COLD,
        ("poultry", "US"): _US_COLD,
        ("fish", "US"): FoodLimit(limit_c=4.4, of="product", rule="21 CFR 123 guidance", stage="any"),
        ("kept at 41", "US"): _US_COLD,
        ("milk", "EU"): FoodLimit(limit_c=6.0, of="product", rule="Reg. 853/2004", stage="farm"),
        ("meat", "EU"): FoodLimit(limit_c=7.0, of="product", rule="Reg. 853/2004", stage="any"),
        ("poultry", "EU"): FoodLimit(limit_c=4.0, of="product", rule="Reg. 853/2004", stage="any"),
        ("milk", "MX"): FoodLimit(limit_c=7.0, of="product", rule="NOM-251-SSA1", stage="shop"),
        ("meat", "MX"): FoodLimit(limit_c=7.0, of="product", rule="NOM-251-SSA1", stage="shop"),
        ("poultry", "MX"): FoodLimit(limit_c=7.0, of="product", rule="NOM-251-SSA1", stage="shop"),
        ("fish", "MX"): FoodLimit(limit_c=7.0, of="product", rule="NOM-251-SSA1", stage="shop"),
        ("kept at 41", "MX"): FoodLimit(limit_c=7.0, of="product", rule="NOM-251-SSA1", stage="shop"),
    }
)
"""Food Code section read in state adoptions; PMO (45 °F), 853/2004 and NOM-251 from memory: a state may ask for less."""


def food_limit(kind: FoodKind, place: Jurisdiction | None) -> FoodLimit | None:
    """The usual limit; None where we hold none, or do not know the place.

    >>> limit = food_limit("kept at 41", "US")
    >>> None if limit is None else (limit.limit_c, limit.rule)
    (5.0, 'FDA Food Code 3-501.16')
    >>> food_limit("eggs", "EU") is None
    True
    """
    return None if place is None else LIMITS.get((kind, place))
