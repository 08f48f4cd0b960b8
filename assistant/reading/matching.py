"""Finding known phrases in a run of words, small gaps allowed.

A phrase is a sequence of folded words. Determiners never count, on either side; a few light words may stand between
two words of a phrase for nothing, and at most two others at a price; a negation or a mark never may.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Final, Generic, TypeVar

from assistant.reading.normalise import Token
from assistant.reading.stems import stem
from assistant.reading.wordsets import word_set

Target = TypeVar("Target")

DETERMINERS: Final = word_set(
    "the a an lo my our your their his her this these those el la los las un una unos unas mi mis su sus tu tus nuestro "
    "nuestra de del al of"
)
LIGHT: Final = word_set(
    "is are was were be been it has have am do does did really very so just all also both still pretty kinda quite "
    "super too there esta estan es son era hay muy bien bastante se le les me lo ya toda todo todas todos tan mero "
    "getting got like gets being looks look seems seem feels y'all now que si tiene tienen has"
)
NEVER_BETWEEN: Final = word_set(
    "not no never without nothing nobody nor neither nunca tampoco sin ni nada nadie ningun ninguna but pero and y if "
    "because porque aunque except unless"
)
_MOST_GAPS: Final = 2
_MOST_LIGHT: Final = 4
_GAP_PRICE: Final = 0.06
_STEM_PRICE: Final = 0.05


@dataclass(frozen=True, slots=True, kw_only=True)
class Match(Generic[Target]):
    """A phrase found: `[first, last)` in tokens; `score` is 1 for the very words."""

    target: Target
    first: int
    last: int
    score: float
    words: int
    """Words of the phrase that were found, determiners not counted."""
    gaps: int = 0
    """Foreign words between them."""


@dataclass(slots=True)
class _Node(Generic[Target]):
    next: dict[str, "_Node[Target]"] = field(default_factory=dict)
    by_stem: dict[str, list["_Node[Target]"]] = field(default_factory=dict)
    targets: list[Target] = field(default_factory=list)


class PhraseBook(Generic[Target]):
    """Phrases by their words; filled once, then only looked into."""

    __slots__ = ("_root", "words")

    def __init__(self) -> None:
        self._root: _Node[Target] = _Node()
        self.words: set[str] = set()
        """Every word of every phrase."""

    def add(self, words: Sequence[str], target: Target) -> None:
        """Add a phrase; an empty one is not added.

        A phrase of which one word would be left keeps its determiners: "al aire" is not "aire".
        """
        kept = [word for word in words if word not in DETERMINERS]
        if len(kept) <= 1:
            kept = list(words)
        node = self._root
        for word in kept:
            if word not in node.next:
                after: _Node[Target] = _Node()
                node.next[word] = after
                node.by_stem.setdefault(stem(word), []).append(after)
            node = node.next[word]
        self.words.update(kept)
        if kept and target not in node.targets:
            node.targets.append(target)

    def find(self, tokens: Sequence[Token]) -> list[Match[Target]]:
        """Every phrase found, best first for one target in one place; overlaps of different targets are all kept."""
        best: dict[tuple[Target, int], Match[Target]] = {}
        for first in range(len(tokens)):
            for match in self._from(tokens, first):
                key = (match.target, match.first)
                if key not in best or _better(match, best[key]):
                    best[key] = match
        return [*best.values()]

    def _from(self, tokens: Sequence[Token], first: int) -> Iterator[Match[Target]]:
        for node, score in _steps(self._root, tokens[first]):
            trust = score - tokens[first].doubt
            yield from self._walk(tokens, first, first + 1, node, _Way(trust, 0, 0, 1))

    def _walk(
        self, tokens: Sequence[Token], first: int, place: int, node: _Node[Target], way: "_Way"
    ) -> Iterator[Match[Target]]:
        for target in node.targets:
            trust = max(way.trust, 0.05)
            yield Match(target=target, first=first, last=place, score=trust, words=way.words, gaps=way.gaps)
        if not node.next:
            return
        gaps, light = way.gaps, way.light
        denies = tokens[place - 1].word in NEVER_BETWEEN
        while place < len(tokens) and gaps <= _MOST_GAPS and light <= _MOST_LIGHT:
            token = tokens[place]
            for after, score in _steps(node, token):
                price = (1 - score) + token.doubt + _GAP_PRICE * (gaps - way.gaps)
                longer = _Way(way.trust - price, gaps, light, way.words + 1)
                yield from self._walk(tokens, first, place + 1, after, longer)
            if token.kind == "mark" or token.word in NEVER_BETWEEN:
                return
            if denies and token.word not in DETERMINERS and token.word not in LIGHT:
                return  # a "no" denies what comes next: "no, the filter is dirty" holds no "not dirty"
            if token.word not in DETERMINERS:
                light, gaps = (light + 1, gaps) if token.word in LIGHT else (light, gaps + 1)
            place += 1


@dataclass(frozen=True, slots=True)
class _Way:
    trust: float
    gaps: int
    light: int
    words: int


def _steps(node: _Node[Target], token: Token) -> Iterator[tuple[_Node[Target], float]]:
    exact = node.next.get(token.word)
    if exact is not None:
        yield exact, 1.0
    if token.kind == "word":
        for after in node.by_stem.get(stem(token.word), ()):
            if after is not exact:
                yield after, 1.0 - _STEM_PRICE


def _better(one: Match[Target], other: Match[Target]) -> bool:
    return (one.words, one.score, other.last) > (other.words, other.score, one.last)
