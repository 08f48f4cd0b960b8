"""A whole message through `step` on our own knowledge, beside the choice alone. Long; run by `.ci/long`."""

import time  # noqa: TID251 - a bench takes times, and compares them only with one another
from datetime import UTC, datetime

import pytest

from assistant.reasoning import choose, weigh
from assistant.workbench.replay import Player
from kb.compiling import SHARES, compile_
from kb.knowledge import Knowledge

pytestmark = pytest.mark.long

TALKS = (
    (
        "cooler at 52, set to 38",
        "the filter is clean",
        "no ice",
        "blows strong",
        "only a bit cooler",
        "not sure",
    ),
    ("el cuarto no enfría, está en 12", "hay hielo en el serpentín", "está sucio", "no sé", "poco aire"),
)
MOST = 2


def test_a_whole_message_costs_little_more_than_choosing_once_among_everything(knowledge: Knowledge) -> None:
    # reading, sums, the reasons and the events come on top of belief over all pairs and the choice
    compiled = compile_(knowledge, SHARES)
    checks, fixes = list(knowledge.checks), list(knowledge.fixes)

    def stepped() -> float:
        begun = time.perf_counter()
        for talk in TALKS:
            player = Player(knowledge, datetime(2026, 7, 14, 14, tzinfo=UTC), "America/Chicago")
            player.begin(None)
            for text in talk:
                player.hear(text)
        return time.perf_counter() - begun

    def chosen() -> float:
        begun = time.perf_counter()
        choose(compiled, weigh(compiled, []), checks, fixes)
        return time.perf_counter() - begun

    stepped()
    texts = sum(len(talk) for talk in TALKS)
    whole, choice = min(stepped() for _ in range(5)) * 1e3 / texts, min(chosen() for _ in range(5)) * 1e3

    figures = f"{len(knowledge.causes)} causes: a step {whole:.1f} ms, one choice {choice:.1f} ms"
    print(figures)  # noqa: T201 - the figures are asked for
    assert whole <= MOST * choice
