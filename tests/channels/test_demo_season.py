"""The demo's season: the record that comes with the program can be put in, read and worked with."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from sqlalchemy import select

from assistant.casebook import Casebook, closings, load_case, open_engine, people, upgrade
from assistant.casebook.tables import AddressRow, CaseRow, PersonalTextRow, TimerRow
from assistant.helpline import Conversing, Editions, Helpline, House, conversing_with
from assistant.helpline.harvest import closed_logs
from assistant.helpline.keys import digest
from assistant.thread import Place
from assistant.workbench.learning_cases import closed_case
from channels.demo.people import Customer
from channels.demo.playing import Play
from channels.demo.recording import put_in
from channels.demo.season import _play
from channels.demo.stories import our_region, our_stories
from channels.knowledge import our_knowledge
from channels.sms import Pocket

NOW = datetime(2027, 3, 2, 15, 30, tzinfo=UTC)
KEY = b"another server's key"


@pytest.fixture(scope="module")
def conversing() -> Conversing:
    return conversing_with(our_knowledge())


@pytest.fixture(scope="module")
def valley(tmp_path_factory: pytest.TempPathFactory, conversing: Conversing) -> Iterator[Helpline]:
    engine = open_engine(f"sqlite:///{tmp_path_factory.mktemp('valley') / 'x.sqlite3'}")
    upgrade(engine)
    helpline = Helpline(House(casebook=Casebook(engine), editions=Editions(conversing), key=KEY))
    early = helpline.open_case(client_id="early", at=NOW, text="52 F", language="en").case
    put_in(Casebook(engine), KEY, NOW)
    helpline.close(early, "Robin", NOW)  # who wrote before the season was put in keeps their place
    yield helpline
    engine.dispose()


def test_the_season_is_long_and_over_before_today(valley: Helpline) -> None:
    with valley.house.casebook.reading() as session:
        cases = session.scalars(select(CaseRow)).all()

    assert len(cases) >= 150
    assert sorted(case.opened_at for case in cases)[-2] < NOW
    assert min(case.opened_at for case in cases) < NOW - timedelta(days=60)
    assert {case.state for case in cases} == {"closed"}
    assert {case.channel for case in cases} == {"sms", "web", "call"}


def test_every_recorded_case_folds_with_todays_program(valley: Helpline) -> None:
    with valley.house.casebook.reading() as session:
        for case in session.scalars(select(CaseRow.id)):
            folded, _ = load_case(session, case)
            assert folded.closed is not None
            assert folded.heard > 0


def test_what_was_confirmed_is_known_to_the_knowledge(valley: Helpline) -> None:
    """A record that names causes which are gone is to be made again: `helpline demo record`."""
    with valley.house.casebook.reading() as session:
        ended = closings.closings(session)

    assert {one.cause for one in ended if one.cause} <= set(map(str, our_knowledge().causes))
    assert {one.fix for one in ended if one.fix} <= set(map(str, our_knowledge().fixes))
    assert sum(one.held is True for one in ended) > 10
    assert any(one.is_new for one in ended)


def test_nothing_recorded_is_still_on_its_way(valley: Helpline) -> None:
    with valley.house.casebook.reading() as session:
        assert session.scalars(select(TimerRow)).all() == []
    assert valley.desk_list() == ()


def test_every_number_of_the_record_is_one_that_is_kept_for_fiction(valley: Helpline) -> None:
    """North American Numbering Plan: 555-0100 to 555-0199."""
    with valley.house.casebook.reading() as session:
        numbers = session.scalars(select(PersonalTextRow.text).where(PersonalTextRow.kind == "number")).all()

    assert numbers
    assert all(number[5:10] == "55501" and len(number) == 12 for number in numbers)


def test_a_number_is_found_again_under_another_key(valley: Helpline) -> None:
    with valley.house.casebook.reading() as session:
        row = session.scalars(select(AddressRow).limit(1)).one()
        number = session.scalars(
            select(PersonalTextRow.text).where(
                PersonalTextRow.kind == "number", PersonalTextRow.owner == row.id
            )
        ).one()
        assert people.find_address(session, "sms", digest(KEY, "address", "sms", number)) is not None


def test_the_season_teaches(valley: Helpline) -> None:
    logs = closed_logs(valley.house)
    lessons = [closed_case(our_knowledge(), [event for _, event in log]) for log in logs]

    taught = [lesson for lesson in lessons if lesson is not None]
    assert sum(lesson.sure == 1.0 for lesson in taught) > 40
    assert any("filter" in lesson.seen for lesson in taught)


def test_the_stories_speak_the_knowledges_words() -> None:
    knowledge = our_knowledge()
    for story in our_stories():
        assert not story.cause or story.cause in knowledge.causes, story.story
        for finding, state in story.facts.items():
            assert state in knowledge.findings[finding].states, (story.story, finding, state)
        assert set(story.says) <= set(story.facts), story.story
        assert set(story.numbers) <= set(knowledge.quantities), story.story


def test_a_customer_plays_their_case_to_its_end(tmp_path: Path, conversing: Conversing) -> None:
    """The same use cases as in the record, with today's knowledge."""
    engine = open_engine(f"sqlite:///{tmp_path / 'one.sqlite3'}")
    upgrade(engine)
    home = Place(zone="America/Denver", region="911")
    helpline = Helpline(
        House(casebook=Casebook(engine), editions=Editions(conversing), key=KEY, courier=Pocket(), home=home)
    )
    story = next(one for one in our_stories() if one.story == "dirty filter")
    customer = Customer(
        number=1, name="June", language="en", room=our_region().rooms.en[0], place="Alder Fork",
        address="+19705550101", on_the_line=False, story=story, lasts=22,
    )  # fmt: skip
    play = Play(helpline, our_knowledge(), customer, NOW - timedelta(days=9))

    _play(helpline, (play,), until=NOW)

    with helpline.house.casebook.reading() as session:
        case, _ = load_case(session, play.case)
    engine.dispose()
    assert case.closed is not None
    assert case.closed.colleague is not None or case.fixes
