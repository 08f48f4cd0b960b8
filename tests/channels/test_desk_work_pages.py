"""The desk's other pages: search, many at once, the shift, parts, links, drafts; each as a colleague works it."""

import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from argon2 import PasswordHasher
from flask.testing import FlaskClient

from assistant.casebook import Casebook, open_engine, upgrade
from assistant.helpline import (
    Conversing,
    DeskWork,
    Door,
    Editions,
    Helpline,
    House,
    conversing_with,
    read_policy,
)
from channels.desk.words import SECTIONS, words_of
from channels.house import OUR_POLICY
from channels.knowledge import our_knowledge
from channels.web import create_app
from tests.channels.conftest import Hour
from tests.channels.test_desk_pages import GOOD, do, mark_of, page_of, signed_in
from tests.helpline.fakes import NOON

POWER = "window unit, the power went out last night, cooler at 64 F, set to 38 F, it only blows air, mode is fan only"


@pytest.fixture(scope="module")
def conversing() -> Conversing:
    return conversing_with(our_knowledge())


@pytest.fixture
def helpline(tmp_path: Path, conversing: Conversing) -> Iterator[Helpline]:
    engine = open_engine(f"sqlite:///{tmp_path / 'desk.sqlite3'}")
    upgrade(engine)
    policy = read_policy(OUR_POLICY.read_text(encoding="utf-8"), "policy")
    house = House(casebook=Casebook(engine), editions=Editions(conversing), key=b"k")
    yield Helpline(replace(house, policy=policy))
    engine.dispose()


@pytest.fixture
def hour(helpline: Helpline) -> Hour:
    return Hour(helpline)


@pytest.fixture
def desk(helpline: Helpline, hour: Hour) -> FlaskClient:
    door = Door(helpline.house.casebook, PasswordHasher(time_cost=1, memory_cost=8, parallelism=1))
    for name in ("Robin", "Kim"):
        door.add(name, "desk", GOOD, NOON)
    return signed_in(create_app(helpline, hour, door=door).test_client(), "Robin")


def opened(helpline: Helpline, name: str, text: str = POWER, place: str = "Alder Fork") -> str:
    case = helpline.open_case(client_id=name, at=NOON, text=text, language="en").case
    helpline.name_room(case, name)
    DeskWork(helpline.house).place(case, place)
    return case


def post(desk: FlaskClient, path: str, **fields: str | list[str]) -> str:
    mark = mark_of(page_of(desk, "/desk/"))
    answer = desk.post(path, data={"mark": mark, "client_id": "once", **fields}, follow_redirects=True)
    assert answer.status_code == 200, answer.text
    return answer.text


# -- search and filters ----------------------------------------------------------------------------------------------


def test_search_finds_closed_cases_and_shows_where_the_word_stands(
    desk: FlaskClient, helpline: Helpline
) -> None:
    case = opened(helpline, "berry room", "the ROSES are wilting, 52 F, set 38 F")
    do(desk, case, "close")

    page = page_of(desk, "/desk/?find=roses")

    assert f"/desk/cases/{case}#m" in page
    assert "the roses are wilting" in page
    assert "Nothing was said so" in page_of(desk, "/desk/?find=tulips")


def test_what_is_sought_is_never_markup(desk: FlaskClient) -> None:
    assert "<script>x" not in page_of(desk, "/desk/?find=<script>x</script>")


def test_danger_has_a_filter_of_its_own(desk: FlaskClient, helpline: Helpline) -> None:
    opened(helpline, "grain room", "I smell burning at the plug")
    opened(helpline, "berry room")
    page = page_of(desk, "/desk/?only=danger_only")
    assert "grain room" in page
    assert "a burning smell" in page
    assert "berry room" not in page


# -- many at once ----------------------------------------------------------------------------------------------------


def test_a_storm_night_is_one_group_and_each_stays_its_own_case(
    desk: FlaskClient, helpline: Helpline
) -> None:
    cases = [opened(helpline, f"room {number}") for number in range(40)]
    elsewhere = opened(helpline, "far room", place="Quarry Mill")
    page = page_of(desk, "/desk/many")
    assert "40 · " in page
    assert page.index("40 · ") < page.index("far room")
    ticked = re.findall(r'name="case" value="([^"]+)" checked', page)
    assert {one.partition(":")[0] for one in ticked} == set(cases)

    told = post(desk, "/desk/many", case=ticked, sentence="desk_power_back", then="back")

    assert "Got it: 40" in told
    assert "Did not get it" not in told
    for case in cases:
        said = [message for message in helpline.messages_after(case) if message.from_ == "staff"]
        assert [message.sentence for message in said] == ["desk_power_back"]
    assert not any(message.from_ == "staff" for message in helpline.messages_after(elsewhere))


def test_who_did_not_get_a_reply_stands_there_with_the_reason(desk: FlaskClient, helpline: Helpline) -> None:
    fine, newer = opened(helpline, "fine room"), opened(helpline, "newer room")
    ticked = re.findall(r'name="case" value="([^"]+)" checked', page_of(desk, "/desk/many"))
    helpline.receive(newer, None, "and there is water on the floor", "m9", NOON + timedelta(minutes=1))

    told = post(desk, "/desk/many", case=ticked, words_en="Hold on, please.", then="mine")

    assert "Did not get it: 1" in told
    assert "they wrote since" in told
    assert helpline.messages_after(fine)[-1].text == "Hold on, please."


@pytest.mark.parametrize("fields", [{}, {"words_en": "  "}, {"sentence": "nothing"}])
def test_a_reply_to_many_needs_somebody_and_words(
    desk: FlaskClient, helpline: Helpline, fields: dict[str, str]
) -> None:
    case = opened(helpline, "one room")
    mark = mark_of(page_of(desk, "/desk/"))
    more = {"case": f"{case}:9"} if fields else {"words_en": "x"}
    answer = desk.post("/desk/many", data={"mark": mark, "client_id": "o", **more, **fields})
    assert answer.status_code == 422


# -- promises, sentences, the shift ----------------------------------------------------------------------------------


def test_a_promise_stands_in_the_queue_and_is_called_when_it_passes(
    desk: FlaskClient, helpline: Helpline, hour: Hour
) -> None:
    case = opened(helpline, "berry room")
    do(desk, case, "take-over")
    do(desk, case, "promise", due="2026-07-14T12:45", tell="yes")  # New York: noon is NOON
    assert "promised for 2026-07-14 12:45" in page_of(desk, "/desk/")
    assert "by 12:45 pm" in helpline.messages_after(case)[-1].text

    hour.forward(timedelta(hours=1))

    assert "a promise is overdue" in page_of(desk, "/desk/")


@pytest.mark.parametrize("due", ["", "tomorrow", "2026-07-14T09:00", "2036-07-14T09:00"])
def test_an_hour_that_cannot_be_is_turned_away(desk: FlaskClient, helpline: Helpline, due: str) -> None:
    case = opened(helpline, "berry room")
    do(desk, case, "take-over")
    assert do(desk, case, "promise", due=due).status_code == 422


def test_a_spanish_customer_gets_spanish_and_the_colleague_reads_english(
    desk: FlaskClient, helpline: Helpline
) -> None:
    case = helpline.open_case(
        client_id="es", at=NOON, text="el cuarto está a 12 C y lo quiero a 3 C", language="es"
    ).case
    do(desk, case, "take-over")
    assert do(desk, case, "say", sentence="desk_number").status_code == 303

    page = page_of(desk, f"/desk/cases/{case}")

    assert helpline.messages_after(case)[-1].text.startswith("¿Qué marca la pantalla")
    talk = page[page.index('id="live-talk"') :]
    assert "What does the display show now?" in talk
    assert "Read as:" in talk
    assert "as typed, not translated" not in talk[: talk.index("</ol>")]


def test_words_typed_by_hand_are_marked_so(desk: FlaskClient, helpline: Helpline) -> None:
    case = opened(helpline, "berry room")
    do(desk, case, "take-over")
    do(desk, case, "write", text="Robin here.")
    assert "as typed, not translated" in page_of(desk, f"/desk/cases/{case}")


def test_the_shift_goes_to_a_colleague_with_a_note(desk: FlaskClient, helpline: Helpline) -> None:
    case = opened(helpline, "berry room")
    assert "You speak in no case" in page_of(desk, "/desk/shift")
    do(desk, case, "take-over")

    post(desk, "/desk/shift", case=[case], to="Kim", **{f"note-{case}": "ring at nine"})

    assert helpline.desk_list()[0].voice == "Kim"
    assert "→ Kim: ring at nine" in page_of(desk, f"/desk/cases/{case}")


# -- closing ---------------------------------------------------------------------------------------------------------


def test_a_new_cause_becomes_a_draft_and_stands_with_the_next_case_of_the_room(
    desk: FlaskClient, helpline: Helpline
) -> None:
    case = opened(helpline, "berry room")
    answer = do(desk, case, "close", new_cause="a tarp on the vent", mended_by="tarp off", ask_after="3")
    assert answer.status_code == 303

    assert "a tarp on the vent" in page_of(desk, f"/desk/cases/{case}")
    assert "mended by: tarp off" in page_of(desk, "/desk/drafts")
    draft = desk.get(f"/desk/drafts/{case}.yaml")
    assert "cause: a_tarp_on_the_vent" in draft.text
    assert draft.headers["Content-Type"].startswith("text/plain")


def test_a_case_without_a_new_cause_has_no_draft(desk: FlaskClient, helpline: Helpline) -> None:
    case = opened(helpline, "berry room")
    assert desk.get(f"/desk/drafts/{case}.yaml").status_code == 404


def test_did_it_hold_is_asked_and_a_no_brings_it_back(
    desk: FlaskClient, helpline: Helpline, hour: Hour
) -> None:
    case = opened(helpline, "berry room")
    do(desk, case, "close", cause="filter_clogged", fix="clean_filter", ask_after="1")
    hour.forward(timedelta(days=1, hours=1))
    assert "Did it hold?" in helpline.messages_after(case)[-1].text

    helpline.receive(case, None, "no", "m2", hour.at)

    page = page_of(signed_in(desk, "Robin"), "/desk/")  # a day later everybody signs in again
    assert "came back" in page
    assert "it did not hold" in page


# -- parts -----------------------------------------------------------------------------------------------------------


def test_a_part_is_covered_by_its_dates_asked_for_and_sent(desk: FlaskClient, helpline: Helpline) -> None:
    case = opened(helpline, "berry room")
    assert "nobody knows when it was bought" in page_of(desk, f"/desk/cases/{case}")

    do(desk, case, "part", part="controller", bought_on="2024-07-15", proof="yes", misused="no")
    do(desk, case, "part-ask", part="controller", note="June, Alder Fork, by post")
    do(desk, case, "part-ask", part="controller", note="June, Alder Fork, by post")

    assert "covered until 2026-07-15" in page_of(desk, f"/desk/cases/{case}")
    listed = page_of(desk, "/desk/parts")
    assert listed.count("June, Alder Fork, by post") == 1
    number = re.search(r"/desk/parts/(\d+)/sent", listed)
    assert number is not None
    sent = post(desk, f"/desk/parts/{number.group(1)}/sent")
    assert "sent by Robin" in sent
    helpline.erase_person(helpline.person_of(case))
    assert "Alder Fork, by post" not in page_of(desk, "/desk/parts")


@pytest.mark.parametrize(
    ("deed", "fields"),
    [
        ("part", {"part": "moon"}),
        ("part", {"part": "controller", "bought_on": "2030-01-01"}),
        ("part", {"part": "controller", "bought_on": "soon"}),
        ("part-ask", {"part": "controller", "note": " "}),
        ("part-ask", {"part": "moon", "note": "x"}),
    ],
)
def test_a_part_that_cannot_be_is_turned_away(
    desk: FlaskClient, helpline: Helpline, deed: str, fields: dict[str, str]
) -> None:
    assert do(desk, opened(helpline, "berry room"), deed, **fields).status_code == 422


def test_every_fact_says_where_it_comes_from(desk: FlaskClient, helpline: Helpline) -> None:
    """By the message it stands in, by the sum that gave it, or by the colleague who set it."""
    case = opened(helpline, "berry room", "window unit, 52 F, set to 38 F, the filter is clogged")
    do(desk, case, "take-over")
    do(desk, case, "learn", fact="airflow=weak")

    page = page_of(desk, f"/desk/cases/{case}")

    known = page[page.index('id="s-known"') : page.index('id="s-out"')]
    facts = re.findall(r"<li[^>]*>(.*?)</li>", known, flags=re.DOTALL)
    assert len(facts) >= 4
    assert all('class="from"' in fact for fact in facts), facts
    assert "set by a colleague" in known
    assert "worked out" in known


# -- sheets by a link ------------------------------------------------------------------------------------------------


def link_of(desk: FlaskClient, case: str, **fields: str) -> str:
    found = re.search(
        r'value="http://localhost(/sheet/[^"]+)"', post(desk, f"/desk/cases/{case}/link", **fields)
    )
    assert found is not None
    return found.group(1)


def test_a_mechanic_reads_one_sheet_until_the_link_ends(
    desk: FlaskClient, helpline: Helpline, hour: Hour
) -> None:
    case = opened(helpline, "berry room")
    path = link_of(desk, case, kind="mechanic", language="es")
    stranger = desk.application.test_client()

    sheet = stranger.get(path)

    assert sheet.status_code == 200
    assert "Probable" in sheet.text
    assert re.search(r"\d+ F", sheet.text), sheet.text
    assert "<form" not in sheet.text
    assert "La conversación" not in sheet.text
    assert POWER[:30] not in sheet.text  # their own words are not for the trade
    assert sheet.headers["Cache-Control"] == "no-store"
    hour.at = NOON + timedelta(days=7, minutes=1)
    assert stranger.get(path).status_code == 404


def test_nobody_can_write_a_link_or_bend_one(desk: FlaskClient, helpline: Helpline) -> None:
    case, other = opened(helpline, "berry room"), opened(helpline, "other room")
    token = link_of(desk, case, kind="mechanic", language="en").removeprefix("/sheet/")
    told = token.split(".")
    bent = [
        ".".join([other, *told[1:]]),
        ".".join([told[0], "customer", *told[2:]]),
        ".".join([*told[:3], "9999999999", told[4]]),
        ".".join([*told[:4], told[4][:-1] + ("A" if told[4][-1] != "A" else "B")]),
        token + ".x",
        "x",
        "é.mechanic.en.1.é",
    ]
    assert [desk.get(f"/sheet/{one}").status_code for one in bent] == [404] * len(bent)


def test_the_customers_sheet_speaks_their_language(desk: FlaskClient, helpline: Helpline) -> None:
    case = helpline.open_case(
        client_id="es", at=NOON, text="el cuarto está a 12 C y lo quiero a 3 C", language="es"
    ).case
    assert "Lo que sabemos" in page_of(desk, f"/desk/cases/{case}/customer-sheet")


# -- words -----------------------------------------------------------------------------------------------------------


def test_every_word_of_the_desk_stands_in_both_languages() -> None:
    for section in SECTIONS:
        english, spanish = words_of(section, "en"), words_of(section, "es")
        assert all(english.values()), section
        assert all(spanish.values()), section
    same = {key for key, word in words_of("words", "en").items() if word == words_of("words", "es")[key]}
    assert same == {"held_no"}  # no is no


def test_no_template_asks_for_a_word_that_is_not_there() -> None:
    asked = set()
    for page in (Path(__file__).parents[2] / "channels" / "desk" / "pages" / "desk").glob("*.html"):
        asked |= set(re.findall(r"words\.(\w+)", page.read_text(encoding="utf-8")))
    assert asked <= set(words_of("words", "en"))
