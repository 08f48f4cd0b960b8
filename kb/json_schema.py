"""The schema of each kind of page as JSON Schema, so that an editor completes and checks as one types.

In: the models of `kb.schema`, and the ids that there are. Out: one document a kind (JSON Schema, draft 2020-12), in
which every id is one of those that exist and every state one of its finding's.
"""

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any, Final, NewType, get_args, get_origin

from pydantic import BaseModel

from kb import ids
from kb.checking import MODELS
from kb.files import KIND_OF_WORDS, Kind
from kb.mentions import KIND_OF_ID
from kb.schema import Finding

SCHEMAS: Final = ".schemas"
"""The folder inside the knowledge in which editors find them; made anew at will, and no part of an edition."""
DRAFT: Final = "https://json-schema.org/draft/2020-12/schema"
Schema = dict[str, Any]  # JSON
Nodes = Mapping[Kind, Mapping[str, BaseModel]]


def schema_of(kind: Kind, nodes: Nodes) -> Schema:
    """The schema of a page of this kind, or of a file of words with many entries."""
    model = MODELS[kind]
    schema = model.model_json_schema(by_alias=True)
    models = {one.__name__: one for one in _models(model)}
    for name, inner in schema.get("$defs", {}).items():
        _fit_model(models[name], inner, nodes)
    _fit_model(model, schema, nodes)
    if kind in KIND_OF_WORDS.values():
        shared = schema.pop("$defs", {})
        schema = {"type": "object", "additionalProperties": schema, "$defs": shared}
    return {"$schema": DRAFT, "title": kind, **schema}


def write_schemas(nodes: Nodes, folder: Path) -> tuple[Path, ...]:
    """One file a kind; the paths."""
    folder.mkdir(parents=True, exist_ok=True)
    written = []
    for kind in MODELS:
        path = folder / f"{kind}.json"
        body = json.dumps(schema_of(kind, nodes), ensure_ascii=False, indent=1)
        path.write_text(body + "\n", encoding="utf-8")
        written.append(path)
    return tuple(written)


def _models(model: type[BaseModel]) -> list[type[BaseModel]]:
    found = [model]
    for one in found:
        for field in one.model_fields.values():
            found += [inner for inner in _inner_models(field.annotation) if inner not in found]
    return found


def _inner_models(annotation: Any) -> list[type[BaseModel]]:  # a type expression
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return [annotation]
    return [model for part in get_args(annotation) for model in _inner_models(part)]


def _fit_model(model: type[BaseModel], schema: Schema, nodes: Nodes) -> None:
    """Put the ids that there are into the properties of a model."""
    for name, field in model.model_fields.items():
        part = schema.get("properties", {}).get(field.alias or name)
        if part is not None and not _is_own_id(model, name):
            _fit(field.annotation, part, nodes, None)


def _is_own_id(model: type[BaseModel], name: str) -> bool:
    return MODELS.get(name) is model  # type: ignore[call-overload]  # any name may be looked up


def _fit(annotation: Any, schema: Schema, nodes: Nodes, about: str | None) -> None:  # a type expression
    if isinstance(annotation, NewType):
        _fit_id(annotation, schema, nodes, about)
    elif get_origin(annotation) is tuple and "items" in schema:
        _fit(get_args(annotation)[0], schema["items"], nodes, about)
    elif get_origin(annotation) is dict:
        _fit_mapping(get_args(annotation), schema, nodes)
    else:
        branches = schema.get("anyOf", [schema])
        for part in get_args(annotation):
            if part is not type(None):
                for branch in branches:
                    if branch.get("type") != "null":
                        _fit(part, branch, nodes, about)


def _fit_id(type_: NewType, schema: Schema, nodes: Nodes, about: str | None) -> None:
    known = (
        _states(nodes, about)
        if type_ is ids.StateId
        else list(nodes.get(KIND_OF_ID.get(type_, "retired"), {}))
    )
    if known and schema.get("type") == "string":
        schema["enum"] = known


def _fit_mapping(arguments: tuple[Any, ...], schema: Schema, nodes: Nodes) -> None:  # type expressions
    of_key, of_value = arguments
    below = schema.get("additionalProperties")
    if of_key is ids.FindingId and isinstance(below, dict):
        schema["additionalProperties"] = False
        schema["properties"] = {id_: _of_finding(of_value, below, nodes, id_) for id_ in nodes["finding"]}
    elif of_key in KIND_OF_ID:
        schema["propertyNames"] = {"enum": list(nodes[KIND_OF_ID[of_key]])}


def _of_finding(annotation: Any, schema: Schema, nodes: Nodes, finding: str) -> Schema:  # a type expression
    """The schema of what stands under a finding: its states, as words or as keys."""
    fitted: Schema = json.loads(json.dumps(schema))
    if get_origin(annotation) is dict:
        fitted["propertyNames"] = {"enum": _states(nodes, finding)}
    else:
        _fit(annotation, fitted, nodes, finding)
    return fitted


def _states(nodes: Nodes, finding: str | None) -> list[str]:
    node = nodes["finding"].get(finding) if finding is not None else None
    return [str(state) for state in node.states] if isinstance(node, Finding) else []
