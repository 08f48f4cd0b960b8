"""Which of the phrases found stand as mentions: the longest in each place, and things put together into one.

"The fan of the outdoor unit" is the outdoor fan: two names joined by a light word are read as the thing whose name
they spell together.
"""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from assistant.reading.clauses import Chunk
from assistant.reading.matching import DETERMINERS, LIGHT, Match
from assistant.reading.normalise import Token
from assistant.reading.senses import Sense, SenseKind
from assistant.reading.wordsets import word_set
from kb.ids import ThingId

_LINKS: Final = word_set(
    "on in of at for from to inside outside out with de del en la el los por adentro afuera que a"
)
_COORDINATES: Final = word_set("and y e & or o , ni nor plus")
_LEAST_SCORE: Final = 0.84


@dataclass(frozen=True, slots=True, kw_only=True)
class Mention:
    """Words that name things or say something of them; `[first, last)` in tokens."""

    ids: tuple[str, ...]
    first: int
    last: int
    score: float
    words: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Named:
    """Things named in one place of a chunk: the head, what it is part of, and how it is joined to the others."""

    ids: tuple[str, ...]
    places: tuple[str, ...]
    """Things named only to say where: "the filter *of the unit*"."""
    first: int
    last: int
    group: int
    """Things joined by "and" share it."""
    score: float = 1.0


def mentions_of(matches: Sequence[Match[Sense]], kind: SenseKind) -> tuple[Mention, ...]:
    """The mentions of one kind, the longest in each place, in order."""
    by_place: dict[tuple[int, int], list[Match[Sense]]] = defaultdict(list)
    for match in matches:
        if match.target.kind == kind and _stands(match):
            by_place[match.first, match.last].append(match)
    order = sorted(by_place, key=lambda place: (-_weight(by_place[place]), place))
    taken: set[int] = set()
    kept: list[Mention] = []
    for place in order:
        if taken.intersection(range(*place)):
            continue
        taken.update(range(*place))
        here = by_place[place]
        ids = tuple(dict.fromkeys(match.target.id for match in here))
        best = max(here, key=lambda match: match.score)
        kept.append(Mention(ids=ids, first=place[0], last=place[1], score=best.score, words=best.words))
    return tuple(sorted(kept, key=lambda mention: mention.first))


def _weight(matches: Sequence[Match[Sense]]) -> float:
    return max(match.words * 10 + match.score - match.gaps for match in matches)


def _stands(match: Match[Sense]) -> bool:
    return match.words == 1 or (match.gaps <= 1 and match.score >= _LEAST_SCORE)


def named_in(
    tokens: Sequence[Token],
    chunk: Chunk,
    things: Sequence[Mention],
    spelled: Mapping[ThingId, tuple[tuple[str, ...], ...]],
) -> tuple[Named, ...]:
    """The things named in a chunk, put together and grouped."""
    inside = [thing for thing in things if chunk.first <= thing.first and thing.last <= chunk.last]
    named: list[Named] = []
    for thing in inside:
        before = named[-1] if named else None
        if before is not None and _linked(tokens, before.last, thing.first):
            named[-1] = _together(tokens, before, thing, spelled)
        elif before is not None and _coordinated(tokens, before.last, thing.first):
            named.append(_alone(thing, before.group))
        else:
            named.append(_alone(thing, len(named)))
    return tuple(named)


def _alone(thing: Mention, group: int) -> Named:
    return Named(ids=thing.ids, places=(), first=thing.first, last=thing.last, group=group, score=thing.score)


def _linked(tokens: Sequence[Token], last: int, first: int) -> bool:
    between = [tokens[place].word for place in range(last, first)]
    return all(word in _LINKS or word in DETERMINERS or word == "is" for word in between) and (
        any(word in _LINKS for word in between) or not between
    )


def _coordinated(tokens: Sequence[Token], last: int, first: int) -> bool:
    between = [tokens[place].word for place in range(last, first)]
    plain = [word for word in between if word not in DETERMINERS and word not in LIGHT]
    return 0 < len(plain) <= 2 and all(word in _COORDINATES for word in plain)  # noqa: PLR2004 - ", and"


def _together(
    tokens: Sequence[Token],
    head: Named,
    place: Mention,
    spelled: Mapping[ThingId, tuple[tuple[str, ...], ...]],
) -> Named:
    words = {tokens[at].word for at in range(head.first, place.last)}
    whole = tuple(
        thing
        for thing, names in spelled.items()
        if any(
            len(name) > 1 and _content(name) <= words and _uses_both(name, tokens, head, place)
            for name in names
        )
    )
    if whole:
        return Named(
            ids=whole, places=(), first=head.first, last=place.last, group=head.group, score=head.score
        )
    side_by_side = head.last == place.first
    return Named(
        ids=tuple(dict.fromkeys((*head.ids, *place.ids))) if side_by_side else head.ids,
        places=head.places if side_by_side else (*head.places, *place.ids),
        first=head.first,
        last=place.last,
        group=head.group,
        score=head.score,
    )


def _content(name: Sequence[str]) -> set[str]:
    return {word for word in name if word not in DETERMINERS}


def _uses_both(name: Sequence[str], tokens: Sequence[Token], head: Named, place: Mention) -> bool:
    own = {tokens[at].word for at in range(head.first, head.last)}
    other = {tokens[at].word for at in range(place.first, place.last)}
    return bool(set(name) & own) and bool(_content(name) & (other - own))
