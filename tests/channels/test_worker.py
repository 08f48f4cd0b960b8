import logging
import threading
from datetime import timedelta

import pytest

from assistant.helpline import Helpline
from channels.house import LogCourier
from channels.worker import work, work_once
from tests.channels.conftest import Hour


def test_a_round_does_what_is_due(helpline: Helpline) -> None:
    hour = Hour(helpline)
    opening = helpline.open_case(client_id="a1", at=hour.now(), text="ask me later")

    hour.at += timedelta(hours=4)
    assert work_once(helpline, hour)

    assert helpline.messages_after(opening.case)[-1].text == "How is it now?"


def test_a_round_that_fails_is_logged_and_the_next_one_goes_on(
    helpline: Helpline, caplog: pytest.LogCaptureFixture
) -> None:
    hour = Hour(helpline)
    with helpline.house.casebook.engine.begin() as connection:
        connection.exec_driver_sql("ALTER TABLE timer RENAME TO away")

    assert not work_once(helpline, hour)
    with helpline.house.casebook.engine.begin() as connection:
        connection.exec_driver_sql("ALTER TABLE away RENAME TO timer")

    assert "what is due stays due" in caplog.text
    assert work_once(helpline, hour)


def test_the_loop_ends_when_it_is_told_to(helpline: Helpline) -> None:
    stop = threading.Event()
    working = threading.Thread(target=work, args=(helpline, Hour(helpline), stop, timedelta(milliseconds=10)))

    working.start()
    stop.set()
    working.join(timeout=20)

    assert not working.is_alive()


def test_a_text_that_goes_to_the_log_leaves_no_words_and_no_number_there(
    caplog: pytest.LogCaptureFixture,
) -> None:
    with caplog.at_level(logging.INFO):
        LogCourier().send("+15125550100", "the words", "7", None)

    assert "…00" in caplog.text
    assert "555" not in caplog.text
    assert "words" not in caplog.text
