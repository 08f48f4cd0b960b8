"""One message from a customer: read, remembered, and answered. The order here is the order of what matters."""

from typing import Final

from assistant.conversation import danger
from assistant.conversation.after_close import hear_after_close, reopen
from assistant.conversation.asking import drop_reminders
from assistant.conversation.deciding import go_on, speaks_against
from assistant.conversation.events import CheckLaidAside, FixDeclined, Heard, LanguageChosen
from assistant.conversation.finishing import seems_done
from assistant.conversation.following_up import LIKELIER_THAN_NOT, at_target, judge_number
from assistant.conversation.handing_over import call_desk
from assistant.conversation.happenings import MessageHeard
from assistant.conversation.hearing import TakenIn, take_in
from assistant.conversation.ids import ASSISTANT
from assistant.conversation.kindness import speak_kindly
from assistant.conversation.known import unit_of
from assistant.conversation.moves import make_moves, only_moves
from assistant.conversation.pending import as_read, put_again
from assistant.conversation.photos import take_photos, thank_for_photo
from assistant.conversation.product_clock import run_clock, speak_of_food
from assistant.conversation.remembering import greet_again, say_carried
from assistant.conversation.replies import keep_answer, take_answer, yes_or_no
from assistant.conversation.room_readings import ROOM
from assistant.conversation.second_look import ask_back, contradicts
from assistant.conversation.trending import tell_trend
from assistant.conversation.turn import Turn
from assistant.conversation.watching import watch_goes_on
from assistant.reading import OpenQuestion, Reading, read
from assistant.wording import bare, sentence_list
from kb.ids import HazardId

SWITCH_FROM: Final = 0.85
"""The language of replies follows the person only when a whole message is surely in the other one."""

SWITCH_WORDS: Final = 3
MISREAD_MOST: Final = 3
"""After so many messages in a row that told us nothing, a person is better (common practice, no source)."""

SAID_BACK_AT_ONCE: Final = 5


def hear(turn: Turn, heard: MessageHeard) -> None:
    """Everything that follows from one message."""
    turn.urgent = True
    if heard.photos:
        take_photos(turn, heard)
    if heard.photos and not heard.text.strip():
        _photo_alone(turn, heard)
        return
    _hear_words(turn, heard)
    if heard.photos and turn.case.voice == ASSISTANT:
        thank_for_photo(turn)


def _photo_alone(turn: Turn, heard: MessageHeard) -> None:
    """A picture answers nothing: what was asked still stands."""
    turn.add(
        Heard(at=turn.at, message=heard.message, language=turn.language, answered=True)
    )  # nothing was misread
    drop_reminders(turn)
    if turn.case.state == "closed":
        reopen(turn)
    if turn.case.voice != ASSISTANT:
        return
    if turn.case.state != "danger" and turn.case.times_said("opening") == 0:
        turn.say("opening", alone=True)
        say_carried(turn)
    thank_for_photo(turn)
    if turn.case.state == "danger":
        turn.say("danger_stay")
    elif turn.case.waiting_for is not None:
        put_again(turn)
    elif turn.case.state == "asking":
        turn.say("opening_ask")
        turn.wait_for("opening")


def _hear_words(turn: Turn, heard: MessageHeard) -> None:
    before = turn.case.last_heard_at
    reading = _read(turn, heard.text)
    _choose_language(turn, reading, heard.text)
    event = _note(turn, reading, heard)
    is_back = turn.case.state == "closed"
    if is_back and _answers_after_close(turn, reading, heard):
        return
    if turn.case.voice != ASSISTANT:
        keep_answer(turn, reading, heard.message)
        take_in(turn, reading, heard.message)
        danger.meet_hazards(turn, reading, heard.message)
        return
    if turn.case.state == "danger":
        _in_danger(turn, reading, heard, event)
        return
    if is_back:
        greet_again(turn, before)
    _introduce(turn, reading)
    if danger.meet_hazards(turn, reading, heard.message):
        keep_answer(turn, reading, heard.message)
        take_in(turn, reading, heard.message)
        return
    if "thanks" not in reading.moves or not only_moves(reading):
        speak_kindly(turn, heard.text)
    if only_moves(reading) and not _tells_of_fix(turn, reading) and make_moves(turn, reading, learned=False):
        return
    answered = take_answer(turn, reading, heard.message)
    if answered.over:
        return
    taken = take_in(turn, reading, heard.message, but=answered.finding)
    run_clock(turn)
    if not (taken.anything or answered.taken) and contradicts(turn, heard.text, reading, heard.message):
        _after_news(turn)
        return
    speak_of_food(turn)
    _reply(turn, reading, heard, taken, went_on=answered.taken)


def _answers_after_close(turn: Turn, reading: Reading, heard: MessageHeard) -> bool:
    """They answer what was asked after the case was closed, and it stays as it is, or is for a person; else it goes on."""
    waiting = turn.case.waiting_for
    if waiting is not None and waiting.kind == "consent" and yes_or_no(reading) is not None:
        take_answer(turn, reading, heard.message)
        return True
    return hear_after_close(turn, reading)


def _tells_of_fix(turn: Turn, reading: Reading) -> bool:
    """In the middle of a fix "it works now" tells of the fix."""
    waiting = turn.case.waiting_for
    return waiting is not None and waiting.kind == "done" and "holds" in reading.moves


def _read(turn: Turn, text: str) -> Reading:
    waiting = turn.case.waiting_for
    reading = _read_against(turn, text, as_read(turn))
    if waiting is not None and waiting.kind == "consent" and yes_or_no(reading) is None:
        return _read_against(turn, text, OpenQuestion(number_of=waiting.quantity))
    return reading


def _read_against(turn: Turn, text: str, about: OpenQuestion | None) -> Reading:
    units = unit_of(turn.case) if turn.case.numbers else None
    return read(
        turn.knowledge,
        text,
        about=about,
        language=turn.case.language,
        units=units,
        last_thing=turn.case.last_thing,
        met=frozenset(HazardId(met) for met in turn.case.hazards_met),
    )


def _choose_language(turn: Turn, reading: Reading, text: str) -> None:
    if turn.case.language is None or (
        reading.language != turn.case.language
        and reading.language_confidence >= SWITCH_FROM
        and len(text.split()) >= SWITCH_WORDS
    ):
        turn.add(LanguageChosen(at=turn.at, language=reading.language))


def _note(turn: Turn, reading: Reading, heard: MessageHeard) -> Heard:
    told = bool(
        reading.findings or reading.quantities or reading.complaints or reading.hazards or reading.moves
    )
    event = Heard(
        at=turn.at,
        message=heard.message,
        language=reading.language,
        unread=tuple((unread.span.start, unread.span.end) for unread in reading.unread),
        moves=tuple(reading.moves),
        answered=told or reading.answer.kind != "none",
        last_thing=reading.last_thing,
    )
    turn.add(event)
    drop_reminders(turn)
    return event


def _in_danger(turn: Turn, reading: Reading, heard: MessageHeard, event: Heard) -> None:
    take_in(turn, reading, heard.message)
    if not danger.meet_hazards(turn, reading, heard.message):
        danger.stay_stopped(turn, event)


def _introduce(turn: Turn, reading: Reading) -> None:
    """Who answers, that it is an assistant, how to get a person, who to call: once, before anything else but danger."""
    urgent = any(turn.knowledge.hazards[said.hazard].level == "danger" for said in reading.hazards)
    if turn.case.times_said("opening") == 0 and not urgent:
        turn.say("opening", alone=True)
        say_carried(turn)


def _reply(turn: Turn, reading: Reading, heard: MessageHeard, taken: TakenIn, *, went_on: bool) -> None:
    if make_moves(turn, reading, learned=taken.anything):
        return
    if taken.absurd is not None and taken.absurd.quantity is not None:
        what = turn.knowledge.quantities[taken.absurd.quantity].means.in_(turn.language)
        turn.say("absurd_number", value=_number(taken.absurd.value, taken.absurd.unit), what=what)
        turn.wait_for("number", quantity=taken.absurd.quantity)
        return
    if taken.bare_number is not None and taken.bare_number.quantity is not None:
        turn.say("which_unit", value=bare(taken.bare_number.value), options=(("F", "F"), ("C", "C")))
        turn.wait_for("which_unit", quantity=taken.bare_number.quantity, value=taken.bare_number.value)
        return
    if ROOM in taken.numbers and taken.pieces == 1 and _judges_fix(turn):
        return
    if ROOM in taken.numbers and seems_done(turn):
        return
    _say_back(turn, taken)
    if ROOM in taken.numbers and taken.pieces > 1 and _judges_fix(turn):
        return
    if turn.case.state == "with_person" and not went_on:
        turn.say("person_waits")
    elif taken.anything or went_on:
        _after_news(turn)
    else:
        _nothing_learned(turn, heard, reading)


def _number(value: float, unit: str | None) -> str:
    return f"{value:g} {unit}" if unit else f"{value:g}"


def _judges_fix(turn: Turn) -> bool:
    """A number after a fix was done is its proof, and after that the proof that it holds, asked for or not."""
    fix = turn.case.fixes[-1] if turn.case.fixes else None
    number = turn.case.latest_number(ROOM)
    if fix is None or fix.done_at is None or number is None:
        return False
    if fix.worked is not None and fix.worked < LIKELIER_THAN_NOT and not at_target(turn, number):
        return False
    if judge_number(turn, fix, number):
        go_on(turn)
    return True


def _say_back(turn: Turn, taken: TakenIn) -> None:
    """What was understood, with numbers: after a first message and whenever several things were said at once."""
    if taken.echoed:
        facts = sentence_list(taken.echoed[:SAID_BACK_AT_ONCE], turn.language)
        turn.say("corrected" if taken.corrected else "say_back", facts=facts)
    elif taken.anything and turn.case.heard > 1:
        turn.say("noted")


def _after_news(turn: Turn) -> None:
    """Something was learnt: a fix under way goes on unless the news settles it; else the next question."""
    waiting = turn.case.waiting_for
    if waiting is not None and waiting.kind == "done" and waiting.fix is not None and speaks_against(turn):
        turn.say("fix_withdrawn")
        turn.add(FixDeclined(at=turn.at, fix=waiting.fix))
        go_on(turn)
    elif waiting is not None and waiting.kind in ("done", "hazard_done", "hazard_sign"):
        put_again(turn)
    elif not watch_goes_on(turn):
        tell_trend(turn)
        go_on(turn)


def _nothing_learned(turn: Turn, heard: MessageHeard, reading: Reading) -> None:
    if ask_back(turn, heard.text, reading):
        return
    if turn.case.misread >= MISREAD_MOST:
        turn.say("not_understood_person")
        call_desk(turn, "not_understood")
        return
    empty = not any(character.isalnum() for character in heard.text)
    turn.say("nothing_to_read" if empty else "did_not_get")
    waiting = turn.case.waiting_for
    if waiting is None:
        turn.say("opening_ask")
        turn.wait_for("opening")
    elif waiting.kind == "opening" and turn.case.misread > 1:
        turn.wait_for("nothing")  # their own words were not read twice: choices may be
        go_on(turn, whatever_is_known=True)
    elif waiting.kind == "check" and waiting.check is not None and turn.case.misread > 1:
        turn.add(CheckLaidAside(at=turn.at, check=waiting.check, reason="unanswered"))
        turn.say("leave_that")
        go_on(turn)
    else:
        put_again(turn)
