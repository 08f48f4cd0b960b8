"""In what sense words are said: denied, doubted, past, only supposed, asked, or told by somebody else."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from assistant.reading.clauses import Chunk, segment_at
from assistant.reading.denial import NEGATORS, WEAK, denial
from assistant.reading.normalise import Token
from assistant.reading.said import When
from assistant.reading.wordsets import word_set

_HEDGES: Final = {
    "think": 0.8, "guess": 0.72, "maybe": 0.62, "probably": 0.78, "might": 0.6, "may": 0.6, "perhaps": 0.6,
    "believe": 0.8, "possibly": 0.58, "suppose": 0.7, "assume": 0.72, "creo": 0.8, "quiza": 0.62, "quizas": 0.62,
    "supongo": 0.7, "imagino": 0.7, "capaz": 0.6, "pienso": 0.8, "seems": 0.9, "seem": 0.9, "parece": 0.88,
    "pareciera": 0.8, "kinda": 0.9, "sorta": 0.88, "could": 0.6, "podria": 0.6, "tal": 0.8, "puede": 0.75, "figure": 0.75,
    "probablemente": 0.78, "posiblemente": 0.6,
}  # fmt: skip
_BEFORE: Final = word_set(
    "was were had used yesterday ago earlier previously originally formerly estaba estaban era eran tenia tenian habia "
    "fue ayer antes antier anteayer anoche solia andaba hubo thought pensaba creia pense"
)
_BEFORE_TWO: Final = frozenset(
    [
        "last week",
        "last night",
        "last month",
        "last year",
        "last summer",
        "last winter",
        "last season",
        "last spring",
        "last fall",
        "last time",
        "other day",
        "semana pasada",
        "ano pasado",
        "mes pasado",
        "vez pasada",
        "verano pasado",
        "otro dia",
        "dias atras",
    ]
)
_SO_FAR: Final = word_set("since desde lleva llevo llevamos")
_FRESH: Final = word_set(
    "today morning just now looked checked opened saw found walked woke hoy ahorita manana vi abri revise mire "
    "encontre fui llegue acabo"
)
_DONE: Final = word_set(
    "stopped quit died broke fell tripped cleaned washed thawed replaced changed melted came dejo paro murio rompio "
    "cayo disparo boto limpie lave cambie descongele derritio quemo gave shut froze popped started began empezo "
    "blew burned burnt plugged unplugged turned set put moved added"
)
_MOVED: Final = word_set("moved set changed put turned bumped raised lowered dropped")
_IF: Final = word_set("if unless si")
_WOULD: Final = word_set("would should podria deberia debiera hubiera fuera wondering")
_ASKING: Final = word_set(
    "is are do does did should can could will would has have was were debe deberia debo sera puede puedo podria hay "
    "am what where who which"
)
_BARE_LEADS: Final = word_set("is are do does did should can could")
_BARE_FOLLOWS: Final = word_set("it that this i we they you there")
"""How an English question opens, with or without its mark."""
_TO_AFTER: Final = word_set(
    "set next close used got due up back down according able switched turned thanks stuck"
)
_GRANTING: Final = word_set("why how porque como normal")
_TELLERS: Final = word_set("says said thinks claims swears dice dicen cree comenta asegura jura")
_TOLD: Final = word_set("told dijo dijeron conto contaron")
_PEOPLE: Final = word_set(
    "he she they guy wife husband neighbor neighbour tech technician electrician repairman mechanic friend son dad "
    "father mother mom boss brother sister worker guys people el ella ellos vecino vecina tecnico electricista "
    "esposo esposa marido mujer hijo hija papa mama jefe patron hermano hermana compadre muchacho senor gente cunado"
)
_CONSEQUENCE: Final = word_set(", que entonces pues como cuando donde ? debo puedo hay")
_BEFORE_IF: Final = word_set(", que y")
_NOW_WORDS: Final = word_set("now ahora ahorita orita hoy today")
_PRESENT: Final = word_set(
    "is are am now esta estan tiene tengo sigue hay ahora ahorita still today hoy keeps does"
)
_COMPARED: Final = word_set("as than from since like que con desde como a")
_PAST_DAYS: Final = word_set("yesterday ayer antes antier anteayer before")

SCOPE_WORDS: Final = frozenset(
    {
        *NEGATORS,
        *WEAK,
        *_HEDGES,
        *_BEFORE,
        *_SO_FAR,
        *_FRESH,
        *_DONE,
        *_IF,
        *_WOULD,
        *_ASKING,
        *_TELLERS,
        *_TOLD,
        *_PEOPLE,
    }
    | {word for pair in _BEFORE_TWO for word in pair.split()}
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Scope:
    """How something is said."""

    denied: bool = False
    weakly: bool = False
    """Denied by no more than "barely"."""
    trust: float = 1.0
    """What hedges and weak negations leave of our confidence."""
    when: When = "now"
    recent: bool = True
    """False where the past is long ago."""


def scope_of(tokens: Sequence[Token], chunk: Chunk, first: int, last: int, taken: frozenset[int]) -> Scope:
    """The scope of the words `[first, last)` inside `chunk`; `taken` are places that belong to another mention."""
    segment = segment_at(chunk, first)
    denied, weak = denial(tokens, segment, first, last, taken)
    when, trust = _when(tokens, chunk, segment, first, last)
    trust *= _hedging(tokens, chunk, segment, first, last)
    return Scope(
        denied=denied,
        weakly=denied and weak < 1,
        trust=trust * weak,
        when=when,
        recent=not _long_ago(tokens, chunk),
    )


def _when(
    tokens: Sequence[Token], chunk: Chunk, segment: tuple[int, int], first: int, last: int
) -> tuple[When, float]:
    words = _of_one_time(tokens, segment, first)
    own = {token.word for token in tokens[first:last]}
    if _supposed(tokens, chunk, segment, first):
        return "would_be", 1.0
    asked, trust = _asked(tokens, chunk, segment)
    if asked:
        return "asked", 1.0
    if _told(words, [token.word for token in tokens[max(chunk.first, segment[0] - 5) : segment[0]]]):
        return "by_another", 0.85
    earlier = [token.word for token in tokens[chunk.first : segment[0]]]
    if (
        is_past(words if _PRESENT & set(words) else [*_past_day(earlier), *words])
        and not _SO_FAR & set(words)
        and "que" not in words
    ):
        if own & _DONE or (_MOVED & set(words) and "to" in words):
            return "now", 0.85
        if _FRESH & set(words):
            return "now", 0.7
        return "before", 1.0
    return "now", trust


def _of_one_time(tokens: Sequence[Token], segment: tuple[int, int], first: int) -> list[str]:
    """The words of a segment up to "now", or from it on: "51 was an hour ago now it is 49"."""
    start, end = segment
    for place in range(segment[0] + 1, segment[1]):
        if tokens[place].word in _NOW_WORDS and tokens[place - 1].word not in {
            "right",
            "just",
            "until",
            "hasta",
            "as",
        }:
            start, end = (place, end) if place <= first else (start, min(end, place))
    return [token.word for token in tokens[start:end]]


def _told(words: Sequence[str], before: Sequence[str]) -> bool:
    """Somebody else says so: "my wife says the filter is dirty", "el técnico dijo que …"."""
    near = {*words, *before}
    return bool(_TOLD & near) or (bool(_TELLERS & near) and bool(_PEOPLE & near - {"el"}))


def _past_day(words: Sequence[str]) -> list[str]:
    """The time of day or year that an earlier segment set: "last year it was fine, at 38 all summer"."""
    if _NOW_WORDS & set(words):
        return []
    for one, two in pairwise(words):
        if f"{one} {two}" in _BEFORE_TWO:
            return [one, two]
    return []


def is_past(words: Sequence[str]) -> bool:
    """Whether the words set what they tell in the past: "it was fine", "fine last summer"."""
    pairs = set(pairwise(words))
    compared = {day for lead, day in pairs if lead in _COMPARED and day in _PAST_DAYS}
    other_time = ("la", "otra") in pairs and ("otra", "vez") in pairs  # "otra vez" alone is again
    two = any(f"{one} {two}" in _BEFORE_TWO for one, two in pairs)
    return bool(_BEFORE & set(words) - compared) or two or other_time


def _supposed(tokens: Sequence[Token], chunk: Chunk, segment: tuple[int, int], first: int) -> bool:
    words = {token.word for token in tokens[segment[0] : first]}
    if (words & _WOULD and not chunk.asks) or _intended(tokens, segment, first):
        return True
    for place in range(first - 1, chunk.first - 1, -1):
        token = tokens[place]
        if token.word in {",", "then"}:
            return False
        if token.word in _IF and token.kind == "word" and not _is_yes(tokens, place, chunk):
            return not _habit(tokens, place, first)
    return False


def _intended(tokens: Sequence[Token], segment: tuple[int, int], first: int) -> bool:
    """As in "To clean the coil", "going to pop the cover", "voy a limpiar": not done yet."""
    before = [token.word for token in tokens[max(segment[0], first - 5) : first]]
    if (
        before[-1:] == ["to"]
        and tokens[first].kind != "number"
        and before[-2:-1]
        and before[-2] not in _TO_AFTER
    ):
        return True
    pairs = set(pairwise(before))
    return bool(
        pairs
        & {("going", "to"), ("voy", "a"), ("vamos", "a"), ("want", "to"), ("need", "to"), ("quiero", "que")}
    )


def _habit(tokens: Sequence[Token], place: int, first: int) -> bool:
    """As in "If I touch it I get a tingle" happens; so does "si lo toco me da toques"."""
    inside = {token.word for token in tokens[place:first]}
    return bool(
        inside & word_set("touch grab lean touches hold toco agarro agarras tocas toca tocan agarra every")
    )


def _is_yes(tokens: Sequence[Token], place: int, chunk: Chunk) -> bool:
    """Spanish *sí*, written with or without its accent, is not *if*: *if* needs something that follows from it."""
    token = tokens[place]
    if token.word != "si":
        return False
    if token.seen.startswith("sí"):
        return True
    if place == chunk.first:
        return not any(later.word in _CONSEQUENCE for later in tokens[place + 1 : chunk.last + 1])
    follow = tokens[place + 1].word if place + 1 < chunk.last else ","
    return tokens[place - 1].word not in _BEFORE_IF and follow not in {"se", "le", "lo"}


def _asked(tokens: Sequence[Token], chunk: Chunk, segment: tuple[int, int]) -> tuple[bool, float]:
    """Asked about or not; a bare question mark only doubts."""
    opens = segment[0]
    while opens < segment[1] - 1 and (
        tokens[opens].kind == "mark" or tokens[opens].word in {"and", "y", "so"}
    ):
        opens += 1
    start = [token.word for token in tokens[opens : opens + 2]]
    opening = [token.word for token in tokens[chunk.first : chunk.first + 4]]
    if set(opening) & _GRANTING:
        return False, 0.95 if chunk.asks else 1.0
    if not chunk.asks:
        bare = len(start) > 1 and start[0] in _BARE_LEADS and start[1] in _BARE_FOLLOWS
        return bare, 1.0
    lead = [token.word for token in tokens[opens : opens + 3] if token.kind == "word"]
    if lead and lead[0] in _ASKING | _WOULD:
        return True, 1.0
    is_last = segment[1] == chunk.last
    return (False, 0.7) if is_last else (False, 1.0)


def _hedging(tokens: Sequence[Token], chunk: Chunk, segment: tuple[int, int], first: int, last: int) -> float:
    trust = 1.0
    for place in range(segment[0], min(segment[1], last + 4)):
        if first <= place < last:
            continue
        word = tokens[place].word
        follow = tokens[place + 1].word if place + 1 < chunk.last else ""
        if word == "not" and follow == "sure":
            trust = min(trust, 0.6)
        if word in {"can", "could", "puede"} and (
            follow == "not" or word == "can" or tokens[place - 1].word == "no"
        ):
            continue
        trust = min(trust, _HEDGES.get(word, 1.0))
    return trust


def _long_ago(tokens: Sequence[Token], chunk: Chunk) -> bool:
    words = [token.word for token in tokens[chunk.first : chunk.last]]
    pairs = {f"{one} {two}" for one, two in pairwise(words)}
    far = {"last year", "last month", "last summer", "last season", "last winter", "years ago", "year ago",
           "months ago", "month ago", "ano pasado", "mes pasado", "verano pasado", "hace anos", "used to", "last fall", "last spring"}  # fmt: skip
    return bool(pairs & far) or "hace un ano" in " ".join(words) or "hace meses" in " ".join(words)
