"""In what sense words are said: denied, doubted, past, only supposed, asked, or told by somebody else."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from assistant.reading.clauses import Chunk, segment_at
from assistant.reading.normalise import Token
from assistant.reading.said import When

NEGATORS: Final = frozenset("not no never without nothing none nobody nor neither nunca tampoco sin ni nada ningun ninguna nadie".split())
_SPANISH_TAIL: Final = frozenset("nada nadie nunca ningun ninguna ninguno tampoco ni".split())
_WEAK: Final = frozenset("barely hardly scarcely rarely apenas casi".split())
_HEDGES: Final = {
    "think": 0.8, "guess": 0.72, "maybe": 0.62, "probably": 0.78, "might": 0.6, "may": 0.6, "perhaps": 0.6,
    "believe": 0.8, "possibly": 0.58, "suppose": 0.7, "assume": 0.72, "creo": 0.8, "quiza": 0.62, "quizas": 0.62,
    "supongo": 0.7, "imagino": 0.7, "capaz": 0.6, "pienso": 0.8, "seems": 0.9, "seem": 0.9, "parece": 0.88,
    "pareciera": 0.8, "kinda": 0.9, "sorta": 0.88, "could": 0.6, "podria": 0.6, "tal": 0.8, "puede": 0.75, "figure": 0.75,
    "probablemente": 0.78, "posiblemente": 0.6,
}  # fmt: skip
_BEFORE: Final = frozenset(
    "was were had used yesterday ago earlier previously originally formerly estaba estaban era eran tenia tenian habia "
    "fue ayer antes antier anteayer anoche solia andaba hubo".split()
)
_BEFORE_TWO: Final = frozenset(
    "last week/last night/last month/last year/last summer/last winter/last season/last spring/last fall/last time/"
    "other day/semana pasada/ano pasado/mes pasado/vez pasada/verano pasado/otra vez/otro dia/dias atras".split("/")
)
_SO_FAR: Final = frozenset("since desde lleva llevo llevamos".split())
_FRESH: Final = frozenset(
    "today morning just now looked checked opened saw found walked woke hoy ahorita manana vi abri revise mire "
    "encontre fui llegue acabo".split()
)
_DONE: Final = frozenset(
    "stopped quit died broke fell tripped cleaned washed thawed replaced changed melted came dejo paro murio rompio "
    "cayo disparo boto limpie lave cambie descongele derritio quemo gave shut froze popped started began empezo "
    "blew burned burnt plugged unplugged turned set put moved added".split()
)
_IF: Final = frozenset("if unless si".split())
_WOULD: Final = frozenset("would should podria deberia debiera hubiera fuera wondering".split())
_ASKING: Final = frozenset(
    "is are do does did should can could will would has have was were debe deberia debo sera puede puedo podria hay "
    "am what where who which".split()
)
_GRANTING: Final = frozenset("why how porque como normal".split())
_TELLERS: Final = frozenset(
    "says said told thinks claims dice dicen dijo dijeron conto comenta asegura".split()
)
_REACH: Final = 6
_HARDLY: Final = 0.75
_OPEN: Final = frozenset("the a an it its my he she they we i that this there".split())
_OPEN_ES: Final = frozenset("el los las mi un una es".split())

SCOPE_WORDS: Final = frozenset(
    {*NEGATORS, *_WEAK, *_HEDGES, *_BEFORE, *_SO_FAR, *_FRESH, *_DONE, *_IF, *_WOULD, *_ASKING, *_TELLERS}
    | {word for pair in _BEFORE_TWO for word in pair.split()}
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Scope:
    """How something is said."""

    denied: bool = False
    trust: float = 1.0
    """What hedges and weak negations leave of our confidence."""
    when: When = "now"
    recent: bool = True
    """False where the past is long ago."""


def scope_of(tokens: Sequence[Token], chunk: Chunk, first: int, last: int, taken: frozenset[int]) -> Scope:
    """The scope of the words `[first, last)` inside `chunk`; `taken` are places that belong to another mention."""
    segment = segment_at(chunk, first)
    denied, weak = _denial(tokens, segment, first, last, taken)
    when, trust = _when(tokens, chunk, segment, first, last)
    trust *= _hedging(tokens, chunk, segment, first, last)
    return Scope(denied=denied, trust=trust * weak, when=when, recent=not _long_ago(tokens, chunk))


def _denial(
    tokens: Sequence[Token], segment: tuple[int, int], first: int, last: int, taken: frozenset[int]
) -> tuple[bool, float]:
    count, spanish, weak, reach = 0, False, 1.0, 0
    for place in range(first - 1, segment[0] - 1, -1):
        word = tokens[place].word
        if tokens[place].kind == "mark" or reach >= _REACH:
            break
        if word in {"si"} and place > segment[0] and tokens[place].seen.startswith("sí"):
            break
        reach += place not in taken
        if word in _WEAK:
            weak = _HARDLY
            count += 0 if word == "casi" else 1
        if word in NEGATORS and place not in taken and _denies(tokens, segment, place, first):
            spanish = spanish or word in _SPANISH_TAIL or word == "no"
            count += 1
    if count == 0 and _denied_after(tokens, segment, last):
        count = 1
    return (count > 0 if spanish else count % 2 == 1), weak


def _denies(tokens: Sequence[Token], segment: tuple[int, int], place: int, first: int) -> bool:
    """A "no" that answers ("no the filter is clean", "no, está limpio") denies nothing that follows."""
    if tokens[place].word != "no":
        return not (tokens[place].word == "not" and place + 1 < first and tokens[place + 1].word == "only")
    follow = tokens[place + 1].word if place + 1 < len(tokens) else ""
    opens = place == segment[0] or (place == segment[0] + 1 and tokens[segment[0]].kind == "mark")
    if opens and place + 1 < first and (follow in _OPEN or follow in _OPEN_ES):
        return False
    return follow not in _OPEN


def _denied_after(tokens: Sequence[Token], segment: tuple[int, int], last: int) -> bool:
    rest = [tokens[place].word for place in range(last, segment[1])]
    return bool(rest) and rest[0] in {"no", "nada", "none", "ninguno", "ninguna", "tampoco"} and len(rest) <= 3  # noqa: PLR2004 - "hielo no hay", "ice none at all"


def _when(
    tokens: Sequence[Token], chunk: Chunk, segment: tuple[int, int], first: int, last: int
) -> tuple[When, float]:
    words = [token.word for token in tokens[segment[0] : segment[1]]]
    own = {token.word for token in tokens[first:last]}
    if _supposed(tokens, chunk, segment, first):
        return "would_be", 1.0
    asked, trust = _asked(tokens, chunk, segment)
    if asked:
        return "asked", 1.0
    if set(words) & _TELLERS and segment[0] <= first:
        return "by_another", 0.85
    if _is_past(words) and not _SO_FAR & set(words) and "que" not in words:
        if own & _DONE:
            return "now", 0.85
        if _FRESH & set(words):
            return "now", 0.7
        return "before", 1.0
    return "now", trust


def _is_past(words: Sequence[str]) -> bool:
    pairs = {f"{one} {two}" for one, two in zip(words, words[1:], strict=False)}
    return bool(_BEFORE & set(words)) or bool(_BEFORE_TWO & pairs)


def _supposed(tokens: Sequence[Token], chunk: Chunk, segment: tuple[int, int], first: int) -> bool:
    words = {token.word for token in tokens[segment[0] : first]}
    if words & _WOULD and not chunk.asks:
        return True
    for place in range(first - 1, chunk.first - 1, -1):
        token = tokens[place]
        if token.word == "," or token.word == "then":
            return False
        if token.word in _IF and token.kind == "word" and not _is_yes(tokens, place, chunk):
            return not _habit(tokens, place, first)
    return False


def _habit(tokens: Sequence[Token], place: int, first: int) -> bool:
    """ "If I touch it I get a tingle" happens; so does "si lo toco me da toques"."""
    inside = {token.word for token in tokens[place:first]}
    return bool(inside & frozenset("touch grab lean touches hold toco agarro agarras tocas toca tocan agarra every".split()))


def _is_yes(tokens: Sequence[Token], place: int, chunk: Chunk) -> bool:
    """Spanish *sí*, written with or without its accent, is not *if*."""
    token = tokens[place]
    if token.word != "si":
        return False
    if token.seen.startswith("sí"):
        return True
    follow = tokens[place + 1].word if place + 1 < chunk.last else ","
    return place > chunk.first and tokens[place - 1].word not in {",", "que", "y"} and follow not in {"se", "le", "lo"}


def _asked(tokens: Sequence[Token], chunk: Chunk, segment: tuple[int, int]) -> tuple[bool, float]:
    """Asked about or not; a bare question mark only doubts."""
    if not chunk.asks:
        return False, 1.0
    lead = [token.word for token in tokens[segment[0] : segment[0] + 3] if token.kind == "word"]
    opening = [token.word for token in tokens[chunk.first : chunk.first + 4]]
    if set(opening) & _GRANTING:
        return False, 0.95
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
        if word in {"can", "could", "puede"} and (follow == "not" or word == "can" or tokens[place - 1].word == "no"):
            continue
        trust = min(trust, _HEDGES.get(word, 1.0))
    return trust


def _long_ago(tokens: Sequence[Token], chunk: Chunk) -> bool:
    words = [token.word for token in tokens[chunk.first : chunk.last]]
    pairs = {f"{one} {two}" for one, two in zip(words, words[1:], strict=False)}
    far = {"last year", "last month", "last summer", "last season", "last winter", "years ago", "year ago",
           "months ago", "month ago", "ano pasado", "mes pasado", "verano pasado", "hace anos", "used to", "last fall", "last spring"}  # fmt: skip
    return bool(pairs & far) or "hace un ano" in " ".join(words) or "hace meses" in " ".join(words)
