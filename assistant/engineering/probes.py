"""Whether thermometers agree, what the ice point says, and what temperature a probe's resistance means."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final, Literal

from assistant.engineering.errors import OutOfRangeError, in_range, row_of

Agreement = Literal["agree", "differ"]
Pair = Literal["own_probes", "separate"]
Wiring = Literal["open", "short", "plausible"]
Family = Literal["b3977", "b3950", "b3435"]

KELVIN: Final = 273.15
R25_OHM: Final = 10_000.0
T25_K: Final = 298.15

ALLOWED_K: Final[Mapping[Pair, float]] = MappingProxyType({"own_probes": 1.11, "separate": 2.22})
"""2 °F for one controller's two probes in the same air, 4 °F for two instruments (common practice, no source)."""

ICE_K: Final = 0.1
"""What a careful ice bath reproduces (common practice)."""

STEINHART_HART: Final = (1.129241e-3, 2.341077e-4, 8.775468e-8)
"""10 kohm at 25 °C, B 25/85 3977 K: coefficients from memory; they meet the manual of the 109SS probe to 0.003 K."""

BETA_K: Final[Mapping[Family, float]] = MappingProxyType({"b3950": 3950.0, "b3435": 3435.0})
OPEN_ABOVE_OHM: Final = 200_000.0
SHORT_BELOW_OHM: Final = 1_000.0
PT100_A: Final = 3.9083e-3
PT100_B: Final = -5.775e-7
PT100_C: Final = -4.183e-12
"""IEC 60751 (from memory)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """Two readings side by side."""

    agreement: Agreement
    difference_k: float
    """First minus second."""

    allowed_k: float
    settles: bool
    """Whether this says which one is off: only a comparison with the ice point does."""


def side_by_side(
    first_c: float, second_c: float, pair: Pair, *, accuracies_k: tuple[float, float] | None = None
) -> Comparison:
    """Whether two probes in the same moving air agree; with stated accuracies these decide, root of squares.

    Fails with `OutOfRangeError` outside -50 to 90 °C, 0.05 to 10 K.

    >>> side_by_side(4.0, 6.0, "separate").agreement, side_by_side(4.0, 6.0, "own_probes").agreement
    ('agree', 'differ')
    """
    allowed_k = row_of("pair", pair, ALLOWED_K)
    if accuracies_k is not None:
        allowed_k = math.hypot(
            *(in_range("stated accuracy", one_k, 0.05, 10.0, "K") for one_k in accuracies_k)
        )
    difference_k = _reading(first_c) - _reading(second_c)
    agreement: Agreement = "agree" if abs(difference_k) <= allowed_k else "differ"
    return Comparison(agreement=agreement, difference_k=difference_k, allowed_k=allowed_k, settles=False)


def ice_point(reading_c: float, accuracy_k: float) -> Comparison:
    """A probe in stirred crushed ice and water, against 0 °C and its stated accuracy.

    >>> ice_point(1.8, 1.0).agreement, ice_point(0.4, 0.5).agreement
    ('differ', 'agree')
    """
    in_range("stated accuracy", accuracy_k, 0.05, 10.0, "K")
    allowed_k = math.hypot(accuracy_k, ICE_K)
    difference_k = in_range(
        "reading in ice water", reading_c, -15.0, 15.0, "°C", mend="stir and wait three minutes"
    )
    agreement: Agreement = "agree" if abs(difference_k) <= allowed_k else "differ"
    return Comparison(agreement=agreement, difference_k=difference_k, allowed_k=allowed_k, settles=True)


def _reading(reading_c: float) -> float:
    return in_range("reading", reading_c, -50.0, 90.0, "°C")


def probe_wiring(resistance_ohm: float) -> Wiring:
    """Whether a 10 kohm probe's resistance is that of a probe at all.

    >>> probe_wiring(32_650.0), probe_wiring(2e6), probe_wiring(3.0)
    ('plausible', 'open', 'short')
    """
    in_range("resistance", resistance_ohm, 0.0, math.inf, "ohm")
    if resistance_ohm > OPEN_ABOVE_OHM:
        return "open"
    return "short" if resistance_ohm < SHORT_BELOW_OHM else "plausible"


def thermistor_c(resistance_ohm: float, family: Family = "b3977") -> float:
    """Temperature of a 10 kohm (25 °C) thermistor by its resistance, from `SHORT_BELOW_OHM` to 400 kohm.

    Fails with `OutOfRangeError` outside: no probe, but an open or shorted lead.

    >>> abs(round(thermistor_c(32_650.9), 2))
    0.0
    """
    mend = "see `probe_wiring`: an open or shorted lead has no temperature"
    in_range("resistance", resistance_ohm, SHORT_BELOW_OHM, 400_000.0, "ohm", mend=mend)
    if family == "b3977":
        a, b, c = STEINHART_HART
        log_r = math.log(resistance_ohm)
        return 1.0 / (a + b * log_r + c * log_r**3) - KELVIN
    return beta_c(resistance_ohm, R25_OHM, T25_K - KELVIN, row_of("thermistor family", family, BETA_K))


def thermistor_ohm(probe_c: float, family: Family = "b3977") -> float:
    """Resistance of a 10 kohm thermistor, -40 to 80 °C.

    Steinhart-Hart is solved for ln R in closed form: u³ + (b/c) u + (a - 1/T)/c = 0 has one real root.

    >>> round(thermistor_ohm(25.0), -1)
    10000.0
    """
    kelvin = in_range("probe temperature", probe_c, -40.0, 80.0, "°C") + KELVIN
    if family != "b3977":
        return R25_OHM * math.exp(row_of("thermistor family", family, BETA_K) * (1.0 / kelvin - 1.0 / T25_K))
    a, b, c = STEINHART_HART
    half_q, third_p = (a - 1.0 / kelvin) / (2.0 * c), b / (3.0 * c)
    root = math.sqrt(half_q**2 + third_p**3)
    return math.exp(math.cbrt(root - half_q) - math.cbrt(root + half_q))


def beta_c(resistance_ohm: float, known_ohm: float, known_c: float, beta_k: float) -> float:
    """Temperature by the Beta equation from one known pair: 1/T = 1/T0 + ln(R/R0)/B.

    >>> round(beta_c(2500.0, 1000.0, 293.0 - 273.15, 3450.0) + 273.15, 3)
    271.845
    """
    for what, value in (("resistance", resistance_ohm), ("known resistance", known_ohm)):
        in_range(what, value, 1.0, 1e7, "ohm")
    in_range("Beta", beta_k, 1000.0, 6000.0, "K")
    inverse_k = 1.0 / (known_c + KELVIN) + math.log(resistance_ohm / known_ohm) / beta_k
    return 1.0 / inverse_k - KELVIN


def beta_error_k(
    resistance_ohm: float,
    known_ohm: float,
    probe_c: float,
    beta_k: float,
    *,
    error_ohm: float,
    known_error_ohm: float,
) -> float:
    """Error of `beta_c` by those of both resistances, root of squares: T²/B times each relative error.

    >>> round(beta_error_k(2500.0, 1000.0, -1.305, 3450.0, error_ohm=5.0, known_error_ohm=2.0), 3)
    0.061
    """
    if min(error_ohm, known_error_ohm) < 0.0:
        raise OutOfRangeError("an error of a resistance is below 0; give it as a plain amount")
    return (
        (probe_c + KELVIN) ** 2 / beta_k * math.hypot(error_ohm / resistance_ohm, known_error_ohm / known_ohm)
    )


def misread_c(
    true_c: float, *, series_ohm: float = 0.0, parallel_ohm: float | None = None, family: Family = "b3977"
) -> float:
    """What a probe shows with a corroded plug in series or a wet lead in parallel.

    >>> round(misread_c(0.0, series_ohm=1000.0), 1), round(misread_c(0.0, parallel_ohm=100_000.0), 1)
    (-0.6, 5.6)
    """
    in_range("resistance in series", series_ohm, 0.0, 300_000.0, "ohm")
    seen_ohm = thermistor_ohm(true_c, family)
    if parallel_ohm is not None:
        in_range("resistance in parallel", parallel_ohm, 100.0, 1e9, "ohm")
        seen_ohm = seen_ohm * parallel_ohm / (seen_ohm + parallel_ohm)
    return thermistor_c(seen_ohm + series_ohm, family)


def pt100_ohm(probe_c: float) -> float:
    """Resistance of a Pt100, -100 to 200 °C, by IEC 60751.

    >>> round(pt100_ohm(100.0), 2)
    138.51
    """
    in_range("probe temperature", probe_c, -100.0, 200.0, "°C")
    below = PT100_C * (probe_c - 100.0) * probe_c**3 if probe_c < 0.0 else 0.0
    return 100.0 * (1.0 + PT100_A * probe_c + PT100_B * probe_c**2 + below)


def pt100_c(resistance_ohm: float) -> float:
    """Temperature of a Pt100, 0 to 200 °C: the quadratic above 0 °C, solved.

    >>> round(pt100_c(138.506), 1)
    100.0
    """
    in_range("resistance", resistance_ohm, 100.0, 175.9, "ohm")
    return (-PT100_A + math.sqrt(PT100_A**2 - 4.0 * PT100_B * (1.0 - resistance_ohm / 100.0))) / (
        2.0 * PT100_B
    )
