"""Made-up rooms that answer by text: two time constants, whole degrees F, a saw-tooth, sun and night, a slip.

No randomness: Halton's sequence (scipy.stats.qmc, unscrambled) spreads the rooms evenly over all that may vary.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from scipy.stats import qmc

from assistant.engineering.trend import RoomReading

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class MadeUpRoom:
    target_c: float
    ends_c: float
    readings: tuple[RoomReading, ...]


def rooms(
    count: int,
    fate: Literal["reaches", "stalls"],
    *,
    readings: int,
    span_taus: float | None = None,
    span_h: float = 0.0,
    slip_k: float = 0.0,
) -> Iterator[MadeUpRoom]:
    for u in qmc.Halton(15, scramble=False).random(count + 20)[20:]:
        target_c, tau_h = 2.0 + 4.0 * u[0], 1.5 * 8.0 ** u[1]
        after_h = np.linspace(0.0, span_taus * tau_h if span_taus else span_h, readings)
        ends_c = target_c + (-6.0 + 6.5 * u[2] if fate == "reaches" else 2.5 + 8.0 * u[2])
        room_c = ends_c + (8.0 + 14.0 * u[3]) * _to_go(after_h, tau_h, u)
        room_c = room_c + 1.0 * u[4] * np.cos(2.0 * np.pi * (after_h / 24.0 + u[5]))
        if fate == "reaches":
            room_c = np.maximum(room_c, target_c)  # the control holds it there
        swing_k = (2.0 + 2.0 * u[6]) / 1.8
        room_c = room_c + swing_k * ((u[7] + 0.618 * (1.0 + u[8]) * np.arange(readings)) % 1.0 - 0.5)
        room_c[int(u[9] * readings)] += slip_k * (1.0 if u[10] > 0.5 else -1.0)
        texted_c = (np.round(room_c * 1.8 + 32.0) - 32.0) / 1.8
        yield MadeUpRoom(
            target_c=float(target_c),
            ends_c=float(max(ends_c, target_c) if fate == "reaches" else ends_c),
            readings=tuple(
                RoomReading(at_h=float(h), room_c=float(c)) for h, c in zip(after_h, texted_c, strict=True)
            ),
        )


def _to_go(after_h: Floats, tau_h: float, u: Floats) -> Floats:
    slow: Floats = np.exp(-after_h / tau_h)
    if u[11] < 0.5:
        return slow
    share, ratio = 0.2 + 0.5 * u[12], 0.05 + 0.2 * u[13]
    quick: Floats = np.exp(-after_h / (tau_h * ratio))
    both: Floats = share * quick + (1.0 - share) * slow
    return both
