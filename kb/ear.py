"""The ear: how much each small piece of wording speaks for each thing that can be told. Trained elsewhere, looked up here.

A linear classifier over words, stems, letter groups and neighbouring words, one weight a piece and label, made from the
phrases in `heard/` by `helpline kb listen`. It knows no grammar and no order beyond two neighbours; it is a second
opinion on what was composed, never a reader of its own.
"""

import io
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array

Floats = NDArray[np.float64]
FORM: Final = 1
_STEPS: Final = 127
"""A weight is kept as a whole number of 127ths of its label's greatest."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ear:
    """Arrays of one ear; `pieces` many rows, `labels` many columns."""

    made_of: str
    """Digest of the phrases that it was trained on."""
    pieces: Mapping[str, int]
    """The row of each piece of wording."""
    rarity: Floats
    """(pieces,): how telling a piece is by being rare."""
    weights: "csr_array"
    """(pieces, labels)."""
    bias: Floats
    """(labels,)."""
    labels: tuple[tuple[str, str, str], ...]
    """Kind, id and state; a kind's label with an empty id is "nothing of this kind"."""
    taught: frozenset[str] = frozenset()
    """Keys of the sayings that it was trained on; a newer one stands as composed."""
    beliefs: Mapping[str, Floats]
    """By name: the coefficients, the constant last, that make a probability of all signs of a claim."""


def saying_key(finding: str, state: str, words: Sequence[str]) -> str:
    """Eight hex digits that stand for one saying of one state."""
    return sha256("\t".join((finding, state, *words)).encode()).hexdigest()[:8]


def save_ear(ear: Ear, path: Path) -> None:
    """Write `ear` to one file, weights rounded to 127ths; the same ear, the same bytes."""
    weights = ear.weights.tocsr()
    greatest = np.maximum(np.abs(weights).max(axis=0).toarray().ravel(), 1e-9)
    scale = greatest / _STEPS
    steps = np.rint(weights.data / scale[weights.indices]).astype(np.int8)
    kept = csr_array((steps, weights.indices.copy(), weights.indptr.copy()), shape=weights.shape)
    kept.eliminate_zeros()
    arrays = {
        "form": np.array([FORM]),
        "made_of": _packed([ear.made_of]),
        "pieces": _packed(sorted(ear.pieces, key=ear.pieces.__getitem__)),
        "rarity": ear.rarity.astype(np.float32),
        "steps": kept.data,
        "indices": kept.indices.astype(np.uint16),
        "indptr": kept.indptr.astype(np.int32),
        "scale": scale.astype(np.float32),
        "bias": ear.bias.astype(np.float32),
        "labels": _packed(["\t".join(label) for label in ear.labels]),
        "taught": _packed(sorted(ear.taught)),
        "belief_names": _packed(sorted(ear.beliefs)),
    }
    for name in sorted(ear.beliefs):
        arrays[f"belief_{name}"] = ear.beliefs[name].astype(np.float64)
    target = io.BytesIO()
    np.savez_compressed(target, **arrays)
    draft = path.with_suffix(".draft")
    draft.write_bytes(target.getvalue())
    draft.replace(path)


def load_ear(path: Path) -> Ear | None:
    """The ear kept in `path`; None where there is none, or one of another form."""
    if not path.is_file():
        return None
    with np.load(path, allow_pickle=False) as kept:
        if int(kept["form"][0]) != FORM:
            return None
        labels = tuple(_label(line) for line in _unpacked(kept["labels"]))
        pieces = _unpacked(kept["pieces"])
        indices = kept["indices"].astype(np.int32)
        data = kept["steps"].astype(np.float64) * kept["scale"].astype(np.float64)[indices]
        return Ear(
            made_of=_unpacked(kept["made_of"])[0],
            pieces={piece: row for row, piece in enumerate(pieces)},
            rarity=kept["rarity"].astype(np.float64),
            weights=csr_array((data, indices, kept["indptr"]), shape=(len(pieces), len(labels))),
            bias=kept["bias"].astype(np.float64),
            labels=labels,
            taught=frozenset(_unpacked(kept["taught"])),
            beliefs={
                name: kept[f"belief_{name}"].astype(np.float64) for name in _unpacked(kept["belief_names"])
            },
        )


def _label(line: str) -> tuple[str, str, str]:
    kind, id_, state = line.split("\t")
    return kind, id_, state


def _packed(texts: list[str]) -> NDArray[np.uint8]:
    return np.frombuffer("\n".join(texts).encode(), dtype=np.uint8)


def _unpacked(packed: NDArray[np.uint8]) -> list[str]:
    text = packed.tobytes().decode()
    return text.split("\n") if text else []
