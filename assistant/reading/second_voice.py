"""What composition did not reach: whole phrases that a statement is like, as claims of their own weight."""

from collections.abc import Iterator, Sequence
from typing import Final

from assistant.reading.alike import Alike, alike_in
from assistant.reading.compose import Claim
from assistant.reading.lexicon import Lexicon
from assistant.reading.loosely import loosely_in
from assistant.reading.scene import Scene
from assistant.reading.scope import Scope
from kb.ids import FindingId, StateId

_TRUST: Final = 0.62
_FEWEST: Final = 3
_WORDS: Final = 2
"""A statement that is merely like an example weighs as much as two words of a composed one."""


def second_voice(lexicon: Lexicon, scene: Scene, composed: Sequence[Claim]) -> tuple[Alike, ...]:
    """Example phrases that statements are like, or whose words they hold in another order; two words alone tell none."""
    alike = alike_in(lexicon.examples, scene.tokens, scene.chunks, _read_places(scene, composed))
    return (*alike, *loosely_in(lexicon.examples, scene.tokens, scene.chunks, _FEWEST))


def claims_alike(alike: Sequence[Alike]) -> Iterator[Claim]:
    """Findings whose example phrases statements are like, as claims."""
    for sense, first, last, likeness in alike:
        if sense.kind in {"saying", "state"}:
            yield Claim(
                finding=FindingId(sense.id),
                states={StateId(sense.state): 1.0},
                first=first,
                last=last,
                trust=_TRUST * likeness,
                scope=Scope(),
                source="alike",
                words=_WORDS,
            )


def _read_places(scene: Scene, claims: Sequence[Claim]) -> set[int]:
    places = {place for claim in claims for place in range(claim.first, claim.last)}
    for match in scene.matches:
        if match.target.kind in {"hazard", "symptom", "move"} and match.words > 1:
            places.update(range(match.first, match.last))
    return places
