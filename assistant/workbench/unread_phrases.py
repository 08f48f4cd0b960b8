"""What could not be read, grouped, each group with the meaning that it is most like: for an author to take in, or not."""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from rapidfuzz import fuzz, process

from kb.ids import CheckId, Language
from kb.knowledge import Knowledge

ALIKE: Final = 82.0
"""From this likeness on, of 100, two phrases are one (tried on our own unread phrases)."""
NEAR: Final = 65.0
"""Below it the nearest meaning is no more than chance."""
FEWEST_LETTERS: Final = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Unread:
    """A phrase as it was said."""

    text: str
    language: Language
    check: CheckId | None = None
    """The question to which it was said."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Near:
    """A meaning, the wording of it that is most like, and how like."""

    kind: str
    """finding, symptom or hazard."""
    id: str
    state: str | None
    words: str
    likeness: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Phrases that are much the same, the commonest first."""

    phrases: tuple[str, ...]
    count: int
    language: Language
    check: CheckId | None
    near: Near | None


def grouped(knowledge: Knowledge, unread: Iterable[Unread], heard: Sequence[Near] = ()) -> tuple[Group, ...]:
    """Groups, the largest first. `heard` are wordings that stand elsewhere than in the nodes."""
    counts: dict[tuple[Language, CheckId | None], dict[str, int]] = {}
    for one in unread:
        words = _plain(one.text)
        if len(words) >= FEWEST_LETTERS:
            of = counts.setdefault((one.language, one.check), {})
            of[words] = of.get(words, 0) + 1
    found = []
    for (language, check), phrases in counts.items():
        known = [*_wordings(knowledge, language), *heard]
        asked = _of_check(knowledge, known, check)
        for some in _clusters(phrases):
            near = _nearest(some[0], asked) or _nearest(some[0], known)
            count = sum(phrases[one] for one in some)
            found.append(Group(phrases=tuple(some), count=count, language=language, check=check, near=near))
    return tuple(
        sorted(found, key=lambda group: (-group.count, group.language, group.phrases[0], group.check or ""))
    )


def _plain(text: str) -> str:
    return re.sub(r"[^\w\s'°%-]", " ", text.lower()).strip().replace("  ", " ")


def _clusters(phrases: dict[str, int]) -> list[list[str]]:
    """Each phrase with the first commoner one that it is like."""
    clusters: list[list[str]] = []
    for phrase in sorted(phrases, key=lambda one: (-phrases[one], one)):
        like = process.extractOne(
            phrase, [some[0] for some in clusters], scorer=fuzz.token_sort_ratio, score_cutoff=ALIKE
        )
        if like is None:
            clusters.append([phrase])
        else:
            clusters[like[2]].append(phrase)
    return clusters


def _nearest(phrase: str, known: Sequence[Near]) -> Near | None:
    best = process.extractOne(
        phrase,
        [one.words for one in known],
        scorer=fuzz.token_sort_ratio,
        processor=str.lower,
        score_cutoff=NEAR,
    )
    if best is None:
        return None
    one = known[best[2]]
    return Near(kind=one.kind, id=one.id, state=one.state, words=one.words, likeness=round(best[1], 1))


def _of_check(knowledge: Knowledge, known: Sequence[Near], check: CheckId | None) -> list[Near]:
    node = knowledge.checks.get(check) if check is not None else None
    return [] if node is None else [one for one in known if one.kind == "finding" and one.id == node.finds]


def _wordings(knowledge: Knowledge, language: Language) -> Iterator[Near]:
    for id_, finding in knowledge.findings.items():
        for state, wordings in finding.states.items():
            some = (wordings, finding.sayings.get(state), finding.answers.get(state))
            for words in (words for part in some if part is not None for words in part.in_(language)):
                yield Near(kind="finding", id=id_, state=state, words=words, likeness=0.0)
    for symptom_id, symptom in knowledge.symptoms.items():
        for words in symptom.sayings.in_(language):
            yield Near(kind="symptom", id=symptom_id, state=None, words=words, likeness=0.0)
    for hazard_id, hazard in knowledge.hazards.items():
        for words in hazard.sayings.in_(language):
            yield Near(kind="hazard", id=hazard_id, state=None, words=words, likeness=0.0)
