"""Of which thing something is said: the nearest that it can be said of, in the same chunk, else the one before.

English puts the quality after the thing or right before it, Spanish the other way round as well ("no gira el
ventilador"); voice-dictated texts put no stops. So distance decides, made longer by marks, joining words and other
statements in between, and what nobody could say of a thing is never attached to it.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from assistant.reading.clauses import CONTRAST, JOINING, Chunk
from assistant.reading.matching import DETERMINERS, LIGHT, Match
from assistant.reading.mentions import Mention, Named, named_in
from assistant.reading.normalise import Token
from assistant.reading.senses import Sense
from assistant.reading.wordsets import word_set
from kb.ids import ThingId

PRONOUNS: Final = word_set("it she they them lo los la las eso esto that this he one")
_PREPOSITIONS: Final = word_set("on in of at for from to with de del en la el por a al")
_TRUST: Final = ((2.0, 0.93), (4.0, 0.88), (6.0, 0.8), (9.0, 0.66), (13.0, 0.5))
"""How far the thing stands, and how sure we are that it is the one (calibrated on the development sets)."""
_BLOCKS_WITHIN: Final = 1.5
_BEGINS: Final = word_set("and y e & so then entonces porque because")
_NONE_NEAR: Final = 99.0
_CARRIED: Final = 0.8
_CARRIED_WITHOUT_PRONOUN: Final = 0.62
_CARRIED_FAR: Final = 0.66
_ASKED_ABOUT: Final = 0.86
_PLACE: Final = 0.97

Fits = Callable[[str], bool]


@dataclass(frozen=True, slots=True, kw_only=True)
class Attached:
    """One thing that something is said of, and how sure we are of that."""

    thing: str
    trust: float
    by_name: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Around:
    """What stands around a mention: its chunk, the things named there, and the things that "it" may mean."""

    chunk: Chunk
    things: tuple[Mention, ...]
    """Things named in the chunk, one by one."""
    spelled: Mapping[ThingId, tuple[tuple[str, ...], ...]]
    """The names of things, for putting two together."""
    named: tuple[Named, ...]
    """The same, put together and grouped."""
    matches: tuple[Match[Sense], ...]
    """Every phrase that begins in the chunk."""
    others: tuple[Mention, ...]
    """Other statements in the chunk."""
    carried: tuple[str, ...]
    """Things of the chunk before."""
    asked: tuple[str, ...]
    """Things that the open question is about."""


def attach(tokens: Sequence[Token], said: Mention, around: Around, fits: Fits) -> tuple[Attached, ...]:
    """The things that `said` is said of; empty where there is none that fits."""
    named = without(tokens, said, around)
    best: tuple[float, int] | None = None
    nearest = _NONE_NEAR
    for place, one in enumerate(named):
        cost = _cost(tokens, said, one, around)
        if any(fits(thing) for thing in (*one.ids, *one.places)):
            if best is None or cost < best[0]:
                best = (cost, place)
        else:
            nearest = min(nearest, cost if one.last <= said.first else cost + 0.5)
    if best is None:
        return () if nearest <= _BLOCKS_WITHIN else _carried(tokens, said, around, fits)
    trust = next((trust for limit, trust in _TRUST if best[0] <= limit), 0.0)
    if not trust or (nearest <= _BLOCKS_WITHIN and best[0] > nearest + 1.0):
        return ()
    return _grouped(named, best[1], fits, trust, said)


def without(tokens: Sequence[Token], said: Mention, around: Around) -> tuple[Named, ...]:
    """The things named, without any that is part of what is said ("no *ice* on the coil")."""
    apart = [thing for thing in around.things if thing.last <= said.first or said.last <= thing.first]
    if len(apart) == len(around.things):
        return around.named
    return named_in(tokens, around.chunk, apart, around.spelled)


def _grouped(
    named: Sequence[Named], place: int, fits: Fits, trust: float, said: Mention
) -> tuple[Attached, ...]:
    found: dict[str, float] = {}
    for member in named:
        if member.group != named[place].group or (member.first >= said.last) != (
            named[place].first >= said.last
        ):
            continue
        sure = trust * member.score
        heads = [thing for thing in member.ids if fits(thing)]
        wheres = [] if heads else [thing for thing in member.places if fits(thing)]
        for thing in heads:
            found.setdefault(thing, sure)
        for thing in wheres:
            found.setdefault(thing, sure * _PLACE)
    return tuple(Attached(thing=thing, trust=sure, by_name=True) for thing, sure in found.items())


def _cost(tokens: Sequence[Token], said: Mention, named: Named, around: Around) -> float:
    before = named.last <= said.first
    first, last = (named.last, said.first) if before else (said.last, named.first)
    cost = sum(_step(tokens[place]) for place in range(first, last))
    between = [other for other in around.others if first <= other.first and other.last <= last]
    cost += 1.5 * len(between)
    if before:
        return cost + _belongs_left(tokens, said, named, around)
    if any(_parts(tokens[place]) for place in range(first, last)):
        return _NONE_NEAR  # "and" and a mark begin a new fact
    return cost + (0.5 if all(_is_thin(tokens[place]) for place in range(first, last)) else 1.5)


def _belongs_left(tokens: Sequence[Token], said: Mention, named: Named, around: Around) -> float:
    """A thing that already has its adjective before it ("dirty filter clean coil") waits for no second one."""
    touching = any(other.last == named.first and other is not said for other in around.others)
    return 1.0 if touching and named.last == said.first else 0.0


def _step(token: Token) -> float:
    if token.kind == "mark":
        return 0.0 if token.word in "'\"*#" else 2.5
    if token.word in {"and", "y", "e", "or", "o", "&"}:
        return 1.5
    if token.word in CONTRAST:
        return 6.0
    if token.word in JOINING:
        return 1.5
    return 0.25 if _is_thin(token) else 1.0


def _parts(token: Token) -> bool:
    return token.word in _BEGINS or (token.kind == "mark" and token.word not in "'\"*#")


def _is_thin(token: Token) -> bool:
    return (
        token.word in DETERMINERS or token.word in LIGHT or token.word in {"not", "no", "it", *_PREPOSITIONS}
    )


def _carried(tokens: Sequence[Token], said: Mention, around: Around, fits: Fits) -> tuple[Attached, ...]:
    for thing in around.asked:
        if fits(thing):
            return (Attached(thing=thing, trust=_ASKED_ABOUT, by_name=False),)
    near = tokens[max(around.chunk.first, said.first - 6) : said.last + 2]
    points = any(token.word in PRONOUNS for token in near)
    fitting = [thing for thing in around.carried if fits(thing)]
    if not fitting:
        return ()
    trust = _CARRIED if points else _CARRIED_WITHOUT_PRONOUN if not around.named else _CARRIED_FAR * 0.75
    return tuple(Attached(thing=thing, trust=trust, by_name=False) for thing in fitting)
