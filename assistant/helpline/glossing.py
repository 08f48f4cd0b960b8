"""Our sentences in a colleague's language: those that they may send by id, and those that were said already.

What was said stands in the customer's language with its values in place. The values are found again by laying the
sentence's own ways of saying it over the words, and put into the other language's.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from typing import Final

from assistant.conversation.events import Said
from assistant.conversation.to_hand import OURS
from assistant.wording import SENTENCES, tidy, with_calls
from kb.ids import CheckId, FixId, HazardId, Language
from kb.knowledge import Knowledge

SLOT: Final = re.compile(r"\{(\w+)\}")
UNTOLD: Final = "…"
CALLS: Final = ("call", "call_all")
"""Whole sentences by region, filled in anew."""
NAMED: Final = 3
"""Parts of an id such as `fix:clean_filter:2`."""


def sentences_to_hand(knowledge: Knowledge, language: Language) -> dict[str, str]:
    """Everything that a colleague may send by its id, in words."""
    ours = {name: SENTENCES[name].in_(language)[0] for name in OURS}
    asked = {f"ask:{check}": node.ask.in_(language) for check, node in knowledge.checks.items()}
    told = {
        f"fix:{fix}": " ".join(step.in_(language) for step in node.steps)
        for fix, node in knowledge.fixes.items()
        if node.steps
    }
    safe = {f"hazard:{hazard}": node.first.in_(language) for hazard, node in knowledge.hazards.items()}
    return {**ours, **asked, **told, **safe}


def gloss(knowledge: Knowledge, said: Said, language: Language, region: str) -> str | None:
    """What was said, in `language`; None where it stands in it already, or is a colleague's own words."""
    if said.language == language or not said.text:
        return None
    names = (*said.opens_with, said.sentence)
    pairs = [_ways(knowledge, str(name), said.language, language) for name in names]
    if any(pair is None for pair in pairs):
        return None
    known = [pair for pair in pairs if pair is not None]
    values = _values(said.text, tuple(theirs for theirs, _ in known))
    words = [_filled(ours[way % len(ours)], values, place) for place, ((_, ours), way) in enumerate(
        zip(known, _which(said.text, known), strict=True))]  # fmt: skip
    return tidy(with_calls(" ".join(words), language, region))


def _ways(
    knowledge: Knowledge, name: str, theirs: Language, ours: Language
) -> tuple[tuple[str, ...], tuple[str, ...]] | None:
    """The ways of saying one sentence in both languages; None for an id that stands nowhere any more."""
    if name in SENTENCES:
        return SENTENCES[name].in_(theirs), SENTENCES[name].in_(ours)
    texts = tuple(_of_knowledge(knowledge, name, theirs)), tuple(_of_knowledge(knowledge, name, ours))
    return texts if texts[0] and texts[1] else None


def _of_knowledge(knowledge: Knowledge, name: str, language: Language) -> Iterator[str]:
    kind, _, rest = name.partition(":")
    match kind:
        case "ask" if (check := knowledge.checks.get(CheckId(rest))) is not None:
            yield from (check.ask.in_(language), check.again.in_(language))
        case "caution" if (check := knowledge.checks.get(CheckId(rest))) is not None and check.caution:
            yield check.caution.in_(language)
        case "hazard" if (hazard := knowledge.hazards.get(HazardId(rest.partition(":")[0]))) is not None:
            yield hazard.first.in_(language)
            if hazard.then is not None:
                yield hazard.then.in_(language)
        case "fix" if name.count(":") == NAMED - 1:
            yield from _step(knowledge, rest, language)
        case _:
            return


def _step(knowledge: Knowledge, rest: str, language: Language) -> Iterator[str]:
    name, _, number = rest.partition(":")
    fix = knowledge.fixes.get(FixId(name))
    if fix is None or not number.isdecimal() or not 1 <= int(number) <= len(fix.steps):
        return
    step = fix.steps[int(number) - 1]
    caution = f"{step.caution.in_(language)} " if step.caution else ""
    yield f"{number}) {caution}{step.in_(language)}"
    yield f"{caution}{step.in_(language)}"


def _which(text: str, known: Sequence[tuple[tuple[str, ...], tuple[str, ...]]]) -> tuple[int, ...]:
    """For each sentence, which of its ways was taken; the first where that cannot be seen."""
    return tuple(
        next((place for place, way in enumerate(theirs) if _pattern(way).search(text)), 0)
        for theirs, _ in known
    )


def _values(text: str, ways: Sequence[tuple[str, ...]]) -> Mapping[tuple[int, str], str]:
    found: dict[tuple[int, str], str] = {}
    for place, among in enumerate(ways):
        for way in among:
            here = _pattern(way).search(text)
            if here is not None:
                found |= {(place, name): value for name, value in here.groupdict().items()}
                break
    return found


@lru_cache(maxsize=2048)
def _pattern(way: str) -> re.Pattern[str]:
    """The way with its slots open, each as short as it can be."""
    parts: list[str] = []
    seen: set[str] = set()
    at = 0
    for slot in SLOT.finditer(way):
        parts.append(re.escape(way[at : slot.start()]))
        name = slot.group(1)
        parts.append(".+?" if name in seen else f"(?P<{name}>.+?)")
        seen.add(name)
        at = slot.end()
    rest = re.escape(way[at:])
    return re.compile("".join(parts) + (rest or r"(?=\s|$)"), re.DOTALL | re.IGNORECASE)


def _filled(way: str, values: Mapping[tuple[int, str], str], place: int) -> str:
    return SLOT.sub(
        lambda slot: slot.group() if slot.group(1) in CALLS else values.get((place, slot.group(1)), UNTOLD),
        way,
    )
