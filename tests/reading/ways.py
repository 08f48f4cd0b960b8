"""Short ways to look into a reading."""

from assistant.reading import Reading
from assistant.reading.score import COUNTED_FROM


def now(reading: Reading) -> dict[str, str]:
    """Findings said of now, with their states."""
    return {
        str(said.finding): str(said.state)
        for said in reading.findings
        if said.when in {"now", "by_another"} and said.confidence >= COUNTED_FROM
    }


def not_now(reading: Reading) -> dict[str, str]:
    """Findings said in any other sense, with that sense."""
    return {
        str(said.finding): said.when for said in reading.findings if said.when not in {"now", "by_another"}
    }


def numbers(reading: Reading) -> dict[str, float | None]:
    """Quantities said of now, in SI, rounded to a tenth."""
    return {
        str(said.quantity): None if said.si is None else round(said.si, 1)
        for said in reading.quantities
        if said.when == "now"
    }


def hazards(reading: Reading) -> set[str]:
    """The hazards heard."""
    return {str(said.hazard) for said in reading.hazards}


def confidence(reading: Reading, finding: str) -> float:
    """How sure the reading is of one finding."""
    return max(said.confidence for said in reading.findings if said.finding == finding)
