"""From plain values to the models of `kb.schema`, every refusal told with its place and a way to mend it."""

import re
from collections.abc import Iterator, Sequence
from types import MappingProxyType
from typing import Annotated, Any, Final, get_args, get_origin

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from kb.files import Kind
from kb.ids import LANGUAGES
from kb.problems import Problem, listed, nearest
from kb.schema import (
    Cause,
    Check,
    Finding,
    Fix,
    Hazard,
    Product,
    Quality,
    Quantity,
    Retired,
    Symptom,
    Thing,
    WordGroup,
)
from kb.written import Location, Page, Plain

MODELS: Final = MappingProxyType[Kind, type[BaseModel]](
    {
        "symptom": Symptom,
        "finding": Finding,
        "check": Check,
        "cause": Cause,
        "fix": Fix,
        "hazard": Hazard,
        "thing": Thing,
        "quality": Quality,
        "quantity": Quantity,
        "product": Product,
        "word_group": WordGroup,
        "retired": Retired,
    }
)

SHAPES: Final = MappingProxyType(
    {
        "string_type": ("a text belongs here", "write a text; put numbers, `true` and `null` in quotes"),
        "string_too_short": ("an empty text stands here", "write the text, or take the key away"),
        "tuple_type": ("a list belongs here", "write it in brackets: [one, another]"),
        "dict_type": ("keys with values belong here", "write them in braces: {key: value}"),
        "model_type": ("keys with values belong here", "write them in braces: {key: value}"),
        "bool_type": ("true or false belongs here", "write true or false"),
        "bool_parsing": ("true or false belongs here", "write true or false"),
        "float_type": ("a number belongs here", "write a number with a point: 2.5"),
        "float_parsing": ("a number belongs here", "write a number with a point: 2.5"),
        "int_type": ("a whole number belongs here", "write a whole number"),
        "int_parsing": ("a whole number belongs here", "write a whole number"),
    }
)
"""What pydantic found where another shape was wanted: what is wrong, and how to mend it."""


def check_model(page: Page, kind: Kind, location: Location, value: Plain) -> BaseModel | tuple[Problem, ...]:
    """The model that `value`, standing at `location` of the page, is; or all that is wrong with it."""
    model = MODELS[kind]
    try:
        return model.model_validate(value)
    except ValidationError as error:
        found: dict[Location, list[ErrorDetails]] = {}
        for details in error.errors(include_url=False):
            found.setdefault(_stripped(details, value), []).append(details)
        return tuple(_Refusal(page, model, location, at, errors).told() for at, errors in found.items())


class _Refusal:
    """All that pydantic says about one place, told once."""

    def __init__(
        self, page: Page, model: type[BaseModel], top: Location, at: Location, errors: Sequence[ErrorDetails]
    ) -> None:
        self.page, self.model, self.top, self.at, self.errors = page, model, top, at, errors
        self.first = errors[0]

    def told(self) -> Problem:
        literal = next((e for e in self.errors if e["type"] == "literal_error"), None)
        if literal is not None:
            return self._unknown_word(literal)
        if self.first["type"] == "missing":
            return self._missing()
        if self.first["type"] == "extra_forbidden":
            return self._unknown_key()
        if self.first["type"] in SHAPES:
            what, mend = SHAPES[self.first["type"]]
            return self._problem(what, "the program could not use what stands here", mend, "wrong-shape")
        limit = self.first["msg"].removeprefix("Input should be ").removeprefix("Value should be ")
        return self._problem(
            f"{_shown(self.first['input'])} is outside the range",
            "no such value can be",
            f"write a value {limit}",
            "out-of-range",
        )

    def _unknown_word(self, error: ErrorDetails) -> Problem:
        words = _words(error)
        given, is_key = error["input"], "[key]" in error["loc"]
        number = [e for e in self.errors if e["type"].startswith(("greater", "less"))]
        if number and isinstance(given, int | float):
            limit = number[0]["msg"].removeprefix("Input should be ")
            what, mend = (
                f"{_shown(given)} is outside the range",
                f"write a number {limit}, or one of: {listed(words)}",
            )
            return self._problem(what, "no such value can be", mend, "out-of-range")
        near = nearest(str(given), words)
        also = ", or a number" if len(self.errors) > 1 else ""
        mend = (
            f"write `{near}`; the words are {listed(words)}{also}"
            if near
            else f"write one of: {listed(words)}{also}"
        )
        return self._problem(
            f"{_shown(given)} is not one of the words for `{self._field()}`",
            "each of the words has a fixed meaning, and others have none",
            mend,
            "unknown-word",
            key=is_key,
        )

    def _missing(self) -> Problem:
        key = self.at[-1]
        if key in LANGUAGES and len(self.at) > 1:
            tongue = "English" if key == "en" else "Spanish"
            what, why = f"the {tongue} text is missing", "half of the customers could not read it"
            return self._problem(
                what, why, f"write `{key}: …` beside the other", "missing-language", at=self.at[:-1], key=True
            )
        return self._problem(
            f"`{key}` is missing",
            f"a {self._model_name()} is not whole without it",
            f"write `{key}: …`",
            "missing-key",
            at=self.at[:-1],
        )

    def _unknown_key(self) -> Problem:
        key = str(self.at[-1])
        known = _keys(_model_at(self.model, self.at[:-1]))
        near = nearest(key, known)
        mend = (
            f"write `{near}`; the keys are {listed(known, 20)}"
            if near
            else f"the keys are {listed(known, 20)}"
        )
        return self._problem(
            f"`{key}` is no key of this {self._model_name()}",
            "it would be lost without a word",
            mend,
            "unknown-key",
            key=True,
        )

    def _field(self) -> str:
        return next(
            (str(step) for step in reversed(self.at) if isinstance(step, str)), self.model.__name__.lower()
        )

    def _model_name(self) -> str:
        found = _model_at(self.model, self.at[:-1])
        return (found or self.model).__name__.lower()

    def _problem(
        self, what: str, why: str, mend: str, rule: str, *, at: Location | None = None, key: bool = False
    ) -> Problem:
        where = self.top + (self.at if at is None else at)
        return Problem(place=self.page.place(where, key=key), what=what, why=why, mend=mend, rule=rule)


def _stripped(details: ErrorDetails, value: Plain) -> Location:
    """The location without the parts by which pydantic names the branches of a union."""
    kept: list[str | int] = []
    for step in details["loc"]:
        if isinstance(value, dict) and step in value:
            value = value[str(step)]
        elif isinstance(value, list) and isinstance(step, int):
            value = value[step]
        elif details["type"] != "missing" or step != details["loc"][-1]:
            continue
        kept.append(step)
    return tuple(kept)


def _model_at(model: type[BaseModel], location: Location) -> type[BaseModel] | None:
    annotation: Any = model  # a type expression, which typing itself calls Any
    for step in location:
        annotation = next(
            (found for part in _branches(annotation) if (found := _inside(part, step)) is not None), None
        )
    return next((part for part in _branches(annotation) if _is_model(part)), None)


def _inside(annotation: Any, step: str | int) -> Any:  # type expressions in and out
    if _is_model(annotation):
        for name, field in annotation.model_fields.items():
            if step in {name, field.alias}:
                return field.annotation
        return None
    arguments = get_args(annotation)
    if get_origin(annotation) is dict:
        return arguments[1]
    return arguments[0] if get_origin(annotation) is tuple else None


def _branches(annotation: Any) -> Iterator[Any]:  # type expressions in and out
    origin = get_origin(annotation)
    if origin is Annotated:
        yield from _branches(get_args(annotation)[0])
    elif origin is None or origin in {dict, tuple}:
        yield annotation
    else:
        for part in get_args(annotation):
            yield from _branches(part)


def _is_model(annotation: Any) -> bool:  # a type expression
    return isinstance(annotation, type) and issubclass(annotation, BaseModel)


def _keys(model: type[BaseModel] | None) -> list[str]:
    return [] if model is None else [field.alias or name for name, field in model.model_fields.items()]


def _words(error: ErrorDetails) -> list[str]:
    return re.findall(r"'([^']*)'", str(error.get("ctx", {}).get("expected", "")))


def _shown(value: Plain) -> str:
    text = str(value)
    return f"`{text if len(text) <= 40 else text[:39] + '…'}`"  # noqa: PLR2004 — as much as a line bears
