"""Hours as people say them, where the room is."""

from datetime import datetime
from zoneinfo import ZoneInfo

from kb.ids import Language

MIDDAY = 12
AFTERNOON_ENDS = 19
MORNING_BEGINS = 5
WEEKDAYS_EN = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
WEEKDAYS_ES = ("lunes", "martes", "miércoles", "jueves", "viernes", "sábado", "domingo")


def hour_words(due: datetime, now: datetime, zone: str, language: Language) -> str:
    """An hour in words, with the day where it is not today; Spanish brings its article.

    `due` and `now` are aware datetimes, `zone` an IANA name.

    >>> from datetime import UTC
    >>> noon = datetime(2026, 7, 14, 16, 0, tzinfo=UTC)
    >>> hour_words(datetime(2026, 7, 14, 21, 15, tzinfo=UTC), noon, "America/New_York", "en")
    '5:15 pm'
    >>> hour_words(datetime(2026, 7, 15, 11, 0, tzinfo=UTC), noon, "America/New_York", "es")
    'las 7 de la mañana (mañana)'
    >>> hour_words(datetime(2026, 7, 14, 17, 30, tzinfo=UTC), noon, "America/New_York", "es")
    'la 1:30 de la tarde'
    """
    there = due.astimezone(ZoneInfo(zone))
    days = (there.date() - now.astimezone(ZoneInfo(zone)).date()).days
    hour = there.hour % 12 or 12
    clock = f"{hour}:{there.minute:02d}" if there.minute else f"{hour}"
    if language == "en":
        words = f"{clock} {'am' if there.hour < MIDDAY else 'pm'}"
        return words + {0: "", 1: " tomorrow"}.get(days, f" on {WEEKDAYS_EN[there.weekday()]}")
    words = f"{'la' if hour == 1 else 'las'} {clock} {_part_of_day(there.hour)}"
    return words + {0: "", 1: " (mañana)"}.get(days, f" del {WEEKDAYS_ES[there.weekday()]}")


def _part_of_day(hour: int) -> str:
    if hour == MIDDAY:
        return "del mediodía"
    if 0 < hour < MORNING_BEGINS:
        return "de la madrugada"
    if MORNING_BEGINS <= hour < MIDDAY:
        return "de la mañana"
    return "de la tarde" if MIDDAY < hour < AFTERNOON_ENDS else "de la noche"
