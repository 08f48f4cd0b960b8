"""What stands of the findings once the ear has been heard beside composition.

A label that the ear was never taught stays as composed: a new entry of the knowledge works before any training.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Final

from assistant.reading.clauses import JOINING, segment_at
from assistant.reading.denial import NEGATORS
from assistant.reading.ear import Like
from assistant.reading.heard_places import (
    LIVE,
    Label,
    chunk_at,
    is_unreal,
    span_between,
    span_of_like,
    taught,
)
from assistant.reading.lexicon import Lexicon
from assistant.reading.matching import DETERMINERS, LIGHT
from assistant.reading.pieces import is_word
from assistant.reading.said import FindingSaid, Span
from assistant.reading.scene import Scene
from assistant.reading.scope import SCOPE_WORDS
from assistant.reading.thresholds import LEAST, SAY_BACK
from assistant.reading.voices import UNHEARD, belief, by_label, signs_of
from kb.ear import Floats, saying_key
from kb.ids import FindingId, StateId

_SUREST: Final = 0.98


def finding_signs(
    lexicon: Lexicon,
    scene: Scene,
    composed: Sequence[FindingSaid],
    likes: Sequence[Like],
    asked: FindingId | None,
    *,
    replying: bool,
) -> Mapping[Label, Floats]:
    """The signs of every state of every finding that either voice speaks of, what was asked about apart."""
    told = taught(lexicon, "finding")
    heard = {
        label: like
        for label, like in by_label(likes, "finding").items()
        if _is_known(lexicon, label) and label[0] != asked
    }
    live = {
        (str(said.finding), str(said.state)): said
        for said in composed
        if _is_live(lexicon, said) and said.finding != asked
    }
    elsewhen = {(str(said.finding), str(said.state)) for said in composed if not _is_live(lexicon, said)}
    labels = [*live, *(label for label in heard if label not in live)]
    return {
        label: signs_of(
            live[label].confidence if label in live else 0.0,
            heard.get(label),
            rival=_rival(label, {other: said.confidence for other, said in live.items()}),
            rival_like=max(
                (like.score for other, like in heard.items() if other != label and other[0] == label[0]),
                default=UNHEARD.score,
            ),
            unreal=label in elsewhen
            or (
                label in heard
                and is_unreal(scene, heard[label], past_counts=_keeps_history(lexicon, label[0]))
            ),
            replying=replying,
            source=live[label].source if label in live else "",
            denied=label in live and live[label].denied,
            unknown=_unknown(scene, live[label].span) if label in live else 0,
        )
        for label in labels
        if label in told
    }


def agreed_findings(
    lexicon: Lexicon,
    scene: Scene,
    composed: Sequence[FindingSaid],
    likes: Sequence[Like],
    asked: FindingId | None,
    *,
    replying: bool,
) -> tuple[FindingSaid, ...]:
    """The findings of both voices, in the order of the text; one live state a finding."""
    ear = lexicon.knowledge.ear
    if ear is None:
        return tuple(composed)
    signs = finding_signs(lexicon, scene, composed, likes, asked, replying=replying)
    sure = {label: belief(ear.beliefs["finding"], found) for label, found in signs.items()}
    for said in composed:
        label = (str(said.finding), str(said.state))
        if label in sure and _is_live(lexicon, said):
            sure[label] = max(sure[label], _at_least(lexicon, scene, said))
    kept = [
        said for said in composed if (str(said.finding), str(said.state)) not in sure or said.when not in LIVE
    ]
    taken = {said.finding for said in kept if _is_live(lexicon, said)}
    heard = by_label(likes, "finding")
    live = {(str(said.finding), str(said.state)): said for said in composed if _is_live(lexicon, said)}
    for label in sorted(sure, key=lambda label: (-sure[label], label not in live, label)):
        finding, state = FindingId(label[0]), StateId(label[1])
        if finding in taken or sure[label] < LEAST:
            continue
        taken.add(finding)
        probability = min(sure[label], _SUREST)
        spoken = live.get(label)
        if spoken is not None:
            kept.append(_resaid(spoken, probability))
        else:
            kept.append(_only_heard(lexicon, scene, finding, state, heard[label], probability))
    return tuple(sorted(kept, key=lambda said: (said.span, said.finding)))


def _is_known(lexicon: Lexicon, label: Label) -> bool:
    node = lexicon.knowledge.findings.get(FindingId(label[0]))
    return node is not None and label[1] in node.states


def _rival(label: Label, live: Mapping[Label, float]) -> float:
    return max((sure for other, sure in live.items() if other[0] == label[0] and other != label), default=0.0)


def _keeps_history(lexicon: Lexicon, finding: str) -> bool:
    node = lexicon.knowledge.findings[FindingId(finding)]
    return node.history or node.lasts == "always"


def _is_live(lexicon: Lexicon, said: FindingSaid) -> bool:
    """Said of now, or of a past that the finding keeps."""
    return said.when in LIVE or (said.when == "before" and _keeps_history(lexicon, said.finding))


def _at_least(lexicon: Lexicon, scene: Scene, said: FindingSaid) -> float:
    """What no ear takes away: an author's very words, which are at least said back; a short statement parsed to its end.

    The ear knows few wordings with a "not"; grammar knows what is left of a state that is denied.
    """
    new = _is_new(lexicon, scene, said) if said.source == "saying" else None
    if new is not None:
        return said.confidence if new else min(said.confidence, SAY_BACK)
    words, unknown, denies = _statement(scene, said.span)
    short = words <= (_SHORT_DENIAL if denies else _VERY_SHORT)
    alone = said.source == "unnamed" and words == sum(map(is_word, scene.tokens))
    return said.confidence if (said.source in _PARSED or alone) and short and not unknown else 0.0


def _is_new(lexicon: Lexicon, scene: Scene, said: FindingSaid) -> bool | None:
    """Whether these very words came into the knowledge after the ear was trained; None where they are not a saying's very words."""
    ear = lexicon.knowledge.ear
    words = tuple(t.word for t in scene.tokens if said.span.start <= t.start < said.span.end and is_word(t))
    exact = any(
        match.target.kind == "saying"
        and (match.target.id, match.target.state) == (said.finding, said.state)
        and match.score >= 1
        and span_between(scene.tokens, match.first, match.last) == said.span
        for match in scene.matches
    )
    if ear is None or not exact:
        return None
    return saying_key(said.finding, said.state, words) not in ear.taught


_PARSED: Final = frozenset({"answer", "pair", "saying", "state", "echo", "carried"})
_VERY_SHORT, _SHORT_DENIAL = 4, 6
"""Words of a statement that grammar takes in at a glance."""


def _unknown(scene: Scene, span: Span) -> int:
    """Words of the statement at `span` that composition made nothing of."""
    return _statement(scene, span)[1]


def _statement(scene: Scene, span: Span) -> tuple[int, int, bool]:
    """How many words the statement at `span` has, of how many composition made nothing, and whether a "not" is among them."""
    place = next((at for at, token in enumerate(scene.tokens) if token.start >= span.start), None)
    chunk = None if place is None else next(iter(chunk_at(scene.chunks, place)), None)
    if place is None or chunk is None:
        return 0, 0, False
    first, last = segment_at(chunk, place)
    known = {at for match in scene.matches for at in range(match.first, match.last)}
    words = [
        (at, token.word) for at, token in enumerate(scene.tokens[first:last], start=first) if is_word(token)
    ]
    unknown = sum(at not in known and word.isalpha() and word not in _PLAIN for at, word in words)
    return len(words), unknown, any(word in NEGATORS for _, word in words)


_PLAIN: Final = LIGHT | DETERMINERS | SCOPE_WORDS | JOINING


def _resaid(said: FindingSaid, probability: float) -> FindingSaid:
    """The same claim, held with another probability: drawn towards the background, or towards its state."""
    if probability >= said.confidence:
        share = (probability - said.confidence) / max(1.0 - said.confidence, 1e-9)
        drawn = {
            state: (1 - share) * p + share * (state == said.state) for state, p in said.likelihood.items()
        }
    else:
        share = probability / said.confidence
        even = 1.0 / len(said.likelihood)
        drawn = {state: share * p + (1 - share) * even for state, p in said.likelihood.items()}
    return replace(said, confidence=probability, likelihood=drawn)


def _only_heard(
    lexicon: Lexicon, scene: Scene, finding: FindingId, state: StateId, like: Like, probability: float
) -> FindingSaid:
    background = lexicon.background[finding]
    return FindingSaid(
        finding=finding,
        state=state,
        likelihood={s: probability * (s == state) + (1 - probability) * b for s, b in background.items()},
        confidence=probability,
        when="now",
        span=span_of_like(scene.tokens, like),
    )
