"""What stands of hazards and complaints once the ear has been heard beside composition.

A label that the ear was never taught stays as composed: a new entry of the knowledge works before any training.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from typing import Final

from assistant.reading.denial import NEGATORS
from assistant.reading.ear import Like
from assistant.reading.heard_places import is_unreal, span_of_like, taught
from assistant.reading.lexicon import Lexicon
from assistant.reading.matching import Match
from assistant.reading.pieces import is_word
from assistant.reading.said import ComplaintSaid, HazardSaid
from assistant.reading.scene import Scene
from assistant.reading.senses import Sense
from assistant.reading.thresholds import LEAST, LEAST_HAZARD, SAY_BACK
from assistant.reading.voices import belief, by_label, signs_of
from kb.ear import Floats
from kb.ids import HazardId, SymptomId

_SUREST: Final = 0.98


def hazard_signs(
    lexicon: Lexicon,
    scene: Scene,
    composed: Mapping[HazardId, HazardSaid],
    likes: Sequence[Like],
    harmless: Sequence[Match[Sense]],
    *,
    replying: bool,
    refused: Collection[HazardId] = (),
) -> Mapping[HazardId, Floats]:
    """The signs of every hazard that either voice speaks of; `refused` are those whose words stand there denied."""
    told = taught(lexicon, "hazard")
    heard = {HazardId(id_): like for (id_, _), like in by_label(likes, "hazard").items()}
    hazards = [*composed, *(hazard for hazard in heard if hazard not in composed)]
    return {
        hazard: signs_of(
            composed[hazard].confidence if hazard in composed else 0.0,
            heard.get(hazard),
            unreal=hazard in heard and is_unreal(scene, heard[hazard]),
            harmless=hazard in heard and _is_harmless(hazard, heard[hazard], harmless),
            replying=replying,
            denied=hazard in heard and _has_a_no(scene, heard[hazard]),
        )
        for hazard in hazards
        if (str(hazard), "") in told
        and hazard in lexicon.knowledge.hazards
        and (hazard in composed or (hazard not in refused and not _only_denies(scene, heard[hazard])))
    }


def agreed_hazards(
    lexicon: Lexicon,
    scene: Scene,
    composed: Mapping[HazardId, HazardSaid],
    likes: Sequence[Like],
    harmless: Sequence[Match[Sense]],
    *,
    replying: bool,
    refused: Collection[HazardId] = (),
) -> dict[HazardId, HazardSaid]:
    """The hazards of both voices by id."""
    ear = lexicon.knowledge.ear
    if ear is None:
        return dict(composed)
    heard = by_label(likes, "hazard")
    agreed = dict(composed)
    signs_of_each = hazard_signs(
        lexicon, scene, composed, likes, harmless, replying=replying, refused=refused
    )
    for hazard, signs in signs_of_each.items():
        sure = min(belief(ear.beliefs["hazard"], signs), _SUREST)
        if hazard in composed:
            sure = max(sure, _never_talked_away(composed[hazard].confidence))
        if sure < LEAST_HAZARD:
            agreed.pop(hazard, None)
        elif hazard in composed:
            agreed[hazard] = replace(composed[hazard], confidence=sure)
        else:
            span = span_of_like(scene.tokens, heard[str(hazard), ""])
            agreed[hazard] = HazardSaid(hazard=hazard, confidence=sure, span=span)
    return agreed


def complaint_signs(
    lexicon: Lexicon,
    scene: Scene,
    composed: Mapping[SymptomId, ComplaintSaid],
    likes: Sequence[Like],
) -> Mapping[SymptomId, Floats]:
    """The signs of every complaint that either voice speaks of."""
    told = taught(lexicon, "complaint")
    heard = {SymptomId(id_): like for (id_, _), like in by_label(likes, "complaint").items()}
    symptoms = [*composed, *(symptom for symptom in heard if symptom not in composed)]
    return {
        symptom: signs_of(
            composed[symptom].confidence if symptom in composed else 0.0,
            heard.get(symptom),
            unreal=symptom in heard and is_unreal(scene, heard[symptom]),
        )
        for symptom in symptoms
        if (str(symptom), "") in told and symptom in lexicon.knowledge.symptoms
    }


def agreed_complaints(
    lexicon: Lexicon, scene: Scene, composed: Mapping[SymptomId, ComplaintSaid], likes: Sequence[Like]
) -> dict[SymptomId, ComplaintSaid]:
    """The complaints of both voices by id."""
    ear = lexicon.knowledge.ear
    if ear is None:
        return dict(composed)
    heard = by_label(likes, "complaint")
    agreed = dict(composed)
    for symptom, signs in complaint_signs(lexicon, scene, composed, likes).items():
        sure = min(belief(ear.beliefs["complaint"], signs), _SUREST)
        if sure < LEAST:
            agreed.pop(symptom, None)
        elif symptom in composed:
            agreed[symptom] = replace(composed[symptom], confidence=sure)
        else:
            span = span_of_like(scene.tokens, heard[str(symptom), ""])
            agreed[symptom] = ComplaintSaid(symptom=symptom, confidence=sure, span=span)
    return agreed


def _never_talked_away(composed: float) -> float:
    """Plain words of danger stay to be said back, and what was half heard stays to be asked, whatever the ear finds."""
    return min(composed, SAY_BACK) if composed >= _PLAINLY or composed < SAY_BACK else LEAST_HAZARD


_PLAINLY: Final = 0.9


def _only_denies(scene: Scene, like: Like) -> bool:
    """As in "sin humo": a few words behind a "no" that opens them."""
    words = [token.word for token in scene.tokens[like.first : like.last] if is_word(token)]
    return words[0] in NEGATORS and len(words) <= _FEW


_FEW: Final = 4


def _has_a_no(scene: Scene, like: Like) -> bool:
    return any(token.word in NEGATORS for token in scene.tokens[like.first : like.last])


def _is_harmless(hazard: HazardId, like: Like, harmless: Sequence[Match[Sense]]) -> bool:
    return any(
        match.target.id == hazard and match.first < like.last and like.first < match.last
        for match in harmless
    )
