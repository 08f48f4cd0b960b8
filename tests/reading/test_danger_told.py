"""Dangers told by several words together; what denial, time, mending, intent and spelling leave of them.

The sentences are ours, in the manner of people who text us.
"""

from itertools import product
from pathlib import Path

import pytest

from assistant.reading import Reading, read
from assistant.reading.labelled import set_files, texts_of
from assistant.reading.lexicon import lexicon_of
from assistant.reading.thresholds import SAY_BACK
from assistant.thread import service_word
from kb.knowledge import Knowledge
from tests.reading.conftest import Says
from tests.reading.ways import hazards

PEOPLE = Path(__file__).parent.parent / "people"


def surely(reading: Reading) -> set[str]:
    """Heard well enough to act on."""
    return {str(said.hazard) for said in reading.hazards if said.confidence >= SAY_BACK}


@pytest.mark.parametrize(
    ("text", "hazard"),
    [
        ("Uncle Theo went to fetch crates, that was an hour ago and the door sticks", "shut_in"),
        ("the door sticks, that was an hour ago, Uncle Theo went to fetch crates", "shut_in"),
        ("mi sobrino fue por lechugas, la puerta se pega y no contesta", "shut_in"),
        ("behind me the latch snapped and now it does nothing", "shut_in_self"),
        ("the new girl is mumbling, she was in the walk in since lunch", "cold_person"),
        ("we have a mower idling just inside the packing shed and I feel queasy", "carbon_monoxide"),
        ("nicked the copper with my drill", "refrigerant"),
        ("he leaned against the frame and felt a jolt", "tingle"),
        ("the socket has gone brown and saggy", "hot_plug"),
        ("crackling comes from the breaker box", "burning_smell"),
        ("I flipped it back and the breaker dropped again, second time", "breaker_again"),
        ("the hose is spraying onto the power strip", "water_live"),
    ],
)
def test_words_tell_a_danger_together_in_any_order(says: Says, text: str, hazard: str) -> None:
    assert hazard in surely(says(text))


@pytest.mark.parametrize(
    "text",
    [
        "I'm going to pop the cover",
        "can I jump the pressure switch?",
        "should I unscrew the side panel",
        "voy a brincar el switch de presión",
        "¿le puedo puentear el presostato?",
        "if I bypass the float switch will it run",
        "I want to swap the capacitor",
    ],
)
def test_what_somebody_means_to_do_counts_as_much_as_doing_it(says: Says, text: str) -> None:
    assert "cover_bypass" in surely(says(text))


@pytest.mark.parametrize(
    "text",
    [
        "I will not open any cover",
        "no voy a quitar la tapa",
        "the electrician is going to open the panel tomorrow",
        "I would never bypass the pressure switch",
        "ni loco abro la tapa de atrás",
        "I pulled the filter cover off and washed it",
    ],
)
def test_what_nobody_here_will_do_is_no_danger(says: Says, text: str) -> None:
    assert "cover_bypass" not in hazards(says(text))


@pytest.mark.parametrize(
    "text", ["what if smoke comes out?", "if the plug melts I will call", "si se inunda la llamo"]
)
def test_what_is_only_supposed_is_none(says: Says, text: str) -> None:
    assert not hazards(says(text))


@pytest.mark.parametrize(
    "text",
    [
        "the outlet was melted in spring and the electrician replaced it, fine since",
        "el contacto estaba quemado y ya lo cambiaron",
        "there was thunder last night and the power blinked",
    ],
)
def test_what_is_over_and_mended_is_none(says: Says, text: str) -> None:
    assert not hazards(says(text))


def test_mended_once_and_bad_again_is_a_danger(says: Says) -> None:
    assert "hot_plug" in surely(says("the electrician replaced it and now the plug is melted again"))


def test_what_explains_a_smell_does_not_where_it_is_only_likened_to_it_or_our_machine_is_named(
    says: Says,
) -> None:
    assert not hazards(says("the neighbors are roasting coffee and it smells burnt here"))
    assert "burning_smell" in surely(says("smells like burnt toast when it starts"))
    assert "burning_smell" in hazards(says("we roast coffee but the compressor smells burnt"))


def test_of_two_rivals_the_longer_words_decide(says: Says) -> None:
    assert hazards(says("I'm locked in the cooler")) == {"shut_in_self"}
    assert hazards(says("my son is locked in the cooler")) == {"shut_in"}


def test_nobody_is_told_not_to_touch_who_is_only_shut_in(says: Says) -> None:
    for text in (
        "she is stuck in the walk in and the handle broke",
        "se quedó trabada la puerta con ella adentro",
    ):
        assert "held_by_current" not in hazards(says(text))


DENIED = {
    "en": (
        ("there is no {}", "no {} at all", "I don't see any {}", "never had {}", "without any {}"),
        (
            "smoke",
            "sparks",
            "burning smell",
            "hissing",
            "dry ice",
            "tingle",
            "mouse droppings",
            "wasps",
            "fire",
        ),
    ),
    "es": (
        ("no hay {}", "no tengo {}", "nada de {}", "sin {}", "no veo {}"),
        ("humo", "chispas", "olor a quemado", "hielo seco", "avispas", "fuego", "silbido"),
    ),
}


@pytest.mark.parametrize(
    "text",
    [frame.format(what) for frames, whats in DENIED.values() for frame, what in product(frames, whats)],
)
def test_what_is_denied_never_alarms(says: Says, text: str) -> None:
    assert not hazards(says(text))


def slips(word: str) -> set[str]:
    """The word with two letters changed about, one left out, or one twice, at three places."""
    places = sorted({1, len(word) // 2, len(word) - 2})
    swapped = {word[:at] + word[at + 1] + word[at] + word[at + 2 :] for at in places}
    left_out = {word[:at] + word[at + 1 :] for at in places}
    return (swapped | left_out | {word[:at] + word[at] + word[at:] for at in places}) - {word}


HARMLESS = [one for one in texts_of(set_files([PEOPLE])) if not one.hazards and "near_miss" not in one.kinds]


@pytest.mark.parametrize("part", range(8))
def test_a_slip_of_the_thumb_invents_no_danger_and_no_opt_out(knowledge: Knowledge, part: int) -> None:
    """Slips that are words themselves may mean what they say; all others are put right or left unread."""
    speller = lexicon_of(knowledge).speller
    for text in HARMLESS[part::64]:
        words = text.text.split()
        known = surely(read(knowledge, text.text))
        for at, word in enumerate(words):
            if not (word.isalpha() and len(word) > 3):
                continue
            for slip in slips(word):
                if slip.lower() in speller.known | speller.ordinary:
                    continue
                slipped = " ".join([*words[:at], slip, *words[at + 1 :]])
                assert surely(read(knowledge, slipped)) <= known, slipped
                assert service_word(slipped, opted_out=False, answers=False) is None
