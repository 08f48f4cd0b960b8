"""What a text is like, by the ear: for every label the stretch of text that is likest to what people say of it."""

from collections.abc import Sequence
from itertools import pairwise
from typing import Final, NamedTuple

import numpy as np
from scipy.sparse import csr_array

from assistant.reading.clauses import Chunk
from assistant.reading.normalise import Token
from assistant.reading.pieces import inner_stretches, is_word, pieces_of_pair, pieces_of_word, stretches
from kb.ear import Ear, Floats

_FINE: Final = "finding"
"""The kind that few words may tell; a danger or a complaint takes a statement."""
_BEST: Final = 3
"""Labels of a kind that one stretch may speak for."""


class Like(NamedTuple):
    """How a text is like what people say of one label, at the stretch where it is likest."""

    kind: str
    id: str
    state: str
    score: float
    """About 0 where the ear is undecided, towards 1 where it is sure; a distance, no probability."""
    ahead: float
    """By how much it is likelier than nothing of this kind."""
    place: int
    """0 where no other label of the kind is likelier on that stretch."""
    segments: int
    first: int
    last: int
    """The stretch, `[first, last)` in tokens."""


def likes_in(ear: Ear | None, tokens: Sequence[Token], chunks: Sequence[Chunk]) -> tuple[Like, ...]:
    """Every label that some stretch of the text speaks for, likest first; none without an ear."""
    whole = [] if ear is None else stretches(tokens, chunks)
    if ear is None or not whole:
        return ()
    runs = [*whole, *inner_stretches(chunks)]
    scores = _scores(ear, tokens, runs)
    best: dict[int, Like] = {}
    for kind, columns, nothing in _kinds(ear):
        heard = runs if kind == _FINE else whole
        of_kind = scores[: len(heard), columns]
        order = np.argsort(-of_kind, axis=1, kind="stable")[:, :_BEST]
        for run, (first, last, segments) in enumerate(heard):
            for place, inside in enumerate(order[run]):
                label = int(columns[inside])
                score = float(of_kind[run, inside])
                if label not in best or score > best[label].score:
                    _, id_, state = ear.labels[label]
                    ahead = score - float(scores[run, nothing])
                    best[label] = Like(kind, id_, state, score, ahead, place, segments, first, last)
    return tuple(sorted(best.values(), key=lambda like: (-like.score, like.kind, like.id, like.state)))


def _kinds(ear: Ear) -> list[tuple[str, "np.typing.NDArray[np.int64]", int]]:
    """Each kind with the columns of its labels and the column of "nothing of this kind"."""
    kinds = dict.fromkeys(label[0] for label in ear.labels)
    return [
        (
            kind,
            np.array([at for at, label in enumerate(ear.labels) if label[0] == kind and label[1]]),
            next(at for at, label in enumerate(ear.labels) if label[0] == kind and not label[1]),
        )
        for kind in kinds
    ]


def _scores(ear: Ear, tokens: Sequence[Token], runs: Sequence[tuple[int, int, int]]) -> Floats:
    """(runs, labels): sums over words and pairs, so that every run costs two subtractions."""
    words = [(place, token.word) for place, token in enumerate(tokens) if is_word(token)]
    alone = _weighed(ear, [pieces_of_word(word) for _, word in words])
    neighbours = [pieces_of_pair(one, two) for (_, one), (_, two) in pairwise(words)]
    paired = _weighed(ear, neighbours)
    at = np.zeros(len(tokens) + 1, dtype=int)
    for place, token in enumerate(tokens):
        at[place + 1] = at[place] + is_word(token)
    starts, ends = at[[run[0] for run in runs]], at[[run[1] for run in runs]]
    pair_ends = np.maximum(ends - 1, starts)
    sums = alone[ends] - alone[starts] + paired[pair_ends] - paired[starts]
    norm = np.sqrt(np.maximum(sums[:, -1:], 1e-12))
    scores: Floats = sums[:, :-1] / norm + ear.bias
    return scores


def _weighed(ear: Ear, told: Sequence[tuple[str, ...]]) -> Floats:
    """(words + 1, labels + 1): running sums of what each word speaks for; the last column is its squared length."""
    rows, columns = [], []
    for row, pieces in enumerate(told):
        for piece in pieces:
            column = ear.pieces.get(piece)
            if column is not None:
                rows.append(row)
                columns.append(column)
    size = (len(told), len(ear.pieces))
    found = csr_array((ear.rarity[columns], (rows, columns)), shape=size)
    squares = csr_array((ear.rarity[columns] ** 2, (rows, columns)), shape=size).sum(axis=1)
    spoken = np.hstack([(found @ ear.weights).toarray(), np.asarray(squares).reshape(-1, 1)])
    return np.vstack([np.zeros((1, spoken.shape[1])), np.cumsum(spoken, axis=0)])
