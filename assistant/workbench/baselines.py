"""Two plain ways to read, over the same phrases: what our reading must beat, and by how much.

Each piece of a text (parted at marks and at "and", "but", "y", "pero") is said to mean what the most similar phrase
means, where that is similar enough; a reply, the option with the most similar wording. How similar is enough is chosen
on the very set that is scored, in the baseline's favour.

- `similarity`: rapidfuzz's token-sorted ratio of whole phrases.
- `neighbour`: nearest by the cosine of TF-IDF weighted character n-grams of 3 to 5 (G. Salton, C. Buckley, Inf. Process.
  Manag. 24 (1988) 513-523; idf smoothed as ln((1 + n) / (1 + df)) + 1).
"""

import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from rapidfuzz import fuzz, process
from scipy.sparse import csr_array

from assistant.reading.labelled import Labelled
from assistant.reading.normalise import words_of
from assistant.reading.questions import open_question
from assistant.reading.said import Answer
from assistant.reading.score import PARTS, Outcome, Part, TextScore, answered_by, is_right, meant_by, summed
from assistant.reading.thresholds import WRONG
from kb.compiling import Floats
from kb.ids import LANGUAGES
from kb.knowledge import Knowledge

GRAMS: Final = (3, 4, 5)
CUTS: Final = tuple(round(0.3 + 0.05 * step, 2) for step in range(14))
PIECES: Final = re.compile(r"[.,;:!?()\n]+|\b(?:and|but|y|pero)\b")
PARTS_GUESSED: Final[tuple[Part, ...]] = ("findings", "complaints", "hazards")

Sense = tuple[Part, str, str]
Likeness = Callable[[Sequence[str], Sequence[str]], Floats]
"""From pieces and phrases to how alike each two are, 0 to 1, as (pieces, phrases)."""


def similarity(pieces: Sequence[str], phrases: Sequence[str]) -> Floats:
    """Rapidfuzz's token-sorted ratio of every piece with every phrase."""
    found: Floats = process.cdist(pieces, phrases, scorer=fuzz.token_sort_ratio, dtype=np.float64)
    return found / 100.0


def neighbour(pieces: Sequence[str], phrases: Sequence[str]) -> Floats:
    """The cosine of TF-IDF weighted character n-grams; document frequencies are those of the phrases."""
    in_phrases = [Counter(_grams(phrase)) for phrase in phrases]
    known = {gram: place for place, gram in enumerate(sorted(set().union(*in_phrases)))}
    frequency = Counter(gram for grams in in_phrases for gram in grams)
    idf = np.array([np.log((1 + len(phrases)) / (1 + frequency[gram])) + 1 for gram in known])
    ours = _weighed([Counter(_grams(piece)) for piece in pieces], known, idf)
    cosine: Floats = (ours @ _weighed(in_phrases, known, idf).T).toarray()
    return cosine


def _grams(text: str) -> Iterator[str]:
    for word in text.split():
        padded = f" {word} "
        for size in GRAMS:
            yield from (padded[start : start + size] for start in range(len(padded) - size + 1))


def _weighed(counted: Sequence[Counter[str]], known: Mapping[str, int], idf: Floats) -> csr_array:
    rows = [
        (row, known[gram], n)
        for row, grams in enumerate(counted)
        for gram, n in grams.items()
        if gram in known
    ]
    row, column, n = (np.array(part) for part in zip(*rows, strict=True)) if rows else (np.zeros(0, int),) * 3
    weight = n * idf[column]  # (entries,)
    length = np.sqrt(np.bincount(row, weights=weight**2, minlength=len(counted)))
    return csr_array((weight / length[row], (row, column)), shape=(len(counted), len(known)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Guess:
    """What one text would be taken for: each sense with its likeness, and the likest option of the open question."""

    labelled: Labelled
    senses: Mapping[Sense, float]
    option: str | None
    option_likeness: float


def scored_by(likeness: Likeness, knowledge: Knowledge, texts: Sequence[Labelled]) -> tuple[TextScore, ...]:
    """The texts as a plain likeness reads them, at the cuts that serve it best on these very texts."""
    guesses = _guesses(likeness, knowledge, texts)
    said = max(
        ([_told(guess, cut, knowledge) for guess in guesses] for cut in CUTS),
        key=lambda tried: sum(getattr(summed(tried), part).f1 for part in PARTS_GUESSED),
    )
    replies = max(
        ([_outcome(guess, cut) for guess in guesses] for cut in CUTS),
        key=lambda tried: tried.count("right") - WRONG * tried.count("silently_wrong"),
    )
    return tuple(replace(one, reply=reply) for one, reply in zip(said, replies, strict=True))


def _guesses(likeness: Likeness, knowledge: Knowledge, texts: Sequence[Labelled]) -> list[Guess]:
    phrases = phrases_of(knowledge)
    pieces = [_pieces(labelled.text) for labelled in texts]
    every = sorted({piece for of_text in pieces for piece in of_text})
    alike = likeness(every, list(phrases))  # (pieces, phrases)
    best = {piece: (int(row.argmax()), float(row.max())) for piece, row in zip(every, alike, strict=True)}
    senses_of = list(phrases.values())
    guesses = []
    for labelled, of_text in zip(texts, pieces, strict=True):
        senses: dict[Sense, float] = {}
        for place, how in (best[piece] for piece in of_text):
            for sense in senses_of[place]:
                senses[sense] = max(how, senses.get(sense, 0.0))
        option, how = _likest_option(likeness, knowledge, labelled)
        guesses.append(Guess(labelled=labelled, senses=senses, option=option, option_likeness=how))
    return guesses


def phrases_of(knowledge: Knowledge) -> dict[str, tuple[Sense, ...]]:
    """Every phrase that speaks of a finding, a complaint or a hazard; a state's wording stands behind its things."""
    found: dict[str, set[Sense]] = {}

    def keep(sense: Sense, phrases: Iterable[str]) -> None:
        for phrase in phrases:
            found.setdefault(" ".join(words_of(phrase)), set()).add(sense)

    for symptom in knowledge.symptoms.values():
        keep(("complaints", symptom.symptom, ""), (*symptom.sayings.en, *symptom.sayings.es))
    for hazard in knowledge.hazards.values():
        keep(("hazards", hazard.hazard, ""), (*hazard.sayings.en, *hazard.sayings.es))
    for finding in knowledge.findings.values():
        for state, sayings in finding.sayings.items():
            keep(("findings", finding.finding, state), (*sayings.en, *sayings.es))
        for state, node in finding.states.items():
            for language in LANGUAGES:
                names = [knowledge.things[thing].in_(language)[0] for thing in finding.things]
                wordings = node.in_(language)
                keep(("findings", finding.finding, state), (f"{n} {w}" for n in names for w in wordings))
    return {phrase: tuple(sorted(senses)) for phrase, senses in sorted(found.items()) if phrase}


def _pieces(text: str) -> list[str]:
    parts = (" ".join(words_of(part)) for part in PIECES.split(text.lower()))
    return [part for part in parts if part]


def _likest_option(likeness: Likeness, knowledge: Knowledge, labelled: Labelled) -> tuple[str | None, float]:
    if labelled.about is None or labelled.about not in knowledge.checks:
        return None, 0.0
    question = open_question(knowledge, labelled.about, labelled.language)
    worded = [(" ".join(words_of(w)), o.value) for o in question.options for w in (o.label, *o.wordings)]
    worded += [(str(place), o.value) for place, o in enumerate(question.options, start=1)]
    worded += [(word, question.yes_means) for word in ("yes", "si") if question.yes_means]
    worded += [("no", question.no_means)] if question.no_means else []
    pieces = _pieces(labelled.text)
    if not worded or not pieces:
        return None, 0.0
    alike = likeness(pieces, [wording for wording, _ in worded])  # (pieces, wordings)
    return worded[int(alike.max(axis=0).argmax())][1], float(alike.max())


def _told(guess: Guess, cut: float, knowledge: Knowledge) -> TextScore:
    meant = meant_by(guess.labelled, knowledge)
    found = {part: frozenset[object]() for part in PARTS}
    said = [sense for sense, how in guess.senses.items() if how >= cut]
    answered = None if guess.labelled.about is None else answered_by(guess.labelled, knowledge)
    found["findings"] = frozenset((i, s) for part, i, s in said if part == "findings" and i != answered)
    found["complaints"] = frozenset(i for part, i, _ in said if part == "complaints")
    found["hazards"] = frozenset(i for part, i, _ in said if part == "hazards")
    parts = {part: (meant[part], found[part]) for part in PARTS}
    return TextScore(labelled=guess.labelled, parts=parts, reply=None, answer=Answer(kind="none"))


def _outcome(guess: Guess, cut: float) -> Outcome | None:
    if guess.labelled.answer is None:
        return None
    taken = guess.option is not None and guess.option_likeness >= cut
    answer = Answer(kind="state", state=guess.option) if taken else Answer(kind="none")
    if is_right(guess.labelled.answer, answer):
        return "right"
    return "silently_wrong" if taken else "asked_again"
