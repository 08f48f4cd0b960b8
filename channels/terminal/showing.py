"""One node of the knowledge as an author reads it: what stands in its file, and what hangs on it."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from pydantic import BaseModel

from kb.errors import RequestError
from kb.gsm7 import fold_for_sms, is_gsm7, segments
from kb.knowledge import Knowledge
from kb.linting.too_long import sent_texts
from kb.problems import nearest

TOWARDS: Final = {
    "complains": "may come from",
    "shows": "shows in",
    "finds": "finds",
    "mends": "is mended by",
    "touches": "touches",
    "hides": "hides",
}
FROM: Final = {
    "complains": "complained of as",
    "shows": "shown by",
    "finds": "found by",
    "mends": "mends",
    "touches": "touched by",
    "hides": "hidden by",
}
LONG: Final = 100
"""A list that is longer than this is written one entry a line."""


def shown(knowledge: Knowledge, name: str) -> str:
    """All nodes called `name` (an id, or `kind:id`), with their arrows.

    Fails with `RequestError` where there is none.
    """
    kind, _, id_ = name.rpartition(":")
    shelves = _shelves(knowledge)
    found = [(k, shelf[id_]) for k, shelf in shelves.items() if id_ in shelf and kind in ("", k)]
    if not found:
        near = nearest(id_, [one for shelf in shelves.values() for one in shelf])
        mend = f"write `{near}`" if near else "`helpline kb vocabulary` lists what there is"
        raise RequestError(f"nothing in the knowledge is called `{name}`", mend, "not_found")
    return "\n\n".join("\n".join(_sheet(knowledge, k, id_, model)) for k, model in found)


def _shelves(knowledge: Knowledge) -> Mapping[str, Mapping[str, BaseModel]]:
    return {
        "symptom": {str(k): v for k, v in knowledge.symptoms.items()},
        "finding": {str(k): v for k, v in knowledge.findings.items()},
        "check": {str(k): v for k, v in knowledge.checks.items()},
        "cause": {str(k): v for k, v in knowledge.causes.items()},
        "fix": {str(k): v for k, v in knowledge.fixes.items()},
        "hazard": {str(k): v for k, v in knowledge.hazards.items()},
        "thing": {str(k): v for k, v in knowledge.things.items()},
        "quality": {str(k): v for k, v in knowledge.qualities.items()},
        "quantity": {str(k): v for k, v in knowledge.quantities.items()},
        "word_group": {str(k): v for k, v in knowledge.word_groups.items()},
    }


def _sheet(knowledge: Knowledge, kind: str, id_: str, model: BaseModel) -> Iterator[str]:
    yield f"{kind}: {id_}"
    body = model.model_dump(mode="json", by_alias=True, exclude_defaults=True)
    body.pop(kind, None)
    yield from _written(body, "  ")
    yield from _parts(knowledge, kind, id_)
    arrows = [*_arrows(knowledge, f"{kind}:{id_}")]
    if arrows:
        yield ""
        yield from arrows


def _parts(knowledge: Knowledge, kind: str, id_: str) -> Iterator[str]:
    """What each text costs as a text message, as it would be sent."""
    texts = sent_texts(knowledge, kind, id_)
    if texts:
        yield ""
        yield "  SMS parts"
    for text in texts:
        as_sent = fold_for_sms(text.text)
        alphabet = "GSM-7" if is_gsm7(as_sent) else "UCS-2"
        place = " ".join(map(str, text.at))
        yield f"    {place}: {segments(as_sent)} of {text.at_most}, {len(as_sent)} characters, {alphabet}"


def _written(value: object, margin: str) -> Iterator[str]:
    """Plain values, laid out as in the files."""
    if isinstance(value, Mapping):
        for key, inner in value.items():
            if _is_flat(inner):
                yield f"{margin}{key}: {_flat(inner)}"
            else:
                yield f"{margin}{key}:"
                yield from _written(inner, margin + "  ")
    elif isinstance(value, Sequence) and not isinstance(value, str):
        for inner in value:
            if _is_flat(inner):
                yield f"{margin}- {_flat(inner)}"
            else:
                first, *rest = _written(inner, margin + "  ")
                yield f"{margin}- {first.strip()}"
                yield from rest


def _is_flat(value: object) -> bool:
    if isinstance(value, Mapping):
        return not value
    if isinstance(value, Sequence) and not isinstance(value, str):
        return all(isinstance(one, str | int | float) for one in value) and len(_flat(value)) <= LONG
    return True


def _flat(value: object) -> str:
    if isinstance(value, Sequence) and not isinstance(value, str):
        return f"[{', '.join(map(str, value))}]"
    return str(value)


def _arrows(knowledge: Knowledge, node: str) -> Iterator[str]:
    graph = knowledge.graph
    if node not in graph:
        return
    for role, words in TOWARDS.items():
        heads = [(head, edge) for _, head, edge in graph.out_edges(node, data=True) if edge["role"] == role]
        for head, edge in sorted(heads, key=lambda arrow: (arrow[1].get("place", 0), arrow[0])):
            yield f"  {words} {_id(head)}{_strength(edge)}"
    for role, words in FROM.items():
        tails = [(tail, edge) for tail, _, edge in graph.in_edges(node, data=True) if edge["role"] == role]
        for tail, edge in sorted(tails, key=lambda arrow: arrow[0]):
            yield f"  {words} {_id(tail)}{_strength(edge)}"


def _id(node: str) -> str:
    return node.partition(":")[2]


def _strength(edge: Mapping[str, object]) -> str:
    strength, by_state = edge.get("strength"), edge.get("strengths")
    if isinstance(by_state, Mapping):
        return " as " + ", ".join(f"{state} ({share:g})" for state, share in by_state.items())
    return f" ({strength:g})" if isinstance(strength, float) else ""
