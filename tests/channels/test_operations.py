import pytest
from flask.testing import FlaskClient

from assistant.helpline import Helpline
from channels.house import check_database
from channels.web import create_app
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
