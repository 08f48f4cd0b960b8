"""What is asked and offered: never what makes no sense now, what they have no tool for, or what they will not do."""

from collections.abc import Callable

import pytest

from assistant.conversation import apply
from assistant.conversation.deciding import QUESTIONS_MOST, askable
from assistant.conversation.events import (
    Asked,
    CheckLaidAside,
    DeskCalled,
    FixDeclined,
    FixOffered,
    WaitingFor,
)
from assistant.conversation.known import current_states
from assistant.conversation.turn import Turn
from kb.ids import CheckId, Language
from kb.schema import Effort
from tests.conversation.conftest import Talk

Begin = Callable[..., Talk]
OPENINGS: list[tuple[Language, str]] = [
    ("en", "my cooler is at 52, set to 38"),
    ("en", "there is some frost on the coil and it keeps coming back, 48, set to 36"),
    ("es", "mi cuarto está a 12 C y lo tengo a 3"),
    ("es", "sale poco aire y el cuarto está a 14 C, meta 4"),
]


def options_of(one: Talk) -> int:
    check = one.knowledge.checks[next(c for c in one.knowledge.checks if c == one.open_check)]
    return 0 if check.measures else len(check.offers or one.knowledge.findings[check.finds].states)


@pytest.mark.parametrize(("language", "opening"), OPENINGS)
@pytest.mark.parametrize("choice", [1, 2, 3])
def test_no_question_is_put_whose_conditions_are_not_met(
    talk: Begin, language: Language, opening: str, choice: int
) -> None:
    one = talk(opening, language=language)

    for _ in range(12):
        if one.open_check is None:
            break
        node = next(node for check, node in one.knowledge.checks.items() if check == one.open_check)
        states = current_states(one.knowledge, one.player.case, one.player.at)
        assert all(states.get(finding) in wanted for finding, wanted in node.only_if.items())
        assert not any(states.get(finding) in barred for finding, barred in node.unless.items())
        one.text(str(min(choice, options_of(one))) if options_of(one) else "skip")


def put(one: Talk, check: str) -> None:
    """The check as if it had just been asked."""
    case, at = one.player.case, one.player.at
    case = apply(case, Asked(at=at, check=CheckId(check), gain_bits=0.1))
    one.player.case = apply(case, WaitingFor(at=at, kind="check", check=CheckId(check)))


def could_ask(one: Talk, wanted: Callable[[Effort], bool]) -> set[str]:
    turn = Turn(knowledge=one.knowledge, case=one.player.case, at=one.player.at)
    return {check for check in askable(turn) if wanted(one.knowledge.checks[check].effort)}


@pytest.mark.parametrize(
    ("language", "refusal"),
    [
        ("en", "I'm not climbing up there"),
        ("en", "I won't do that"),
        ("es", "no me voy a subir ahí"),
        ("es", "no quiero hacer eso"),
    ],
)
def test_who_will_not_go_there_is_not_sent_there_again(talk: Begin, language: Language, refusal: str) -> None:
    openings = {
        "en": "cooler 52, set to 38, only on hot afternoons. it never rests. no ice. worked fine for years",
        "es": "el cuarto a 12 C, meta 3, peor en las tardes de calor. el compresor nunca descansa. sin hielo",
    }
    one = talk(openings[language], language=language)
    put(one, "look_at_outdoor_fan")

    before = could_ask(one, lambda effort: effort.where == "outside")

    one.text(refusal)

    assert one.events(CheckLaidAside)[-1].reason == "cannot"
    assert len(before) >= 3
    assert not could_ask(one, lambda effort: effort.where == "outside")
    assert could_ask(one, lambda effort: effort.where == "at the unit")


@pytest.mark.parametrize(
    ("language", "without"), [("en", "I have no thermometer"), ("es", "no tengo termómetro")]
)
def test_who_has_no_thermometer_is_not_asked_to_use_one(
    talk: Begin, language: Language, without: str
) -> None:
    openings = {
        "en": "display says 38 but the product feels warm, I think the display is wrong",
        "es": "la pantalla dice 3 pero el producto se siente caliente, creo que la pantalla está mal",
    }
    one = talk(openings[language], language=language)
    put(one, "compare_thermometer")
    before = could_ask(one, lambda effort: "thermometer" in effort.tools)

    one.text(without)

    assert len(before) >= 2
    assert not could_ask(one, lambda effort: "thermometer" in effort.tools)


def test_a_fix_that_they_will_not_do_is_never_offered_again(talk: Begin) -> None:
    one = talk("room 52, set to 38, the filter is clogged, air is weak")
    assert one.events(FixOffered)

    one.text("cannot")
    for _ in range(10):
        if one.open_check is None and one.state != "fixing":
            break
        one.text("cannot")

    assert one.events(FixDeclined)
    offered = [event.fix for event in one.events(FixOffered)]
    assert len(offered) == len(set(offered))


@pytest.mark.parametrize(("language", "opening"), OPENINGS)
def test_who_cannot_answer_is_asked_half_as_much_and_then_gets_a_person_or_a_fix(
    talk: Begin, language: Language, opening: str
) -> None:
    one = talk(opening, language=language)

    for _ in range(QUESTIONS_MOST + 2):
        if one.open_check is None:
            break
        one.text("not sure" if language == "en" else "no sé")

    assert len(one.events(Asked)) <= QUESTIONS_MOST / 2 + 1
    assert len(one.events(DeskCalled)) + len(one.events(FixOffered)) > 0
