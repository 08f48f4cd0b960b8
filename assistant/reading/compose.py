"""What is said of what: things × qualities, states' own wordings and whole sayings, each with its scope, as claims."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal

from assistant.reading.attach import Around, Attached, attach, without
from assistant.reading.clauses import Chunk, segment_at
from assistant.reading.course import no_course
from assistant.reading.lexicon import Lexicon
from assistant.reading.matching import LIGHT, Match
from assistant.reading.mentions import Mention, Named
from assistant.reading.normalise import Token
from assistant.reading.scene import Scene, around_of
from assistant.reading.scope import Scope, scope_of
from assistant.reading.senses import Pair, Sense
from assistant.reading.wordsets import word_set
from assistant.reading.yes_or_no import NO, YES
from kb.ids import FindingId, QualityId, StateId

Source = Literal["saying", "state", "answer", "pair", "carried", "unnamed", "echo", "alike"]
_SAYING: Final = 0.95
_SHORT_SAYING: Final = 0.82
_STATE: Final = 0.95
_UNNAMED_STATE: Final = 0.6
_ANSWER: Final = 0.9
_BESIDE: Final = 0.88
_TWO: Final = 2
_ONE_OF_MANY: Final = 0.8
"""Not this one of several unordered states: which of the others is mostly a guess."""
_OPPOSITE: Final = 0.97
_ASKED_STATE: Final = 0.8
_SHORT_REPLY: Final = 8
_ECHO: Final = 0.84
_NOTHING_NAMED: Final = 0.64
_ONE_OF_TWO: Final = 0.42
_MUCH_RARER: Final = 2.5
_FEW_MEANINGS: Final = 2
_SEVERAL: Final = 0.72
"""Left where one pair leads to several findings and nothing tells which."""
_WHOLE: Final = 3
_WORD_FOR_WORD: Final = 0.9
_PHRASES: Final = frozenset({"saying", "symptom", "quality", "state", "move"})
_BARE: Final = word_set(
    "yes no si none nada ninguno ninguna all both always never siempre nunca other otro igual same usual normal fine "
    "bien mal good bad ok window ventana split"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Claim:
    """One finding that words speak of, before claims are weighed against each other."""

    finding: FindingId
    states: Mapping[StateId, float]
    """Shares over the states meant; sums to 1."""
    first: int
    last: int
    trust: float
    scope: Scope
    source: Source
    words: int
    thing: str | None = None


def claims_of(lexicon: Lexicon, scene: Scene, asked: FindingId | None) -> tuple[Claim, ...]:
    """Every claim, unweighed."""
    told = (*_sayings(lexicon, scene), *_states(lexicon, scene, asked), *_told_answers(lexicon, scene))
    return (*told, *_pairs(lexicon, scene, asked))


def _sayings(lexicon: Lexicon, scene: Scene) -> Iterator[Claim]:
    for match in scene.matches:
        around = around_of(scene, match.first)
        if match.target.kind != "saying" or around is None:
            continue
        finding, state = FindingId(match.target.id), StateId(match.target.state)
        scope = _scope(scene, around, match.first, match.last)
        trust = match.score * (_SAYING if match.words > 1 else _SHORT_SAYING)
        yield _claim(lexicon, finding, state, None, match, trust, scope, "saying")


def _states(lexicon: Lexicon, scene: Scene, asked: FindingId | None) -> Iterator[Claim]:
    for match in scene.matches:
        around = around_of(scene, match.first)
        if match.target.kind != "state" or around is None:
            continue
        words = [scene.tokens[place].word for place in range(match.first, match.last)]
        about = match.target.id == asked and len(scene.tokens) <= _SHORT_REPLY
        bare = all(word in _BARE or word in LIGHT for word in words)
        if (bare or match.words == 1) and not (about and words[0] not in YES | NO):
            continue
        finding = lexicon.knowledge.findings[FindingId(match.target.id)]
        said = Mention(ids=(), first=match.first, last=match.last, score=match.score, words=match.words)
        found = attach(scene.tokens, said, around, frozenset(finding.things).__contains__)
        named = [one for one in found if one.by_name]
        if named:
            trust = named[0].trust * _STATE * match.score
        elif about:
            trust = _ASKED_STATE * match.score
        elif (
            match.words >= _WHOLE
            and match.gaps == 0
            and not all(word in lexicon.speller.everyday for word in words)
        ):
            trust = _UNNAMED_STATE * match.score
        else:
            continue
        scope = _scope(scene, around, match.first, match.last)
        yield _claim(
            lexicon, finding.finding, StateId(match.target.state), None, match, trust, scope, "state"
        )


def _told_answers(lexicon: Lexicon, scene: Scene) -> Iterator[Claim]:
    """Words that answer a question, said unasked right beside the name of the thing."""
    for match in scene.matches:
        around = around_of(scene, match.first)
        if match.target.kind != "answer" or match.gaps or match.words < _TWO or around is None:
            continue
        finding = lexicon.knowledge.findings[FindingId(match.target.id)]
        said = Mention(ids=(), first=match.first, last=match.last, score=match.score, words=match.words)
        found = attach(scene.tokens, said, around, frozenset(finding.things).__contains__)
        if found and found[0].by_name and found[0].trust >= _BESIDE:
            scope, state = _scope(scene, around, match.first, match.last), StateId(match.target.state)
            trust = found[0].trust * _ANSWER * match.score
            yield _claim(lexicon, finding.finding, state, None, match, trust, scope, "answer")


def _pairs(lexicon: Lexicon, scene: Scene, asked: FindingId | None) -> Iterator[Claim]:
    for quality in scene.qualities:
        around = around_of(scene, quality.first)
        if around is None or _compares(scene.tokens, quality) or no_course(scene, quality):
            continue
        scope = _scope(scene, around, quality.first, quality.last)
        for name in quality.ids:
            opposite = lexicon.knowledge.qualities[QualityId(name)].opposite if scope.denied else None
            things = lexicon.things_with(name) | lexicon.things_with(opposite or "")
            found = attach(scene.tokens, quality, around, things.__contains__)
            yield from _paired(lexicon, quality, name, found, scope, asked)
            if not found and asked is None and _points(scene.tokens, around, quality):
                yield from _only_meaning(lexicon, quality, name, scope)


def _compares(tokens: Sequence[Token], quality: Mention) -> bool:
    """As in "The same as the room": a comparison, and no state of its own."""
    follow = tokens[quality.last].word if quality.last < len(tokens) else ""
    return tokens[quality.last - 1].word in {"same", "igual"} and follow in {"as", "que", "than", "like", "a"}


_SHORT_TEXT: Final = 6
_POINTING: Final = word_set("it she he they thing hay there esta eso esto")


def _points(tokens: Sequence[Token], around: Around, quality: Mention) -> bool:
    """Nothing is named but the whole unit, and "it" stands before, or a verb without its subject, or nothing else."""
    if any(set(named.ids) - _WHOLE_UNIT for named in without(tokens, quality, around)):
        return False
    segment = segment_at(around.chunk, quality.first)
    rest = [tokens[place].word for place in range(*segment) if not quality.first <= place < quality.last]
    lead = {token.word for token in tokens[max(segment[0], quality.first - 4) : quality.first]}
    bare = len(tokens) <= _SHORT_TEXT and all(
        word in LIGHT or word in {"not", "no", "y", "and"} for word in rest
    )
    whole = bool(around.named) and tokens[quality.first - 1].kind == "word"
    return bool(lead & _POINTING) or bare or whole or tokens[quality.first].word in _NO_SUBJECT


_WHOLE_UNIT: Final = frozenset({"unit", "tilt", "air", "airflow"})
"""Names of the machine as a whole, and what shares them: "the machine never rests" is said of its compressor."""
_NO_SUBJECT: Final = word_set("no nunca sigue never still keeps")


def _paired(
    lexicon: Lexicon,
    said: Mention,
    name: str,
    found: Sequence[Attached],
    scope: Scope,
    asked: FindingId | None,
) -> Iterator[Claim]:
    opposite = lexicon.knowledge.qualities[QualityId(name)].opposite if scope.denied else None
    for one in found:
        meant, sense = Pair(one.thing, name), scope
        if opposite is not None and not scope.weakly and Pair(one.thing, opposite) in lexicon.findings_of:
            meant, sense = (
                Pair(one.thing, opposite),
                replace(scope, denied=False, trust=scope.trust * _OPPOSITE),
            )
        told = lexicon.findings_of.get(meant, ())
        several = 1.0
        if len(told) > 1:
            wanted = tuple(entry for entry in told if entry[0] == asked)
            told, several = (wanted, 1.0) if wanted else (told, _SEVERAL)
        source: Source = "pair" if one.by_name else "carried"
        for finding, state in told:
            trust = one.trust * said.score * several
            yield _claim(lexicon, finding, state, (one.thing, meant.quality), said, trust, sense, source)


def _only_meaning(lexicon: Lexicon, said: Mention, name: str, scope: Scope) -> Iterator[Claim]:
    """As in "It is iced", with nothing named at all: what can be iced decides, where that is one finding, or two."""
    told: dict[FindingId, tuple[StateId, str]] = {}
    for thing in sorted(lexicon.things_with(name)):
        for finding, state in lexicon.findings_of[Pair(thing, name)]:
            told.setdefault(finding, (state, thing))
    common = max((lexicon.background[finding][state] for finding, (state, _) in told.items()), default=0.0)
    told = {f: meant for f, meant in told.items() if lexicon.background[f][meant[0]] * _MUCH_RARER >= common}
    complained = {f: meant for f, meant in told.items() if (f, meant[0]) in lexicon.complained}
    told = complained or told
    stories = {lexicon.knowledge.findings[finding].group or finding for finding in told}
    if len(stories) > _FEW_MEANINGS:
        return
    trust = _NOTHING_NAMED * said.score if len(stories) == 1 else _ONE_OF_TWO * said.score
    for finding, (state, thing) in told.items():
        yield _claim(lexicon, finding, state, (thing, name), said, trust, scope, "unnamed")


def _scope(scene: Scene, around: Around, first: int, last: int) -> Scope:
    return scope_of(scene.tokens, around.chunk, first, last, _before(around, first))


def _before(around: Around, first: int) -> frozenset[int]:
    """Places inside phrases that end before these words begin: a "not" there belongs to its own phrase."""
    inside: set[int] = set()
    for match in around.matches:
        whole = match.score >= _WORD_FOR_WORD and not match.gaps and match.words > 1
        if whole and match.target.kind in _PHRASES and match.last <= first:
            inside.update(range(match.first, match.last))
    return frozenset(inside)


def _claim(  # noqa: PLR0917 - one line a field of the claim
    lexicon: Lexicon,
    finding: FindingId,
    state: StateId,
    pair: tuple[str, str] | None,
    said: Mention | Match[Sense],
    trust: float,
    scope: Scope,
    source: Source,
) -> Claim:
    shares: Mapping[StateId, float] = {state: 1.0}
    if scope.denied:
        shares = denied(lexicon, finding, state, pair)
        if scope.weakly:
            shares = _one_short(lexicon, finding, shares)
        node = lexicon.knowledge.findings[finding]
        if len(node.states) > _TWO and not node.ordered:
            trust *= _ONE_OF_MANY
    return Claim(
        finding=finding,
        states=shares,
        first=said.first,
        last=said.last,
        trust=trust,
        scope=scope,
        source=source,
        words=said.words,
        thing=pair[0] if pair else None,
    )


def denied(
    lexicon: Lexicon, finding: FindingId, state: StateId, pair: tuple[str, str] | None
) -> Mapping[StateId, float]:
    """What "not" leaves of a state: the opposite quality's state, else the normal one, else the others as they are common."""
    node = lexicon.knowledge.findings[finding]
    others = [other for other in node.states if other != state]
    if not others:
        return {state: 1.0}
    if pair is not None:
        opposite = lexicon.knowledge.qualities[QualityId(pair[1])].opposite
        for found, meant in lexicon.findings_of.get(Pair(pair[0], opposite or ""), ()):
            if found == finding and meant != state:
                return _mostly(meant, others)
    if node.normal is not None and node.normal != state:
        return _mostly(node.normal, others)
    common = {other: lexicon.background[finding][other] for other in others}
    total = sum(common.values())
    return {other: share / total for other, share in common.items()}


def _one_short(
    lexicon: Lexicon, finding: FindingId, shares: Mapping[StateId, float]
) -> Mapping[StateId, float]:
    """As in "Barely moves": not the far end of an ordered finding but the state next to it."""
    node = lexicon.knowledge.findings[finding]
    states = list(node.states)
    end = max(shares, key=lambda state: (shares[state], state))
    if not node.ordered or len(states) <= _TWO or end not in {states[0], states[-1]}:
        return shares
    near = states[1] if end == states[0] else states[-2]
    return {near: 0.8, end: 0.2}


def _mostly(state: StateId, others: Sequence[StateId]) -> Mapping[StateId, float]:
    if len(others) == 1:
        return {state: 1.0}
    rest = 0.15 / (len(others) - 1)
    return {other: 0.85 if other == state else rest for other in others}


def echoes_of(lexicon: Lexicon, scene: Scene) -> Iterator[Claim]:
    """As in "The fan runs, the compressor doesn't": a thing with no word of its own borrows the one before, denied or not."""
    for around in scene.around:
        for named in around.named:
            follow = _tail(scene, around.chunk, named)
            quality = None if follow is None else _quality_before(scene, named.first)
            if follow is None or quality is None:
                continue
            end = min(named.last + 1, around.chunk.last)
            said = Mention(ids=(), first=named.first, last=end, score=1.0, words=1)
            found = [Attached(thing=thing, trust=_ECHO, by_name=True) for thing in named.ids]
            yield from _paired(lexicon, said, quality, found, Scope(denied=follow == "no"), None)


_TAILS: Final = {
    "no": "no", "not": "no", "yes": "yes", "si": "yes", "too": "yes", "tambien": "yes", "tampoco": "no", "neither": "no",
}  # fmt: skip


def _tail(scene: Scene, chunk: Chunk, named: Named) -> str | None:
    """What a segment says of a thing where it says only yes or no."""
    segment = segment_at(chunk, named.first)
    rest = [token.word for token in scene.tokens[named.last : segment[1]] if token.kind == "word"]
    plain = [
        word
        for word in rest
        if word not in {"is", "does", "do", "it", "are", "did", "has", "will", "can", "the", "one"}
    ]
    if len(plain) == 1 and plain[0] in _TAILS:
        return _TAILS[plain[0]]
    return None


def _quality_before(scene: Scene, first: int) -> str | None:
    before = [quality for quality in scene.qualities if quality.last <= first]
    return before[-1].ids[0] if before else None
