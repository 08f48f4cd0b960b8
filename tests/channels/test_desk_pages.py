"""The desk's pages, as a colleague and as somebody who should not be there."""

import io
import re
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from argon2 import PasswordHasher
from flask.testing import FlaskClient
from PIL import Image
from werkzeug.test import TestResponse

from assistant.casebook import Casebook, open_engine, upgrade
from assistant.helpline import Album, Conversing, Door, Editions, Helpline, House, conversing_with
from channels.knowledge import our_knowledge
from channels.web import create_app
from tests.channels.conftest import Hour
from tests.helpline.fakes import NOON

GOOD = "a long enough one"


@pytest.fixture(scope="module")
def conversing() -> Conversing:
    """The real conversation; its words are indexed once."""
    return conversing_with(our_knowledge())


@pytest.fixture
def helpline(tmp_path: Path, conversing: Conversing) -> Iterator[Helpline]:
    engine = open_engine(f"sqlite:///{tmp_path / 'desk.sqlite3'}")
    upgrade(engine)
    album = Album(tmp_path / "photos")
    yield Helpline(House(casebook=Casebook(engine), editions=Editions(conversing), key=b"k", album=album))
    engine.dispose()


@pytest.fixture
def hour(helpline: Helpline) -> Hour:
    return Hour(helpline)


@pytest.fixture
def stranger(helpline: Helpline, hour: Hour) -> FlaskClient:
    door = Door(helpline.house.casebook, PasswordHasher(time_cost=1, memory_cost=8, parallelism=1))
    for name in ("Robin", "Kim"):
        door.add(name, "desk", GOOD, NOON)
    return create_app(helpline, hour, door=door).test_client()


@pytest.fixture
def desk(stranger: FlaskClient) -> FlaskClient:
    return signed_in(stranger, "Robin")


def signed_in(client: FlaskClient, name: str) -> FlaskClient:
    assert client.post("/desk/sign-in", data={"name": name, "password": GOOD}).status_code == 303
    return client


@pytest.fixture
def case(helpline: Helpline) -> str:
    text = "my cooler is at 52 F, set to 38 F, window unit, and the coil is a block of ice"
    opening = helpline.open_case(client_id="c1", at=NOON, text=text, language="en")
    helpline.name_room(opening.case, "berry room")
    return opening.case


def page_of(client: FlaskClient, path: str) -> str:
    answer = client.get(path)
    assert answer.status_code == 200, answer.text
    return answer.text


def do(client: FlaskClient, case: str, deed: str, **fields: str) -> TestResponse:
    page = client.get(f"/desk/cases/{case}").text
    mark = re.search(r'name="mark" value="([0-9a-f]+)"', page)
    seen = re.search(r'name="seen" value="(\d+)"', page)
    found = {"mark": mark.group(1) if mark else "", "seen": seen.group(1) if seen else "0"}
    return client.post(f"/desk/cases/{case}/{deed}", data={**found, "client_id": "once1", **fields})


# -- who comes in ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("path", ["/desk/", "/desk/cases/x", "/desk/cases/x/hand-over", "/desk/?only=mine"])
def test_nobody_sees_a_page_without_signing_in(stranger: FlaskClient, path: str) -> None:
    answer = stranger.get(path)
    assert (answer.status_code, "/desk/sign-in" in answer.location) == (303, True)


@pytest.mark.parametrize("deed", ["take-over", "write", "close", "reopen", "hand-back", "aside"])
def test_nobody_does_a_thing_without_signing_in(
    stranger: FlaskClient, case: str, helpline: Helpline, deed: str
) -> None:
    stranger.post(f"/desk/cases/{case}/{deed}", data={"text": "x", "client_id": "a"})
    assert [message.from_ for message in helpline.messages_after(case)].count("staff") == 0
    assert helpline.desk_list()[0].voice == "assistant"


def test_a_form_from_elsewhere_is_turned_away(desk: FlaskClient, case: str, helpline: Helpline) -> None:
    answer = desk.post(f"/desk/cases/{case}/take-over", data={"mark": "0" * 64})
    assert answer.status_code == 403
    assert helpline.desk_list()[0].voice == "assistant"


@pytest.mark.parametrize(
    "to", ["https://evil.example/desk/", "//evil.example", "/desk/../..//evil.example", "/desk/\\evil"]
)
def test_the_sign_in_leads_nowhere_else(stranger: FlaskClient, to: str) -> None:
    answer = stranger.post("/desk/sign-in", query_string={"to": to}, data={"name": "Robin", "password": GOOD})
    assert answer.location == "/desk/"


def test_a_cookie_goes_to_the_desk_alone_and_to_no_script(stranger: FlaskClient) -> None:
    answer = stranger.post("/desk/sign-in", data={"name": "Robin", "password": GOOD})
    cookie = answer.headers["Set-Cookie"]
    assert all(part in cookie for part in ("HttpOnly", "SameSite=Strict", "Path=/desk"))


def test_a_wrong_password_is_told_and_nothing_more(stranger: FlaskClient) -> None:
    answer = stranger.post("/desk/sign-in", data={"name": "Robin", "password": "no"})
    assert answer.status_code == 403
    assert "do not go together" in answer.text


# -- what stands there -----------------------------------------------------------------------------------------------


def test_an_empty_queue_says_so(desk: FlaskClient) -> None:
    assert "No case is open" in page_of(desk, "/desk/")


def test_the_queue_says_who_what_how_sure_and_since_when(desk: FlaskClient, case: str) -> None:
    page = page_of(desk, "/desk/")
    assert "berry room" in page
    assert "52 F" in page
    assert "38 F" in page
    assert re.search(r"suspected: [^<]+ \d+ %", page)


def test_danger_stands_before_everything(
    desk: FlaskClient, case: str, helpline: Helpline, hour: Hour
) -> None:
    hour.at = NOON + timedelta(minutes=5)
    danger = helpline.open_case(
        client_id="c2", at=hour.at, text="I smell burning at the plug", language="en"
    ).case
    helpline.name_room(danger, "grain room")

    page = page_of(desk, "/desk/")

    assert page.index("grain room") < page.index("berry room")


def test_a_sheet_shows_each_fact_with_its_message(desk: FlaskClient, case: str) -> None:
    page = page_of(desk, f"/desk/cases/{case}")
    places = re.findall(r'href="#m(\d+)"', page)
    assert places
    assert all(f'id="m{place}"' in page for place in places)
    assert "ice on the coil: covered in ice" in page
    assert "<svg" in page


def test_a_colleague_reads_spanish_cases_in_their_own_language(desk: FlaskClient, helpline: Helpline) -> None:
    spanish = helpline.open_case(
        client_id="c3", at=NOON, text="el filtro está tapado y el cuarto está a 12 C", language="es"
    ).case

    page = page_of(desk, f"/desk/cases/{spanish}")

    assert "clogged" in page
    assert "el filtro está tapado" in page  # their own words stay theirs


def test_the_pages_speak_spanish_too(desk: FlaskClient, case: str) -> None:
    assert "Descartado" in page_of(desk, f"/desk/cases/{case}?lang=es")
    assert "Casos" in page_of(desk, "/desk/")  # remembered


def test_what_a_customer_wrote_is_never_markup(desk: FlaskClient, helpline: Helpline) -> None:
    evil = helpline.open_case(
        client_id="c4", at=NOON, text="<script>alert(1)</script> 52 F", language="en"
    ).case
    helpline.name_room(evil, "<b>barn</b>")

    page = page_of(desk, f"/desk/cases/{evil}") + page_of(desk, "/desk/")

    assert "<script>alert" not in page
    assert "<b>barn" not in page


def test_an_unknown_case_is_told_in_words(desk: FlaskClient) -> None:
    answer = desk.get("/desk/cases/nothing")
    assert answer.status_code == 404
    assert "No case `nothing`" in answer.text


def test_the_hand_over_sheet_names_cautions_and_what_was_seen(desk: FlaskClient, case: str) -> None:
    page = page_of(desk, f"/desk/cases/{case}/hand-over")
    assert "absence of voltage" in page
    assert "52 F" in page


# -- what is done ----------------------------------------------------------------------------------------------------


def test_take_over_write_hand_back(desk: FlaskClient, case: str, helpline: Helpline) -> None:
    assert do(desk, case, "take-over").status_code == 303
    assert helpline.desk_list()[0].voice == "Robin"

    do(desk, case, "write", text="This is Robin. Is the fan on high?")
    do(desk, case, "write", text="This is Robin. Is the fan on high?")
    do(desk, case, "hand-back")

    said = [message.text for message in helpline.messages_after(case) if message.from_ == "staff"]
    assert said == ["This is Robin. Is the fan on high?"]
    assert helpline.desk_list()[0].voice == "assistant"


def test_a_message_that_came_meanwhile_stops_the_send(
    desk: FlaskClient, case: str, helpline: Helpline
) -> None:
    do(desk, case, "take-over")
    page = page_of(desk, f"/desk/cases/{case}")
    seen = re.search(r'name="seen" value="(\d+)"', page)
    assert seen is not None
    helpline.receive(case, None, "wait, there is smoke", "m9", NOON + timedelta(minutes=1))

    answer = do(desk, case, "write", text="All is well", seen=seen.group(1))

    assert answer.status_code == 409
    assert "wrote since" in answer.text


def test_two_colleagues_do_not_speak_at_once(
    desk: FlaskClient, case: str, helpline: Helpline, hour: Hour
) -> None:
    do(desk, case, "take-over")
    door = Door(helpline.house.casebook, PasswordHasher(time_cost=1, memory_cost=8, parallelism=1))
    kim = signed_in(create_app(helpline, hour, door=door).test_client(), "Kim")

    assert do(kim, case, "take-over").status_code == 409
    assert do(kim, case, "write", text="hello").status_code == 409
    assert do(kim, case, "take-over", instead_of="Robin").status_code == 303
    assert helpline.desk_list()[0].voice == "Kim"


def test_an_aside_is_kept_once_and_no_customer_sees_it(
    desk: FlaskClient, case: str, helpline: Helpline
) -> None:
    do(desk, case, "aside", text="sounded tired")
    do(desk, case, "aside", text="sounded tired")

    assert page_of(desk, f"/desk/cases/{case}").count("sounded tired") == 1
    assert all("tired" not in message.text for message in helpline.messages_after(case))


def test_erasing_a_person_empties_their_asides(desk: FlaskClient, case: str, helpline: Helpline) -> None:
    do(desk, case, "aside", text="sounded tired")
    helpline.erase_person(helpline.person_of(case))
    assert "tired" not in page_of(desk, f"/desk/cases/{case}")


def test_closing_takes_it_off_the_queue_with_its_cause(
    desk: FlaskClient, case: str, helpline: Helpline
) -> None:
    assert do(desk, case, "close", cause="filter_clogged").status_code == 303
    assert helpline.desk_list() == ()
    assert "closed" in page_of(desk, f"/desk/cases/{case}")


def test_every_look_and_deed_is_written_down(desk: FlaskClient, case: str) -> None:
    do(desk, case, "take-over")
    page = page_of(desk, f"/desk/cases/{case}")
    assert "Robin: looked" in page
    assert "Robin: took over" in page


def test_a_page_that_did_not_change_keeps_its_tag(desk: FlaskClient, case: str, helpline: Helpline) -> None:
    for path in ("/desk/", f"/desk/cases/{case}"):
        page_of(desk, path)
        first, again = (desk.get(path).headers["ETag"] for _ in range(2))
        assert first == again


# -- on the line -----------------------------------------------------------------------------------------------------


def mark_of(page: str) -> str:
    found = re.search(r'name="mark" value="([0-9a-f]+)"', page)
    assert found is not None
    return found.group(1)


def take_call(desk: FlaskClient, text: str) -> str:
    """A call taken; the case's page."""
    mark = mark_of(page_of(desk, "/desk/"))
    fields = {"mark": mark, "client_id": "call1", "text": text, "room": "milk room"}
    answer = desk.post("/desk/calls", data=fields)
    assert answer.status_code == 303
    return answer.location.partition("#")[0]


def test_a_caller_is_heard_while_the_colleague_types(desk: FlaskClient, helpline: Helpline) -> None:
    place = take_call(desk, "room is at 52 F and set to 38 F")

    page = page_of(desk, place)

    assert "milk room" in page
    assert "52 F" in page
    assert "automatic assistant" not in page  # nobody hears the assistant on the telephone
    assert helpline.desk_list()[0].voice == "Robin"


def test_a_tapped_answer_moves_belief_and_the_next_question(desk: FlaskClient) -> None:
    place = take_call(desk, "room is at 52 F and set to 38 F, window unit")
    case = place.rsplit("/", 1)[1]

    do(desk, case, "learn", fact="filter=clogged")

    page = page_of(desk, place)
    assert "filter: clogged" in page
    assert "a dirty filter is choking the air" in page


def test_a_misread_fact_is_corrected_and_belief_follows_at_once(desk: FlaskClient, case: str) -> None:
    do(desk, case, "take-over")
    do(desk, case, "learn", fact="coil_ice=none")

    sheet, _, _talk = page_of(desk, f"/desk/cases/{case}").partition('id="talk"')
    assert "ice on the coil: none or thin white" in sheet
    assert "ice on the coil: covered in ice" not in sheet


@pytest.mark.parametrize("fact", ["filter=purple", "nothing=clean", "", "filter", "=clogged"])
def test_only_what_the_knowledge_knows_can_be_set(desk: FlaskClient, case: str, fact: str) -> None:
    do(desk, case, "take-over")
    assert do(desk, case, "learn", fact=fact).status_code == 422


def test_a_photo_stands_in_the_talk_and_in_the_queue_until_somebody_looks(
    helpline: Helpline, desk: FlaskClient, case: str
) -> None:
    out = io.BytesIO()
    Image.new("RGB", (8, 8), "teal").save(out, "PNG")
    helpline.receive(case, None, "", "p1", NOON, photos=(out.getvalue(),))
    assert "a photo to look at" in page_of(desk, "/desk/")

    (path,) = set(
        re.findall(rf'src="(/desk/cases/{case}/photos/[a-z2-7]+)"', page_of(desk, f"/desk/cases/{case}"))
    )
    answer = desk.get(path)

    assert (answer.status_code, answer.mimetype) == (200, "image/jpeg")
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    assert "a photo to look at" not in page_of(desk, "/desk/")
    assert desk.get(path[:-16] + "a" * 16).status_code == 404
    assert desk.get(path.replace(case, "other")).status_code == 404


def test_a_photo_is_for_those_signed_in(stranger: FlaskClient, case: str) -> None:
    assert stranger.get(f"/desk/cases/{case}/photos/{'a' * 16}").status_code == 303
