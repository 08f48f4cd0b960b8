"""The public API, as `design` has it: what it takes, what it answers, what it refuses."""

import json
from typing import Any

import pytest
from flask.testing import FlaskClient

from assistant.casebook import cases
from assistant.helpline import Helpline
from tests.channels.callers import Json, open_page, problem
from tests.channels.conftest import SITE, STAFF


def test_a_case_opens_with_a_token_and_what_is_said_first(client: FlaskClient) -> None:
    opened = client.post("/api/cases", json={"text": "too warm", "language": "en", "client_id": "a1"})

    body: Json = opened.get_json()
    assert opened.status_code == 201
    assert opened.headers["Location"] == f"/api/cases/{body['case']}/messages"
    assert body["state"] == "asking"
    assert set(body["messages"][0]) == {"id", "from", "text", "options", "photos", "at"}
    assert body["messages"][0]["from"] == "assistant"
    assert body["messages"][0]["options"] == [{"value": "yes", "text": "yes"}, {"value": "no", "text": "no"}]
    assert body["messages"][0]["at"] == "2026-07-14T16:00:00Z"


@pytest.mark.parametrize(
    ("zone", "kept"), [("America/Denver", "America/Denver"), ("Mars/Olympus", "America/New_York")]
)
def test_hours_are_those_of_the_room_where_its_zone_is_known(
    client: FlaskClient, helpline: Helpline, zone: str, kept: str
) -> None:
    opened = client.post("/api/cases", json={"text": "too warm", "zone": zone, "client_id": "a1"}).get_json()

    with helpline.house.casebook.reading() as session:
        case = cases.find_case(session, opened["case"])
    assert case is not None
    assert case.zone == kept


def test_a_case_may_open_before_any_message(client: FlaskClient) -> None:
    opened = client.post("/api/cases", json={"client_id": "a1"})

    assert [message["text"] for message in opened.get_json()["messages"]] == ["What is wrong?"]


def test_the_same_opening_twice_is_one_case(client: FlaskClient) -> None:
    body = {"text": "too warm", "client_id": "a1"}

    first, again = client.post("/api/cases", json=body), client.post("/api/cases", json=body)

    assert first.get_json() == again.get_json()


def test_other_content_under_a_client_id_is_refused(client: FlaskClient) -> None:
    page = open_page(client)
    page.write("loud", "m1")

    problem(client.post("/api/cases", json={"text": "too cold", "client_id": "page-1"}), 422)
    problem(page.write("silent", "m1"), 422)


def test_the_same_message_twice_is_answered_the_same_and_read_once(client: FlaskClient) -> None:
    page = open_page(client)

    first, again = page.write("loud", "m1"), page.write("loud", "m1")

    assert first.get_json() == again.get_json()
    assert [m["text"] for m in page.look().get_json()["messages"]] == [
        "too warm",
        "Question 1?",
        "loud",
        "Question 2?",
    ]


def test_what_came_since_includes_the_customers_own_and_ids_rise(client: FlaskClient) -> None:
    page = open_page(client)
    page.write("loud", "m1")

    messages = page.look().get_json()["messages"]
    ids = [message["id"] for message in messages]

    assert ids == sorted(set(ids))
    assert [message["from"] for message in messages] == ["customer", "assistant"] * 2
    assert page.look(after=ids[1]).get_json()["messages"] == messages[2:]


def test_an_unchanged_case_costs_no_body(client: FlaskClient) -> None:
    page = open_page(client)
    tag = page.look().headers["ETag"]

    unchanged = page.look(If_None_Match=tag)
    page.write("loud", "m1")
    changed = page.look(If_None_Match=tag)

    assert (unchanged.status_code, unchanged.data) == (304, b"")
    assert changed.status_code == 200


def test_a_promised_follow_up_is_there_once_the_clock_was_moved(client: FlaskClient) -> None:
    page = open_page(client)
    assert page.write("ask me later", "m1").get_json()["state"] == "waiting"
    last = page.look().get_json()["messages"][-1]["id"]

    moved = client.post("/demo/clock", json={"forward_minutes": 240})

    assert moved.get_json() == {"now": "2026-07-14T20:00:00Z"}
    assert [m["text"] for m in page.look(after=last).get_json()["messages"]] == ["How is it now?"]


def test_a_danger_shows_in_the_state(client: FlaskClient) -> None:
    assert open_page(client).write("there is fire", "m1").get_json()["state"] == "danger"


def test_the_slip_shows_the_rooms_name_and_its_last_reading(client: FlaskClient, helpline: Helpline) -> None:
    page = open_page(client)
    helpline.name_room(page.case, "Berry room")
    page.write("11", "m1")

    assert page.look().get_json()["room"] == {"name": "Berry room", "last": "11 C"}


def test_the_reasoning_is_for_staff(client: FlaskClient) -> None:
    page = open_page(client)
    address = f"/api/cases/{page.case}/reasoning"

    seen = client.get(address, headers={"Authorization": f"Bearer {STAFF}"})

    wanted = {"edition", "beliefs", "marginals", "findings", "asked", "sums", "next", "entropy_bits"}
    assert wanted <= set(seen.get_json())
    assert "WWW-Authenticate" in client.get(address).headers
    problem(client.get(address), 401)
    problem(client.get(address, headers=page.headers), 403)
    problem(client.get("/api/cases/nosuchcase/reasoning", headers={"Authorization": f"Bearer {STAFF}"}), 404)


def test_the_sums_are_for_staff(client: FlaskClient) -> None:
    page = open_page(client)
    address = f"/api/cases/{page.case}/sums"

    seen = client.get(address, headers={"Authorization": f"Bearer {STAFF}"})

    assert set(seen.get_json()) == {"sums", "product_hours_left"}
    problem(client.get(address), 401)
    problem(client.get(address, headers=page.headers), 403)


BAD_BODIES: list[tuple[bytes, int]] = [
    (b"", 400),
    (b"{", 400),
    (b"\xff\xfe\x00binary\x9c", 400),
    (b'{"text": "\\ud800", "client_id": "m1"}', 400),  # half of a surrogate pair
    (b"[]", 422),
    (b"null", 422),
    (b'{"client_id": "m1"}', 422),
    (b'{"text": "", "client_id": "m1"}', 422),
    (b'{"text": "  \\n ", "client_id": "m1"}', 422),
    (b'{"text": 5, "client_id": "m1"}', 422),
    (b'{"text": "a\\u0000b", "client_id": "m1"}', 422),
    (b'{"text": "warm", "client_id": ""}', 422),
    (b'{"text": "warm", "client_id": "\\u0007"}', 422),
    (b'{"text": "warm", "client_id": "m1", "colour": "red"}', 422),
    (json.dumps({"text": "x" * 10_001, "client_id": "m1"}).encode(), 422),
    (json.dumps({"text": "warm", "client_id": "m" * 201}).encode(), 422),
    (b'{"text": "' + b"x" * 300_000 + b'", "client_id": "m1"}', 413),
    (b"[" * 100_000, 400),
]


@pytest.mark.parametrize(("body", "status"), BAD_BODIES, ids=range(len(BAD_BODIES)))
def test_a_bad_body_is_the_callers_problem_and_never_ours(
    client: FlaskClient, body: bytes, status: int
) -> None:
    page = open_page(client)
    opens = body == b'{"client_id": "m1"}'  # a case may open without a text

    for address in (f"/api/cases/{page.case}/messages", *(() if opens else ("/api/cases",))):
        problem(
            client.post(address, data=body, content_type="application/json", headers=page.headers), status
        )
    moved = client.post("/demo/clock", data=body, content_type="application/json")
    assert problem(moved, moved.status_code)["status"] in (400, 413, 422)


@pytest.mark.parametrize(
    "text",
    [
        "x" * 10_000,
        "🧊🧊🧊",
        "الغرفة دافئة جدا",
        "\u202edrawkcab\u202c",
        "hielo en la unidad\r\nagua en el piso\t",
        "<script>alert(1)</script>",
        "'; DROP TABLE event; --",
        "\u200b.",
        "\ud83d\ude00".encode("utf-16", "surrogatepass").decode("utf-16"),
    ],
)
def test_any_text_that_can_be_read_is_kept_as_it_was_sent(client: FlaskClient, text: str) -> None:
    page = open_page(client)

    assert page.write(text, "m1").status_code == 200
    heard = [m["text"] for m in page.look().get_json()["messages"] if m["from"] == "customer"]
    assert heard == ["too warm", text]


@pytest.mark.parametrize(
    "content_type", ["text/plain", "application/x-www-form-urlencoded", "multipart/form-data", None]
)
def test_another_content_type_is_told_which_to_send(client: FlaskClient, content_type: str | None) -> None:
    answer = client.post("/api/cases", data=b'{"client_id": "a1"}', content_type=content_type)

    assert "application/json" in problem(answer, 415)["detail"]


def test_whoever_has_no_token_or_a_wrong_one_sees_nothing(client: FlaskClient) -> None:
    page, other = open_page(client), open_page(client, client_id="page-2")
    messages = f"/api/cases/{page.case}/messages"

    for token, status in (("", 401), ("wrong", 403), (other.token, 403), ("é\u00ff", 403)):
        headers = {"Authorization": f"Bearer {token}"} if token else {}
        problem(client.get(messages, headers=headers), status)
        problem(client.post(messages, json={"text": "hi", "client_id": "m1"}, headers=headers), status)
    problem(client.get(messages, headers={"Authorization": f"Basic {page.token}"}), 401)


@pytest.mark.parametrize("case", ["nosuchcase", "%00", "..%2f..", "' OR 1=1", "é", "x" * 5000])
def test_an_unknown_case_is_not_found(client: FlaskClient, case: str) -> None:
    problem(client.get(f"/api/cases/{case}/messages", headers={"Authorization": "Bearer any"}), 404)


@pytest.mark.parametrize("after", ["soon", "-1", "1e3", str(10**30), ""])
def test_after_is_a_message_id(client: FlaskClient, after: str) -> None:
    page = open_page(client)

    answer = client.get(f"/api/cases/{page.case}/messages?after={after}", headers=page.headers)

    problem(answer, 422)


def test_an_unknown_address_and_a_wrong_method_are_problems_too(client: FlaskClient) -> None:
    problem(client.get("/api/nothing"), 404)
    wrong = client.get("/api/cases")
    problem(wrong, 405)
    assert "POST" in wrong.headers["Allow"]


def test_a_message_that_fails_in_deciding_is_kept_and_answered_honestly(client: FlaskClient) -> None:
    page = open_page(client)

    answer = page.write("break", "m1").get_json()

    assert answer["state"] == "with_person"
    assert answer["messages"][0]["text"] == "That failed on our side."


def test_a_fault_of_ours_is_a_problem_that_says_nothing_of_its_cause(
    client: FlaskClient, helpline: Helpline, caplog: pytest.LogCaptureFixture
) -> None:
    page = open_page(client)
    helpline.house.casebook.engine.dispose()
    with helpline.house.casebook.engine.begin() as connection:
        connection.exec_driver_sql("ALTER TABLE inbox RENAME TO away")

    refused = problem(page.write("loud", "m1"), 500)

    assert "inbox" not in json.dumps(refused)
    assert "inbox" in caplog.text


def test_no_answer_of_the_api_is_kept_in_a_cache(client: FlaskClient) -> None:
    page = open_page(client)

    assert page.look().headers["Cache-Control"] == "no-store"
    assert page.look().headers["X-Content-Type-Options"] == "nosniff"


def test_only_named_sites_may_call_from_their_own_pages(client: FlaskClient) -> None:
    def asked(site: str) -> Any:
        return client.options("/api/cases", headers={"Origin": site, "Access-Control-Request-Method": "POST"})

    assert asked(SITE).headers["Access-Control-Allow-Origin"] == SITE
    assert "Authorization" in asked(SITE).headers["Access-Control-Allow-Headers"]
    assert "Access-Control-Allow-Origin" not in asked("https://elsewhere.example").headers
