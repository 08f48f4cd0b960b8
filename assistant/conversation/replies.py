"""The reply to the open question, kind by kind: taken, taken and said back, or asked again; never filed silently."""

from dataclasses import dataclass

from assistant.conversation import danger
from assistant.conversation.consenting import answer_leave, expect_number
from assistant.conversation.deciding import go_on
from assistant.conversation.events import FactLearned, FixJudged, WaitingFor
from assistant.conversation.finishing import to_done
from assistant.conversation.following_up import judge_check, judge_number
from assistant.conversation.handing_over import close
from assistant.conversation.hearing import learn_implied, learn_number, take_in
from assistant.conversation.ids import MessageId
from assistant.conversation.known import fact_said, unit_of
from assistant.conversation.moves import lay_aside
from assistant.conversation.pending import UNITS
from assistant.conversation.sums import do_sums
from assistant.conversation.turn import Turn
from assistant.conversation.watching import begin_watch
from assistant.engineering import celsius_of
from assistant.reading import SAY_BACK, TAKE, Answer, QuantitySaid, Reading
from kb.ids import FindingId, QuantityId, StateId


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """What became of the open question."""

    taken: bool = False
    over: bool = False
    """The turn is over: everything that follows has been said."""
    finding: FindingId | None = None
    """The finding that the answer was about, so that it is not taken in twice."""


NOTHING = Taken()
DONE_WITH = Taken(taken=True, over=True)


def take_answer(turn: Turn, reading: Reading, message: MessageId) -> Taken:
    """Take the reply to the open question, if it is one."""
    waiting = turn.case.waiting_for
    if waiting is None:
        return NOTHING
    if waiting.kind in ("done", "hazard_done", "made_safe", "hazard_sign", "resolved"):
        return _to_deed(turn, waiting, reading, message)
    match waiting.kind:
        case "check":
            return _to_check(turn, waiting, reading, message)
        case "say_back":
            return _to_say_back(turn, waiting, reading, message)
        case "number":
            return _to_number(turn, waiting, reading, message)
        case "which_unit":
            return _to_which_unit(turn, waiting, reading, message)
        case "consent":
            return _to_consent(turn, waiting, reading, message)
        case _:
            return NOTHING


def _to_deed(turn: Turn, waiting: WaitingFor, reading: Reading, message: MessageId) -> Taken:
    """Replies that tell what was done, or what came of it."""
    match waiting.kind:
        case "done":
            return DONE_WITH if to_done(turn, waiting, reading, message) else NOTHING
        case "hazard_done":
            return _to_hazard_done(turn, waiting, reading)
        case "made_safe":
            return _to_made_safe(turn, waiting, reading, message)
        case "hazard_sign":
            return _to_sign(turn, waiting, reading.answer, message)
        case _:
            return _to_resolved(turn, waiting, reading)


def keep_answer(turn: Turn, reading: Reading, message: MessageId) -> None:
    """Remember a clear answer to an open check, and say nothing of it: a hazard has the word."""
    asked = turn.case.asked[-1] if turn.case.asked else None
    if asked is None or reading.answer.kind != "state" or reading.outcome != "take":
        return
    node = turn.knowledge.checks.get(asked.check)
    if node is not None and reading.answer.state in node_states(turn, node.finds):
        waiting = WaitingFor(at=turn.at, kind="check", check=asked.check)
        _learn(turn, waiting, node.finds, StateId(str(reading.answer.state)), reading.answer, message)


def yes_or_no(reading: Reading) -> str | None:
    """The reply to a plain question, by its option or by the word."""
    if reading.answer.kind == "state" and reading.answer.state in ("yes", "no"):
        return reading.answer.state
    return next((move for move in reading.moves if move in ("yes", "no")), None)


def node_states(turn: Turn, finding: FindingId) -> tuple[str, ...]:
    """The states of a finding."""
    return tuple(str(state) for state in turn.knowledge.findings[finding].states)


def _to_check(turn: Turn, waiting: WaitingFor, reading: Reading, message: MessageId) -> Taken:
    answer, check = reading.answer, waiting.check
    if check is None or check not in turn.knowledge.checks:
        return NOTHING
    node = turn.knowledge.checks[check]
    if answer.kind in ("unsure", "cannot"):
        lay_aside(answer.kind, f"{answer.kind}_ok")(turn)
        return DONE_WITH
    if answer.kind == "number" and node.measures is not None:
        return _number_given(turn, waiting, reading, message, node.measures)
    if answer.kind != "state" or answer.state is None:
        return NOTHING
    state = StateId(answer.state)
    if answer.confidence < TAKE and _tells_something_else(reading, node.finds):
        return NOTHING
    if answer.confidence < TAKE:
        take_in(turn, reading, message, but=node.finds)
        words = fact_said(turn.knowledge, node.finds, state, turn.language)
        turn.say("say_back_ask", facts=words, options=danger.yes_no(turn))
        turn.wait_for("say_back", check=check, finding=node.finds, state=state, fix=waiting.fix)
        return DONE_WITH
    _learn(turn, waiting, node.finds, state, answer, message)
    return _after_fact(turn, waiting, state, node.finds)


def _tells_something_else(reading: Reading, finding: FindingId) -> bool:
    """What is only like an answer is none where the same words surely tell of another thing."""
    if any(one.quantity is not None and one.confidence >= SAY_BACK for one in reading.quantities):
        return True
    sure = [said for said in reading.findings if said.when == "now" and said.confidence >= SAY_BACK]
    return any(said.finding != finding for said in sure)


def _learn(
    turn: Turn, waiting: WaitingFor, finding: FindingId, state: StateId, answer: Answer, message: MessageId
) -> None:
    states = turn.knowledge.findings[finding].states
    shares = {str(name): answer.likelihood.get(str(name), 0.0) for name in states}
    if not any(shares.values()):
        shares = {str(name): float(name == state) for name in states}
    before = turn.case.latest_fact(finding)
    turn.add(
        FactLearned(
            at=turn.at,
            finding=finding,
            state=state,
            likelihood=tuple((StateId(name), share) for name, share in shares.items()),
            confidence=answer.confidence,
            source="answer",
            check=waiting.check,
            message=message,
            epoch=turn.case.epoch,
            replaces=before is not None and before.epoch == turn.case.epoch and before.state != state,
        )
    )
    learn_implied(turn, finding)


def _after_fact(turn: Turn, waiting: WaitingFor, state: StateId, finding: FindingId) -> Taken:
    turn.wait_for("nothing")
    if waiting.fix is None:
        return Taken(taken=True, finding=finding)
    if judge_check(turn, waiting.fix, state):
        go_on(turn)
    return DONE_WITH


def _to_say_back(turn: Turn, waiting: WaitingFor, reading: Reading, message: MessageId) -> Taken:
    said = yes_or_no(reading)
    if said is None and waiting.hazard is not None and reading.answer.kind == "unsure":
        said = "yes"  # who does not know whether there is danger is treated as if there were
    if said is None:
        return NOTHING
    turn.wait_for("nothing")
    if waiting.hazard is not None:
        if said == "yes":
            danger.raise_confirmed(turn, waiting.hazard, message)
            return DONE_WITH
        turn.say("hazard_not_so")
        return Taken(taken=True)
    if waiting.finding is None or waiting.state is None:
        return NOTHING
    if said == "yes":
        sure = Answer(kind="state", state=waiting.state, confidence=1.0)
        _learn(turn, waiting, waiting.finding, waiting.state, sure, message)
        return _after_fact(turn, waiting, waiting.state, waiting.finding)
    turn.say("taken_back")
    return Taken(taken=True)


def _to_number(turn: Turn, waiting: WaitingFor, reading: Reading, message: MessageId) -> Taken:
    if reading.answer.kind in ("unsure", "cannot"):
        lay_aside("unsure" if reading.answer.kind == "unsure" else "cannot", f"{reading.answer.kind}_ok")(
            turn
        )
        return DONE_WITH
    if reading.answer.kind != "number" or waiting.quantity is None:
        return NOTHING
    return _number_given(turn, waiting, reading, message, waiting.quantity)


def _number_given(
    turn: Turn, waiting: WaitingFor, reading: Reading, message: MessageId, quantity: QuantityId
) -> Taken:
    """A number for the open question; other numbers of the same message are kept by `take_in`."""
    answer, node = reading.answer, turn.knowledge.quantities[quantity]
    if any(said.quantity == quantity for said in reading.quantities) or answer.value is None:
        return Taken(taken=True)  # read with its role: `take_in` records it, with its unit and range
    unit = answer.unit or (unit_of(turn.case) if node.kind == "temperature" and turn.case.numbers else None)
    if unit is None and node.kind == "temperature":
        turn.say("which_unit", value=f"{answer.value:g}", options=UNITS)
        turn.wait_for("which_unit", quantity=quantity, value=answer.value, fix=waiting.fix)
        return DONE_WITH
    return _number_settled(turn, quantity, answer.value, unit or "", message)


def _number_settled(turn: Turn, quantity: QuantityId, value: float, unit: str, message: MessageId) -> Taken:
    node = turn.knowledge.quantities[quantity]
    si = celsius_of(value) if unit == "F" else value
    if not node.at_least <= si <= node.at_most:
        turn.say("absurd_number", value=f"{value:g} {unit}".strip(), what=node.means.in_(turn.language))
        turn.wait_for("number", quantity=quantity)
        return DONE_WITH
    learn_number(
        turn, QuantitySaid(quantity=quantity, value=value, unit=unit, si=si), message, replaces=False
    )
    do_sums(turn, frozenset({quantity}))
    turn.wait_for("nothing")
    return _proof(turn) or Taken(taken=True)


def _proof(turn: Turn) -> Taken | None:
    """The number is the proof of a fix that was done."""
    fix = turn.case.fixes[-1] if turn.case.fixes else None
    number = turn.case.numbers[-1]
    if fix is None or fix.done_at is None or number.quantity != "room_c":
        return None
    if judge_number(turn, fix, number):
        go_on(turn)
    return DONE_WITH


def _to_which_unit(turn: Turn, waiting: WaitingFor, reading: Reading, message: MessageId) -> Taken:
    unit = reading.answer.state or next(
        (said.unit for said in reading.quantities if said.unit in ("F", "C")), None
    )
    if unit not in ("F", "C") or waiting.quantity is None or waiting.value is None:
        return NOTHING
    return _number_settled(turn, waiting.quantity, waiting.value, unit, message)


def _to_hazard_done(turn: Turn, waiting: WaitingFor, reading: Reading) -> Taken:
    if waiting.hazard is None or not {"done", "yes"} & set(reading.moves):
        return NOTHING
    danger.clear(turn, waiting.hazard, "customer")
    turn.wait_for("nothing")
    turn.say("hazard_over")
    return Taken(taken=True)


def _to_made_safe(turn: Turn, waiting: WaitingFor, reading: Reading, message: MessageId) -> Taken:
    said = "no" if reading.answer.kind in ("unsure", "cannot") else yes_or_no(reading)
    if waiting.hazard is None or (said is None and "done" not in reading.moves):
        return NOTHING
    turn.wait_for("nothing")
    if said == "no":
        danger.not_safe_yet(turn, waiting.hazard, message)
        return DONE_WITH
    turn.say("hazard_over")
    return Taken(taken=True)


def _to_sign(turn: Turn, waiting: WaitingFor, answer: Answer, message: MessageId) -> Taken:
    if waiting.hazard is None:
        return NOTHING
    sign = (
        answer.state
        if answer.kind == "state"
        else "not sure"
        if answer.kind in ("unsure", "cannot")
        else None
    )
    if sign is None:
        return NOTHING
    danger.answer_sign(turn, waiting.hazard, sign, message)
    return DONE_WITH


def _to_consent(turn: Turn, waiting: WaitingFor, reading: Reading, message: MessageId) -> Taken:
    """A yes or a no; a number is the one that is expected anyhow, and lets the question go."""
    said = yes_or_no(reading)
    if said is not None:
        answer_leave(turn, waiting, said, message)
        return Taken(taken=True, over=True)
    if reading.answer.kind != "number" and not reading.quantities:
        return NOTHING  # not understood, or about something else: the question stands
    expect_number(turn, waiting)
    expected = turn.case.waiting_for
    return NOTHING if expected is None else _to_number(turn, expected, reading, message)


def _to_resolved(turn: Turn, waiting: WaitingFor, reading: Reading) -> Taken:
    said = yes_or_no(reading)
    if said is None or waiting.fix is None:
        return NOTHING
    turn.wait_for("nothing")
    node = turn.knowledge.fixes[waiting.fix]
    normal = node.who == "nobody"
    if said == "yes" and node.watch:
        begin_watch(turn)
        return DONE_WITH
    if said == "yes":
        turn.say("explain_end" if normal else "closed_gone")
        close(turn, "nothing_wrong" if normal else "held")
        return DONE_WITH
    if normal:
        turn.add(FixJudged(at=turn.at, fix=waiting.fix, worked=0.05))
        turn.say("explain_not")
    else:
        turn.say("verify_still_there")
    return Taken(taken=True)
