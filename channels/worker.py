"""The worker: what is due is done; promised hours come, texts go out, and what a crash left is taken up."""

import logging
import signal
import threading
from datetime import timedelta
from types import FrameType
from typing import Final

from assistant.helpline import CaseClock, Helpline

EVERY: Final = timedelta(seconds=2)
AFTER_FAULT: Final = timedelta(seconds=30)
"""A fault that stays, say a database that is away, is not hammered at."""
log = logging.getLogger("helpline.worker")


def work(helpline: Helpline, clock: CaseClock, stop: threading.Event, every: timedelta = EVERY) -> None:
    """Do what is due, again and again, until `stop` is set; a round that has begun is finished."""
    while not stop.is_set():
        stop.wait((every if work_once(helpline, clock) else AFTER_FAULT).total_seconds())


def work_once(helpline: Helpline, clock: CaseClock) -> bool:
    """One round; false if it failed, and the log says why."""
    try:
        done = helpline.run_due(clock.now())
    except Exception:  # the loop must outlive one bad round; nothing is lost, for what is due stays due
        log.exception("a round failed; what is due stays due")
        return False
    if done:
        log.info("%d done", done)
    return True


def stop_on_signals(stop: threading.Event) -> None:
    """SIGTERM and SIGINT end the loop after its round."""

    def end(_number: int, _frame: FrameType | None) -> None:
        stop.set()

    for number in (signal.SIGTERM, signal.SIGINT):
        signal.signal(number, end)
