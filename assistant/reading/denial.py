"""Whether words are denied: "isn't iced", "no tiene hielo", "neither dirty nor iced", "hielo no hay", "barely moves"."""

from collections.abc import Sequence
from typing import Final

from assistant.reading.normalise import Token
from assistant.reading.wordsets import word_set

NEGATORS: Final = word_set(
    "not no never without nothing none nobody nor neither nunca tampoco sin ni nada ningun ninguna nadie"
)
_AGREEING: Final = word_set("no nor neither nada nadie nunca ningun ninguna ninguno tampoco ni")
"""Two of these deny once: "no … nada", "neither … nor"."""
WEAK: Final = word_set("barely hardly scarcely rarely apenas casi")
_REACH: Final = 6
_TRAILING: Final = 3
"""Words of a denial that trails: "hielo no hay", "ice none at all"."""
_HARDLY: Final = 0.75
_EXCLAIMS: Final = word_set("ay uy hay oh ah ooh hijole chin")
_OPEN: Final = word_set("the a an it its my he she they we i that this there")
_OPEN_ES: Final = word_set("el los las mi un una es")


def denial(
    tokens: Sequence[Token], segment: tuple[int, int], first: int, last: int, taken: frozenset[int]
) -> tuple[bool, float]:
    """Whether the words `[first, last)` are denied inside their segment, and what "barely" leaves of our trust.

    `taken` are places of phrases that end before: a "not" there belongs to its own phrase.
    """
    disclaims = _disclaimed(tokens, segment, first)
    if any(token.word in NEGATORS for token in tokens[first:last]):
        # its own "no" already denies; a second one only agrees ("no tiene nada de hielo")
        return disclaims is not None, 1.0
    if disclaims is not None:
        inner, weak = denial(tokens, (disclaims, segment[1]), first, last, taken)
        return not inner, weak
    count, spanish, weak, reach = 0, False, 1.0, 0
    for place in range(first - 1, segment[0] - 1, -1):
        word = tokens[place].word
        if tokens[place].kind == "mark" or reach >= _REACH:
            break
        if word == "si" and place > segment[0] and tokens[place].seen.startswith("sí"):
            break
        reach += place not in taken
        if word in WEAK:
            weak = _HARDLY
            count += 0 if word == "casi" else 1
        if word in NEGATORS and place not in taken and _denies(tokens, segment, place, first):
            spanish = spanish or word in _AGREEING
            count += 1
    if count == 0 and _denied_after(tokens, segment, last):
        count = 1
    return (count > 0 if spanish else count % 2 == 1), weak


_DISCLAIMS: Final = (
    ("not", "that"),
    ("no", "es", "que"),
    ("no", "que"),
    ("not", "because"),
    ("no", "porque"),
)
"""As in "it is not that it doesn't blow": what follows is not so, whatever it denies itself."""


def _disclaimed(tokens: Sequence[Token], segment: tuple[int, int], first: int) -> int | None:
    """Where the words after a disclaimer begin; None where none stands before `first`."""
    words = [tokens[place].word for place in range(segment[0], first)]
    for place in range(len(words)):
        for lead in _DISCLAIMS:
            if tuple(words[place : place + len(lead)]) == lead:
                return segment[0] + place + len(lead)
    return None


def _denies(tokens: Sequence[Token], segment: tuple[int, int], place: int, first: int) -> bool:
    """A "no" that answers ("no the filter is clean", "no, está limpio") denies nothing that follows."""
    if tokens[place].word != "no":
        return not (tokens[place].word == "not" and place + 1 < first and tokens[place + 1].word == "only")
    follow = tokens[place + 1].word if place + 1 < len(tokens) else ""
    lead = tokens[place - 1] if place > segment[0] else None
    if lead is not None and lead.word in _EXCLAIMS:
        return False
    opens = lead is None or (place == segment[0] + 1 and lead.kind == "mark")
    if opens and place + 1 < first and (follow in _OPEN or follow in _OPEN_ES):
        return False
    return follow not in _OPEN


def _denied_after(tokens: Sequence[Token], segment: tuple[int, int], last: int) -> bool:
    rest = [tokens[place].word for place in range(last, segment[1])]
    return (
        bool(rest)
        and rest[0] in {"no", "nada", "none", "ninguno", "ninguna", "tampoco"}
        and len(rest) <= _TRAILING
    )
