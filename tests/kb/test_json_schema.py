"""The exported schemas, held against a general-purpose validator: JSON Schema, draft 2020-12 (python-jsonschema)."""

from typing import Any

import pytest
from jsonschema import Draft202012Validator

from kb.checking import MODELS
from kb.files import KIND_OF_WORDS, Kind
from kb.json_schema import schema_of
from kb.loading import look
from kb.shelf import Shelf


@pytest.fixture(scope="module")
def shelf() -> Shelf:
    return look()[0]


def pages(shelf: Shelf, kind: Kind) -> list[Any]:
    return list(
        {o.page.file.relative: o.page.value for (of, _), o in shelf.origins.items() if of == kind}.values()
    )


@pytest.mark.parametrize("kind", MODELS)
def test_every_page_that_loads_fits_its_schema(shelf: Shelf, kind: Kind) -> None:
    schema = schema_of(kind, shelf.nodes)
    Draft202012Validator.check_schema(schema)
    validator = Draft202012Validator(schema)

    assert [error.message for page in pages(shelf, kind) for error in validator.iter_errors(page)] == []


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("shows", {"filtr": {"clogged": "usually"}}),
        ("shows", {"filter": {"cloged": "usually"}}),
        ("shows", {"filter": {"clogged": "mostly"}}),
        ("fixes", ["clean_filtr"]),
        ("complaints", {"too_wam": "usually"}),
        ("how_common", "comon"),
        ("equipment", ["windows"]),
        ("sohws", {}),
    ],
)
def test_a_slip_is_seen_as_one_types(shelf: Shelf, key: str, value: object) -> None:
    cause: dict[str, Any] = shelf.origins["cause", "filter_clogged"].page.value
    validator = Draft202012Validator(schema_of("cause", shelf.nodes))
    assert validator.is_valid(cause)

    assert not validator.is_valid({**cause, key: value})


def test_a_new_id_may_be_anything_in_its_own_page(shelf: Shelf) -> None:
    cause: dict[str, Any] = shelf.origins["cause", "filter_clogged"].page.value

    assert Draft202012Validator(schema_of("cause", shelf.nodes)).is_valid({**cause, "cause": "brand_new"})


def test_keys_explain_themselves(shelf: Shelf) -> None:
    schema = schema_of("cause", shelf.nodes)

    assert "tried" in schema["properties"]["fixes"]["description"]


def test_a_file_of_words_holds_many_entries(shelf: Shelf) -> None:
    for kind in KIND_OF_WORDS.values():
        assert "additionalProperties" in schema_of(kind, shelf.nodes)
