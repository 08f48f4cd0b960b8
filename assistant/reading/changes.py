"""Numbers that are no reading, size or rating of ours: a count, a name, a difference, another device's number."""

from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Final

from assistant.reading.clauses import Chunk
from assistant.reading.markers import AFTER_DEGREES, LEADS, Marker, is_thin
from assistant.reading.matching import LIGHT, Match
from assistant.reading.normalise import Token
from assistant.reading.senses import Sense
from assistant.reading.units import Measured
from assistant.reading.unmarked import rates
from assistant.reading.wordsets import word_set
from kb.ids import QuantityId

_DIFFERENCE: Final = word_set(
    "off apart difference diferencia warmer colder higher lower hotter per swing swings"
)
"""Right after a number they make it a difference."""
_DIFFERENCE_OF_DEGREES: Final = word_set(
    "cooler mas menos arriba abajo more less above below over under too demasiado"
)
"""Right after "degrees" too ("4 grados más que mi termómetro")."""
_DIFFERENCE_WITHIN: Final = 2
_CHANGED: Final = word_set(
    "dropped drops drop fell falls gained gains lost loses rose rises climbed climbs jumped jumps swings swing varies vary "
    "wanders drifts bounces off within by up down differ differs subio subido sube baja bajo bajado varia oscila brinca cambia "
    "perdio gano difiere diferencia dentro margen ganado recupero crept moved moves"
)
"""Right before a number, with no "to" between, they make it a difference: "dropped 2 degrees", "sube y baja como 2"."""
_SWINGS: Final = word_set("swing swings swinging bounces oscila suba varia")
_CHANGES: Final = word_set("diferencia cambio margen subida bajada variacion salto")
_HARDLY: Final = word_set(
    "about like como unos unas only another otros otras by maybe just solo nomas por casi almost around of some degrees "
    "than more the an apenas or o - to"
)
_FEELS: Final = word_set("feels feel siente sienten felt")
_TO: Final = word_set("a hasta at en past below under above")
_MOST_CHANGE: Final = 25
_SPELLED: Final = 13
_WHOLE_REPLY: Final = 3
_HAVING: Final = word_set("have has tiene tienen")
_NEAR: Final = 6
_BACK: Final = 4
_OF: Final = word_set("of on in de del the el la los las")
_ROOMS_OWN: Final = word_set("temperature room unit display controller air")
"""Things whose number is the room's, or may be."""
OTHER_NUMBERS: Final = word_set("thermostat fan_speed remote coil_limit rest_setting settings fan")
"""Things that show a number of their own, which is no reading of the room."""
_NUMBERED: Final = word_set(
    "cooler room unit box walkin number num numero nro breaker bay door slot barn store building shop fan circuit "
    "zone setting level option cuarto camara cava pastilla puerta aparato fase line stage case page step grade size model"
)
"""A small bare number right behind them is a name: "cooler 2", "breaker 14"."""
_TIMES: Final = frozenset({QuantityId("run_s"), QuantityId("rest_s")})
_LARGEST_NAME: Final = 9
_ALWAYS_NAMES: Final = word_set(
    "age aged edad order pedido breaker number num numero nro slot circuit option page step model pastilla zone"
)
_COUNTED_UNITS: Final = word_set("breaker circuit outlet fuse plug pastilla contacto fusible toma")


def counts(tokens: Sequence[Token], number: Measured, markers: Sequence[Marker]) -> bool:
    """The number counts or names things ("40 bins", "cooler 2"), or says a change ("dropped 2 degrees")."""
    timed = any(marker.last == number.first and marker.quantity in _TIMES for marker in markers)
    if (_is_counted_word(number, sum(token.kind != "mark" for token in tokens)) and not timed) or _is_name(
        tokens, number
    ):
        return True
    if number.dimension in {None, "temperature"} and not timed and _is_difference(tokens, number):
        return True
    if [token.word for token in tokens[max(0, number.first - 2) : number.first]] == ["i", "am"]:
        return True
    if number.dimension == "current" and _is_of_the_breaker(tokens, number):
        return True
    if number.dimension is None and rates(number):
        return False
    if number.dimension is not None or number.last >= len(tokens) or tokens[number.last].kind != "word":
        return False
    lead = tokens[number.first - 1] if number.first else None
    follow = tokens[number.last]
    marked = any(marker.first == number.last and marker.own for marker in markers)
    plain = follow.word in AFTER_DEGREES or is_thin(follow) or follow.word in LEADS
    reads = lead is not None and lead.kind == "word" and lead.word in LEADS | LIGHT - _HAVING
    return not marked and not plain and (_is_many(follow.word) or not (reads or _is_reading(number)))


def _is_of_the_breaker(tokens: Sequence[Token], number: Measured) -> bool:
    """As in "a 20 amp breaker", "el breaker es de 20 amperios": nothing of what the unit draws."""
    before = {token.word for token in tokens[max(0, number.first - _BACK) : number.first]}
    return bool(_COUNTED_UNITS & before) or _follows(tokens, number, _COUNTED_UNITS)


def _is_many(word: str) -> bool:
    """Things that are counted: a plural, or one of the few that are none."""
    return word in _COUNTED or (word.endswith("s") and not word.endswith("ss") and word not in _NO_PLURALS)


def _is_reading(number: Measured) -> bool:
    """A bare number that a thermometer may show in F, or that is no whole one."""
    return _SHOWN_F[0] <= number.numeral.value <= _SHOWN_F[1] or not number.numeral.value.is_integer()


_COUNTED: Final = word_set(
    "people person head dozen docena gente personas cattle fish sheep deer pack pax acre hectare hp percent amp pm am time "
    "vez stem bin case crate box bucket pallet man woman kid inch foot year day week month hour minute minuto hora dia mes ano"
)
_NO_PLURALS: Final = word_set(
    "is was this always as mas menos gracias pues its does has yes plus thanks us entonces"
)
_SHOWN_F: Final = (30, 75)


def _is_counted_word(number: Measured, length: int) -> bool:
    """A small number spelled out with no unit counts things ("this one", "los dos") unless it is the whole reply."""
    small = not number.numeral.digits and number.numeral.value < _SPELLED and number.dimension is None
    return small and length > _WHOLE_REPLY


def _is_name(tokens: Sequence[Token], number: Measured) -> bool:
    """A name stands inside a sentence: "cooler 2 is fine", "in cooler 2"; "room 6, set 3" are readings."""
    if number.dimension is not None or number.first == 0 or not number.numeral.value.is_integer():
        return False
    before = tokens[number.first - 1].word
    if before in _ALWAYS_NAMES:
        return True
    follow = tokens[number.last].word if number.last < len(tokens) else ","
    inside = tokens[number.first - 2].word if number.first > 1 else ""
    goes_on = follow not in {",", ".", ";", "and", "y", "but", "pero", "now", "ahora", "f", "c"}
    small = 0 < number.numeral.value <= _LARGEST_NAME
    return before in _NUMBERED and small and (goes_on or inside in {"in", "on", "en", "for"})


def _is_difference(tokens: Sequence[Token], number: Measured) -> bool:
    after = [token.word for token in tokens[number.last : number.last + _DIFFERENCE_WITHIN]]
    if _DIFFERENCE & set(after[:1]) or after in (["a", "day"], ["por", "dia"], ["de", "diferencia"]):
        return True
    of_degrees = _DIFFERENCE & set(after) or (
        _DIFFERENCE_OF_DEGREES & set(after[:1]) and after[1:] not in (["o"], ["zero"])
    )
    if number.degrees and of_degrees:
        return True
    if _FEELS & {token.word for token in tokens[max(0, number.first - _BACK) : number.first]}:
        return True
    if _SWINGS & {token.word for token in tokens[max(0, number.first - _NEAR) : number.first]}:
        return True
    return abs(number.numeral.value) <= _MOST_CHANGE and _follows_change(tokens, number.first)


def _follows_change(tokens: Sequence[Token], first: int) -> bool:
    """A word of change stands before, with no "to" between."""
    for place in range(first - 1, max(first - 1 - _BACK, -1), -1):
        word = tokens[place].word
        if word in _TO or (word == "to" and tokens[place - 1].kind != "number"):
            return False
        if word == "de":
            return place > 0 and tokens[place - 1].word in _CHANGES
        if word in _CHANGED:
            return True
        if word not in _HARDLY and tokens[place].kind != "number":
            return False
    return False


def _follows(tokens: Sequence[Token], number: Measured, words: frozenset[str]) -> bool:
    return number.last < len(tokens) and tokens[number.last].word in words


def of_something_else(
    tokens: Sequence[Token],
    number: Measured,
    matches: Sequence[Match[Sense]],
    quantity_of: Mapping[str, QuantityId],
) -> bool:
    """Its nearest noun is a thing whose number is none of ours: "the thermostat is at 64"."""
    marks = {match.first for match in matches if match.target.kind == "quantity"}
    near = sorted(
        (match.first, match.last, match.target.id)
        for match in matches
        if match.target.kind == "thing"
        and match.score >= 1
        and number.first - _NEAR <= match.last <= number.first
        and (match.first not in marks or match.target.id in quantity_of)
    )
    near = [one for one in near if not any(_inside(one, other) for other in near)]
    if not near or any(token.kind == "mark" for token in tokens[near[-1][1] : number.first]):
        return False
    first, last, _ = near[-1]
    for start, end, _ in reversed(near):
        if end < first and all(token.word in _OF for token in tokens[end:first]):
            first, last = start, end  # "the thermostat *of the unit*": the head decides
    return all(
        thing not in quantity_of and thing not in _ROOMS_OWN
        for start, end, thing in near
        if (start, end) == (first, last)
    )


def is_unreached(tokens: Sequence[Token], number: Measured) -> bool:
    """What the room "never gets to" is what it was asked to reach; what it never gets *below*, it reads."""
    before = [token.word for token in tokens[max(0, number.first - _REACH_BACK) : number.first]]
    last = max((place for place, token in enumerate(before) if token in _REACHES), default=None)
    if last is None or not _NOT & set(before[:last]) or not set(before[last + 1 :]) <= _UP_TO:
        return False
    return before[last] in _REACHES_BARE or bool(_TO_OR_A & set(before[last + 1 :]))


_REACH_BACK: Final = 7
_NOT: Final = word_set("not never no nunca ni tampoco barely hardly")
_REACHES: Final = word_set(
    "reach reaches reached hit hits get gets getting got gotten come comes go goes pull pulls make makes llega llegado llegar "
    "baja bajado bajar alcanza alcanzado hold holds"
)
_REACHES_BARE: Final = word_set("reach reaches reached hit hits hold holds alcanza alcanzado")
_UP_TO: Final = word_set("down it to a los las anywhere near the even close at up all way")
_TO_OR_A: Final = word_set("to a")


def _inside(one: tuple[int, int, str], other: tuple[int, int, str]) -> bool:
    longer = other[1] - other[0] > one[1] - one[0]
    return longer and other[0] <= one[0] and one[1] <= other[1]


def is_of_a_good_room(tokens: Sequence[Token], chunks: Sequence[Chunk], number: Measured) -> bool:
    """As in "cooler 2 is fine at 37": another room, told of only to say that it does well."""
    chunk = next((chunk for chunk in chunks if chunk.first <= number.first < chunk.last), None)
    if chunk is None:
        return False
    words = [token.word for token in tokens[chunk.first : number.first]]
    named = any(one in _ROOMS and other in _NUMERALS for one, other in pairwise(words))
    return named and bool(_WELL & set(words)) and "not" not in words and "no" not in words


_ROOMS: Final = word_set("cooler room unit box walkin cuarto camara cava barn")
_NUMERALS: Final = word_set("1 2 3 4 5 6 one two three four five a b uno dos tres cuatro cinco other")
_WELL: Final = word_set("fine ok okay good great perfect bien perfecto correcto")
