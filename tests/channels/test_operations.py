from dataclasses import replace

import pytest
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from assistant.helpline import Helpline, Limits
from channels.house import check_database
from channels.web import WebSettings, create_app
from tests.channels.callers import open_page, problem
from tests.channels.conftest import Hour

ELSEWHERE = {"REMOTE_ADDR": "192.0.2.7"}
"""TEST-NET-1 (RFC 5737): addresses for documentation."""


def test_a_process_that_runs_is_alive_and_ready(client: FlaskClient) -> None:
    assert client.get("/health/live").status_code == 200
    assert client.get("/health/ready").status_code == 200


def test_a_database_that_is_not_upgraded_makes_it_alive_and_not_ready(helpline: Helpline) -> None:
    with helpline.house.casebook.engine.begin() as connection:
        connection.exec_driver_sql("DELETE FROM alembic_version")
    app = create_app(helpline, Hour(helpline), ready=lambda: check_database(helpline.house.casebook))

    assert app.test_client().get("/health/live").status_code == 200
    assert app.test_client().get("/health/ready").status_code == 503


def test_figures_are_counted_by_route_and_never_by_case(client: FlaskClient) -> None:
    page = open_page(client)
    page.look()

    figures = client.get("/metrics").text

    assert 'helpline_responses_total{route="/api/cases/<case_id>/messages",status="200"} 1' in figures
    assert page.case not in figures
    assert figures.endswith("# EOF\n")


def test_figures_are_for_this_machine_or_for_who_has_the_token(client: FlaskClient) -> None:
    token = {"Authorization": "Bearer metrics-token"}

    problem(client.get("/metrics", environ_base=ELSEWHERE), 401)
    problem(client.get("/metrics", environ_base=ELSEWHERE, headers={"Authorization": "Bearer guess"}), 403)
    problem(client.get("/metrics", headers={"X-Forwarded-For": "127.0.0.1"}), 401)
    assert client.get("/metrics", environ_base=ELSEWHERE, headers=token).status_code == 200


@pytest.mark.parametrize("address", ["/demo/clock", "/demo"])
def test_outside_the_demo_no_clock_can_be_moved(helpline: Helpline, address: str) -> None:
    client = create_app(helpline, Hour(helpline)).test_client()

    problem(client.post(address, json={"forward_minutes": 60}), 404)


def test_without_a_staff_token_nobody_sees_reasoning(helpline: Helpline) -> None:
    client = create_app(helpline, Hour(helpline)).test_client()
    page = open_page(client)

    for token in ("None", "", "x"):
        answer = client.get(f"/api/cases/{page.case}/reasoning", headers={"Authorization": f"Bearer {token}"})
        assert answer.status_code in (401, 403)


def test_a_network_address_that_writes_too_much_is_told_when_to_come_again(helpline: Helpline) -> None:
    few = Helpline(replace(helpline.house, limits=replace(Limits(), page_cases_an_hour=2)))
    client = create_app(few, Hour(few), WebSettings(proxies=1)).test_client()

    def open_from(where: str, client_id: str) -> TestResponse:
        body = {"client_id": client_id, "text": "too warm"}
        return client.post("/api/cases", json=body, headers={"X-Forwarded-For": f"203.0.113.9, {where}"})

    assert [open_from("198.51.100.1", f"c{n}").status_code for n in range(2)] == [201, 201]
    answer = open_from("198.51.100.1", "c3")
    assert "emergency" in problem(answer, 429)["detail"]
    assert answer.headers["Retry-After"] == "3600"
    assert open_from("198.51.100.2", "c4").status_code == 201
    told = client.get("/metrics").text
    assert "helpline_sms_parts_total 0" in told
    assert told.endswith("# EOF\n")
    assert "198.51" not in told
