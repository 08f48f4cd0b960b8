"""Training the ear: from phrases to weights, and from labelled texts to the curves by which two voices are weighed.

Two steps. A linear classifier a kind (findings with their states, hazards, complaints) learns from the phrases in
`heard/` and from the knowledge's own sayings which pieces of wording speak for what; what other kinds say, and
stretches of labelled texts that tell nothing of a kind, are its "nothing". Then labelled texts are laid out, and a
logistic curve a kind learns how often a claim with given signs is right. Needs scikit-learn, which reading does not.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING, Any, Final

import numpy as np
from scipy.sparse import csr_matrix, hstack

from assistant.reading.agreed import complaint_signs, hazard_signs
from assistant.reading.agreed_findings import agreed_findings, finding_signs
from assistant.reading.clauses import chunks_of
from assistant.reading.complaints import composed_complaints
from assistant.reading.hazards import composed_hazards, harmless_in
from assistant.reading.labelled import Labelled
from assistant.reading.lexicon import lexicon_of
from assistant.reading.normalise import tokens_of
from assistant.reading.pieces import is_word, pieces_of_pair, pieces_of_word, stretches
from assistant.reading.pipeline import LaidOut, lay_out
from assistant.reading.questions import open_question
from assistant.reading.said import OpenQuestion
from assistant.reading.spelling import mend
from assistant.reading.voices import SIGNS
from kb.ear import Ear, Floats, saying_key
from kb.errors import RequestError
from kb.heard import Phrase, digest_of
from kb.ids import LANGUAGES
from kb.knowledge import Knowledge

if TYPE_CHECKING:
    from kb.schema import Wordings

KINDS: Final = ("finding", "hazard", "complaint")
Label = tuple[str, str, str]
_OTHERS: Final[dict[str, tuple[str, ...]]] = {
    "finding": ("hazard",),
    "hazard": ("finding", "complaint"),
    "complaint": ("hazard",),
}
"""Kinds whose phrases tell nothing of a kind. Findings and complaints often tell the same, so neither is the other's nothing."""
UNSETTLED: Final = frozenset({"trend"})
"""Findings that careful readers label differently ("it won't come down" is a complaint to one, a trend to another)."""
_RARE: Final = 2
"""Pieces met in fewer documents teach nothing."""
_SHORT_ANSWER: Final = 3
"""An answer of so few words ("never", "all dead") tells nothing without its question."""
_SLACK: Final = 1.0
_SMALLEST: Final = 0.03
"""Of a label's greatest weight: smaller ones are dropped."""
_NOTHING_SEGMENTS: Final = 2
_LEAST_CLAIMS: Final = 20


@dataclass(frozen=True, slots=True)
class Document:
    """Words with what they tell: labels of one kind, or of a kind that they tell nothing of."""

    words: tuple[str, ...]
    kind: str | None
    """None: tells nothing of any kind."""
    id: str
    state: str
    only_for: str | None = None
    """A kind for which alone this document counts."""


def train(
    knowledge: Knowledge,
    phrases: Sequence[Phrase],
    plain: Sequence[Labelled],
    judged: Sequence[Labelled],
) -> Ear:
    """An ear for `knowledge`: the same phrases and texts make the same ear.

    `plain` texts only lend their stretches that tell nothing; on the `judged` ones the curves are fitted, so they must
    be texts on which no wording was tuned: on others composition is right by heart, and the ear would not be believed.

    Fails with `RequestError` where scikit-learn is missing or there is nothing to learn from.
    """
    taught = {(phrase.kind, phrase.id) for phrase in phrases}
    sayings = [one for one in _of_knowledge(knowledge) if one.kind is None or (one.kind, one.id) in taught]
    documents = (*_of_phrases(knowledge, phrases), *sayings, *_of_texts(knowledge, plain))
    if not any(document.kind for document in documents):
        raise RequestError("no phrases to listen to", "write some under heard/, or give another folder")
    ear = replace(_classified(documents), made_of=digest_of(phrases), taught=frozenset(taught_in(knowledge)))
    return with_beliefs(knowledge, ear, judged)


def _words(knowledge: Knowledge, text: str) -> tuple[str, ...]:
    tokens = mend(lexicon_of(knowledge).speller, tokens_of(text))
    return tuple(token.word for token in tokens if is_word(token))


def _of_phrases(knowledge: Knowledge, phrases: Iterable[Phrase]) -> Iterator[Document]:
    for phrase in phrases:
        words = _words(knowledge, phrase.text)
        if phrase.answers and len(words) <= _SHORT_ANSWER:
            continue
        if phrase.kind == "finding" and phrase.id in UNSETTLED:
            continue
        kind = None if phrase.state is None else phrase.kind
        yield Document(words, kind, phrase.id, phrase.state or "")


def _of_knowledge(knowledge: Knowledge) -> Iterator[Document]:
    """The knowledge's own sayings: one of something that has phrases is heard from the next training on."""
    for finding, node in knowledge.findings.items():
        for state, said in node.sayings.items() if finding not in UNSETTLED else ():
            yield from _wordings(knowledge, said, "finding", finding, state)
    for symptom, complaint in knowledge.symptoms.items():
        yield from _wordings(knowledge, complaint.sayings, "complaint", symptom, "")
    for id_, hazard in knowledge.hazards.items():
        yield from _wordings(knowledge, hazard.sayings, "hazard", id_, "")
        yield from _wordings(knowledge, hazard.not_these, None, "", "")


def taught_in(knowledge: Knowledge) -> Iterator[str]:
    """The keys of all sayings of findings."""
    for finding, node in knowledge.findings.items():
        for state, said in node.sayings.items():
            for language in LANGUAGES:
                for wording in said.in_(language):
                    yield saying_key(finding, state, _words(knowledge, wording))


def _wordings(
    knowledge: Knowledge, said: "Wordings", kind: str | None, id_: str, state: str
) -> Iterator[Document]:
    for language in LANGUAGES:
        for wording in said.in_(language):
            yield Document(_words(knowledge, wording), kind, id_, state)


def _of_texts(knowledge: Knowledge, labelled: Iterable[Labelled]) -> Iterator[Document]:
    """Stretches of labelled first messages that tell nothing of a kind."""
    speller = lexicon_of(knowledge).speller
    for text in labelled:
        if text.about is not None:
            continue
        tokens = mend(speller, tokens_of(text.text))
        told = {"finding": text.findings, "hazard": text.hazards, "complaint": text.complaints}
        for first, last, _ in stretches(tokens, chunks_of(tokens), most=_NOTHING_SEGMENTS):
            words = tuple(token.word for token in tokens[first:last] if is_word(token))
            for kind, labels in told.items():
                if not labels:
                    yield Document(words, None, "", "", only_for=kind)


def _classified(documents: Sequence[Document]) -> Ear:
    pieces = [_pieces(document.words) for document in documents]
    met = Counter(piece for found in pieces for piece in found)
    rows = {piece: row for row, piece in enumerate(sorted(p for p, times in met.items() if times >= _RARE))}
    rarity = np.array([np.log((1 + len(documents)) / (1 + met[piece])) + 1 for piece in rows])
    table = _table(pieces, rows, rarity)
    columns: list[csr_matrix] = []
    bias: list[float] = []
    labels: list[Label] = []
    for kind in KINDS:
        use = np.array([_counts(document, kind) for document in documents])
        target = ["\t".join(_label(document, kind)) for document in documents]
        fitted = _separate(table[use], [one for one, used in zip(target, use, strict=True) if used])
        columns.append(_pruned(fitted.coef_))
        bias.extend(float(one) for one in fitted.intercept_)
        labels.extend((kind, *_split(name)) for name in fitted.classes_)
    return Ear(
        made_of="",
        pieces=rows,
        rarity=rarity,
        weights=hstack(columns).tocsr(),
        bias=np.array(bias),
        labels=tuple(labels),
        beliefs={},
    )


def _split(name: str) -> tuple[str, str]:
    id_, state = name.split("\t")
    return id_, state


def _label(document: Document, kind: str) -> tuple[str, str]:
    return (document.id, document.state) if document.kind == kind else ("", "")


def _counts(document: Document, kind: str) -> bool:
    if document.only_for is not None:
        return document.only_for == kind
    return document.kind in {None, kind, *_OTHERS[kind]}


def _pieces(words: Sequence[str]) -> Counter[str]:
    found: Counter[str] = Counter()
    for word in words:
        found.update(pieces_of_word(word))
    for one, two in pairwise(words):
        found.update(pieces_of_pair(one, two))
    return found


def _table(pieces: Sequence[Counter[str]], rows: dict[str, int], rarity: Floats) -> csr_matrix:
    """(documents, pieces), each row of the length that `assistant.reading.ear` gives a stretch."""
    at, columns, values = [], [], []
    for document, found in enumerate(pieces):
        known = [(rows[piece], times) for piece, times in sorted(found.items()) if piece in rows]
        length = float(np.sqrt(sum(times * rarity[row] ** 2 for row, times in known))) or 1.0
        for row, times in known:
            at.append(document)
            columns.append(row)
            values.append(times * rarity[row] / length)
    table = csr_matrix((values, (at, columns)), shape=(len(pieces), len(rows)))
    table.indices, table.indptr = table.indices.astype(np.int32), table.indptr.astype(np.int32)
    return table


def _separate(table: csr_matrix, target: Sequence[str]) -> Any:  # the library comes without types
    learn = _sklearn()
    return learn.LinearSVC(C=_SLACK, random_state=0).fit(table, list(target))


def _sklearn() -> Any:
    try:
        from sklearn import svm
    except ImportError as error:
        raise RequestError(
            "listening needs scikit-learn", "run: pip install 'coldroom-helpline[author]'"
        ) from error
    return svm


def _pruned(coefficients: Floats) -> csr_matrix:
    """(pieces, labels), without the weights that hardly count."""
    greatest = np.abs(coefficients).max(axis=1, keepdims=True)
    return csr_matrix(np.where(np.abs(coefficients) >= _SMALLEST * greatest, coefficients, 0.0).T)


def with_beliefs(knowledge: Knowledge, ear: Ear, labelled: Sequence[Labelled]) -> Ear:
    """The same ear with curves fitted on these texts: findings and hazards first, complaints on what then stands of the findings."""
    flat = np.zeros(SIGNS)
    heard = replace(knowledge, ear=replace(ear, beliefs=dict.fromkeys(KINDS, flat)))
    laid = [(text, _laid(heard, text)) for text in labelled]
    signs: dict[str, list[tuple[Floats, bool]]] = {"finding": [], "hazard": []}
    for text, (out, question) in laid:
        if text.about is None:  # beside an answer little is labelled, and what is said there is as true
            signs["finding"].extend(_findings_right(text, out, question))
        signs["hazard"].extend(_hazards_right(text, out))
    beliefs = {kind: _curve(found) for kind, found in signs.items()}
    beliefs["complaint"] = flat
    ear = replace(ear, beliefs=beliefs)
    heard = replace(knowledge, ear=ear)
    complaints = [
        one
        for text in labelled
        if text.about is None
        for one in _complaints_right(text, _laid(heard, text)[0])
    ]
    return replace(ear, beliefs={**beliefs, "complaint": _curve(complaints)})


def _laid(knowledge: Knowledge, text: Labelled) -> tuple[LaidOut, OpenQuestion]:
    question = OpenQuestion() if text.about is None else open_question(knowledge, text.about, text.language)
    return lay_out(knowledge, text.text, question, text.language), question


def _findings_right(text: Labelled, laid: LaidOut, question: OpenQuestion) -> Iterator[tuple[Floats, bool]]:
    signs = finding_signs(
        laid.lexicon, laid.scene, laid.findings, laid.likes, question.finding, replying=text.about is not None
    )
    for (finding, state), found in signs.items():
        yield found, text.findings.get(finding) == state


def _hazards_right(text: Labelled, laid: LaidOut) -> Iterator[tuple[Floats, bool]]:
    composed, refused = composed_hazards(laid.lexicon, laid.scene)
    signs = hazard_signs(
        laid.lexicon,
        laid.scene,
        composed,
        laid.likes,
        harmless_in(laid.scene),
        replying=text.about is not None,
        refused=refused,
    )
    for hazard, found in signs.items():
        yield found, str(hazard) in text.hazards


def _complaints_right(text: Labelled, laid: LaidOut) -> Iterator[tuple[Floats, bool]]:
    lexicon, scene = laid.lexicon, laid.scene
    findings = agreed_findings(lexicon, scene, laid.findings, laid.likes, None, replying=False)
    composed = composed_complaints(lexicon, scene, laid.alike, findings, replying=False)
    for symptom, found in complaint_signs(lexicon, scene, composed, laid.likes).items():
        yield found, str(symptom) in text.complaints


def _curve(claims: Sequence[tuple[Floats, bool]]) -> Floats:
    right = [is_right for _, is_right in claims]
    if len(claims) < _LEAST_CLAIMS or len(set(right)) == 1:
        raise RequestError(
            "too few labelled claims to weigh the two voices", "give more labelled texts (tests/people)"
        )
    from sklearn.linear_model import LogisticRegression

    table = np.array([signs[:-1] for signs, _ in claims])
    fitted = LogisticRegression(C=1.0, max_iter=5000).fit(table, right)
    return np.append(fitted.coef_[0], fitted.intercept_[0])
