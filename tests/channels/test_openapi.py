"""The document against the routes, and what the routes answer against the document."""

import re
from typing import Any

import pytest
from flask.testing import FlaskClient
from pydantic import BaseModel

from channels.web.models import CaseOut, MessagesOut, ProblemOut, ReasoningOut, SumsOut
from channels.web.openapi import document
from tests.channels.callers import open_page
from tests.channels.conftest import STAFF

METHODS = {"get", "post", "put", "delete", "patch"}
PAGES = {"/", "/plain", "/plain/code", "/<any('widget.js', 'widget.css', 'page.css', 'icon.svg'):name>"}
"""Routes for eyes, which no program calls."""


def documented() -> set[tuple[str, str]]:
    return {(path, verb) for path, item in document()["paths"].items() for verb in METHODS & set(item)}


def test_the_document_lists_what_the_routes_do(client: FlaskClient) -> None:
    rules = {
        (re.sub(r"<case_id>", "{case}", rule.rule), method.lower())
        for rule in client.application.url_map.iter_rules()
        for method in (rule.methods or set()) - {"HEAD", "OPTIONS"}
        if rule.rule not in PAGES
    }

    assert rules == documented()
    assert client.get("/api/openapi.json").get_json() == document()


def test_every_reference_leads_somewhere_and_every_operation_has_a_name_of_its_own() -> None:
    whole = document()

    for reference in references(whole):
        place: Any = whole
        for part in reference.removeprefix("#/").split("/"):
            place = place[part]
        assert place
    names = [whole["paths"][path][verb]["operationId"] for path, verb in documented()]
    assert len(names) == len(set(names))


def references(place: object) -> list[str]:
    if isinstance(place, dict):
        own = [place["$ref"]] if isinstance(place.get("$ref"), str) else []
        return own + [found for value in place.values() for found in references(value)]
    return [found for value in place for found in references(value)] if isinstance(place, list) else []


@pytest.mark.parametrize("path", ["/api/cases", "/api/cases/{case}/messages", "/demo/clock"])
def test_the_examples_of_the_document_work_as_they_stand(client: FlaskClient, path: str) -> None:
    page = open_page(client)
    body = document()["paths"][path]["post"]["requestBody"]["content"]["application/json"]["example"]

    answer = client.post(path.replace("{case}", page.case), json=body, headers=page.headers)

    assert str(answer.status_code) in document()["paths"][path]["post"]["responses"]
    assert answer.status_code < 300


def test_answers_have_the_shape_that_the_document_gives(client: FlaskClient) -> None:
    opened = client.post("/api/cases", json={"text": "too warm", "client_id": "page-1"})
    page = open_page(client)
    reasoning = client.get(f"/api/cases/{page.case}/reasoning", headers={"Authorization": f"Bearer {STAFF}"})
    sums = client.get(f"/api/cases/{page.case}/sums", headers={"Authorization": f"Bearer {STAFF}"})
    pairs: list[tuple[type[BaseModel], Any]] = [
        (CaseOut, opened),
        (MessagesOut, page.write("loud", "m1")),
        (MessagesOut, page.look()),
        (ReasoningOut, reasoning),
        (SumsOut, sums),
        (ProblemOut, client.get("/api/nothing")),
    ]

    for model, answer in pairs:
        model.model_validate_json(answer.data)
