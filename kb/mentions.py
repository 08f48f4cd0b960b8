"""Every place at which a node names an id: found from the types of the schema, so that no new key can be forgotten.

In: a node that fits its model. Out: `Mention`s in the order of the schema, the node's own name apart from the words'.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Annotated, Any, Final, NewType, get_args, get_origin

from pydantic import BaseModel

from kb import ids
from kb.files import Kind
from kb.schema import Check, Finding, Fix
from kb.written import Location

KIND_OF_ID: Final = MappingProxyType[object, Kind](
    {
        ids.SymptomId: "symptom",
        ids.FindingId: "finding",
        ids.CheckId: "check",
        ids.CauseId: "cause",
        ids.FixId: "fix",
        ids.HazardId: "hazard",
        ids.ThingId: "thing",
        ids.QualityId: "quality",
        ids.QuantityId: "quantity",
        ids.ProductId: "product",
        ids.WordGroupId: "word_group",
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Mention:
    """One id at one place of a node, or (with `state_of`) one state of that finding."""

    at: Location
    kind: Kind
    id: str
    is_key: bool = False
    """True where it is a key of a mapping, and not a value."""
    state_of: str | None = None


def mentions(node: BaseModel, finds: Mapping[str, str]) -> Iterator[Mention]:
    """All ids and states that a node names, its own id included; `finds` is the finding of every check."""
    about: str | None = (
        node.finds if isinstance(node, Check) else node.finding if isinstance(node, Finding) else None
    )
    if isinstance(node, Fix) and node.verify.ask is not None:
        about = finds.get(node.verify.ask)
    yield from _in(type(node), node, (), about)


def _in(
    annotation: Any, value: object, at: Location, about: str | None
) -> Iterator[Mention]:  # type expressions
    """`about` is the finding whose states stand here."""
    if isinstance(value, BaseModel):
        for name, field in type(value).model_fields.items():
            if name in value.model_fields_set and name != "was":
                yield from _in(field.annotation, getattr(value, name), (*at, field.alias or name), about)
        return
    for branch in _branches(annotation):
        if isinstance(value, tuple) and get_origin(branch) is tuple:
            for index, item in enumerate(value):
                yield from _in(get_args(branch)[0], item, (*at, index), about)
        elif isinstance(value, dict) and get_origin(branch) is dict:
            yield from _in_mapping(branch, value, at, about)
        elif isinstance(value, str) and isinstance(branch, NewType):
            yield from _one(branch, value, at, about, is_key=False)


def _in_mapping(
    annotation: Any, value: dict[str, object], at: Location, about: str | None
) -> Iterator[Mention]:
    of_key, of_value = get_args(annotation)
    for key, item in value.items():
        yield from _one(of_key, key, (*at, key), about, is_key=True)
        below = key if of_key is ids.FindingId else about
        yield from _in(of_value, item, (*at, key), below)


def _one(type_: object, value: str, at: Location, about: str | None, *, is_key: bool) -> Iterator[Mention]:
    if type_ is ids.StateId and about is not None:
        yield Mention(at=at, kind="finding", id=value, is_key=is_key, state_of=about)
    elif type_ in KIND_OF_ID:
        yield Mention(at=at, kind=KIND_OF_ID[type_], id=value, is_key=is_key)


def _branches(annotation: Any) -> Iterator[Any]:  # type expressions in and out
    origin = get_origin(annotation)
    if origin is Annotated:
        yield from _branches(get_args(annotation)[0])
    elif origin in {dict, tuple} or isinstance(annotation, NewType):
        yield annotation
    else:
        for part in get_args(annotation):
            yield from _branches(part)
