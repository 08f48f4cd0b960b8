"""How a page calls the API, in as few words as a test needs."""

from dataclasses import dataclass
from typing import Any

from flask.testing import FlaskClient
from werkzeug.test import TestResponse

Json = dict[str, Any]  # Any: JSON


@dataclass(frozen=True, slots=True)
class Page:
    """A customer's page with its case."""

    client: FlaskClient
    case: str
    token: str

    @property
    def headers(self) -> dict[str, str]:
        return {"Authorization": f"Bearer {self.token}"}

    def write(self, text: str, client_id: str) -> TestResponse:
        body = {"text": text, "client_id": client_id}
        return self.client.post(f"/api/cases/{self.case}/messages", json=body, headers=self.headers)

    def look(self, after: int = 0, **headers: str) -> TestResponse:
        named = {name.replace("_", "-"): value for name, value in headers.items()}
        return self.client.get(f"/api/cases/{self.case}/messages?after={after}", headers=self.headers | named)


def open_page(client: FlaskClient, text: str | None = "too warm", client_id: str = "page-1") -> Page:
    body = {"client_id": client_id} | ({} if text is None else {"text": text})
    opened = client.post("/api/cases", json=body)
    assert opened.status_code == 201, opened.text
    return Page(client, opened.json["case"], opened.json["token"])  # type: ignore[index]  # JSON was just checked by its status


def problem(response: TestResponse, status: int) -> Json:
    """The problem details of a refusal, their form checked (RFC 9457, section 3)."""
    assert response.status_code == status, response.text
    assert response.content_type == "application/problem+json"
    body: Json = response.get_json(force=True)
    assert body["status"] == status
    assert body["title"]
    assert body["detail"].endswith((".", "!"))
    assert body["type"].startswith("/api/openapi.json#/components/responses/")
    return body
