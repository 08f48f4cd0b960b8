"""Taking in what was read: facts, complaints and numbers become events; doubtful ones stay soft; corrections replace."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Final

from assistant.conversation.echo import facts_to_echo, numbers_to_echo
from assistant.conversation.events import ComplaintHeard, FactLearned, NumberLearned
from assistant.conversation.ids import MessageId
from assistant.conversation.known import fact_said
from assistant.conversation.room_readings import ROOM, is_an_hour, read_off_at
from assistant.conversation.sum_events import ProductLearned
from assistant.conversation.sums import do_sums
from assistant.conversation.turn import Turn
from assistant.engineering import celsius_of
from assistant.reading import FindingSaid, QuantitySaid, Reading
from assistant.reading.thresholds import SAY_BACK
from assistant.wording import sentence_list, variant
from kb.ids import FindingId, QuantityId, StateId

UNMARKED: Final = 0.82
"""At most so sure is the reading of a number that no word marks."""

TWO_DIGITS: Final = 10
FRESH_SUM: Final = timedelta(hours=1)


@dataclass(frozen=True, slots=True, kw_only=True)
class TakenIn:
    """What a message added, what of it is said back, and what it left to settle."""

    pieces: int = 0
    """How many things were learnt."""
    echoed: tuple[str, ...] = ()
    corrected: bool = False
    bare_number: QuantitySaid | None = None
    """A temperature whose unit is open."""
    absurd: QuantitySaid | None = None
    """A number outside what its quantity can be."""
    findings: tuple[FindingId, ...] = ()
    numbers: tuple[QuantityId, ...] = ()

    @property
    def anything(self) -> bool:
        """Something was learnt."""
        return self.pieces > 0


def take_in(turn: Turn, reading: Reading, message: MessageId, *, but: FindingId | None = None) -> TakenIn:
    """Record all that the message says besides its answer; `but` is the finding that the answer is about."""
    complaints = _take_complaints(turn, reading, message)
    products = _take_products(turn, reading, message)
    findings = [
        said
        for said in reading.findings
        if said.finding != but
        and _counts(turn, said)
        and (reading.corrects or not _just_worked_out(turn, said))
    ]
    replaced = [_take_finding(turn, said, message, corrects=reading.corrects) for said in findings]
    numbers, bare, absurd = _take_numbers(turn, reading, message)
    changed = [said for said, anew in zip(findings, replaced, strict=True) if anew]
    echoed = numbers_to_echo(turn, numbers)
    if changed:
        echoed += [fact_said(turn.knowledge, said.finding, said.state, turn.language) for said in changed]
    else:
        echoed += facts_to_echo(turn, findings)
    if complaints and not (findings or numbers):
        echoed += complaints
    return TakenIn(
        pieces=len(complaints) + len(products) + len(findings) + len({one.quantity for one in numbers}),
        echoed=tuple(dict.fromkeys([*echoed, *products])),
        corrected=any(replaced) or (reading.corrects and bool(numbers) and turn.case.heard > 1),
        bare_number=bare,
        absurd=absurd,
        findings=tuple(said.finding for said in findings),
        numbers=tuple(number.quantity for number in numbers),
    )


def _counts(turn: Turn, said: FindingSaid) -> bool:
    """Now counts; the past only where the finding keeps history; what would be or was asked never."""
    node = turn.knowledge.findings[said.finding]
    if said.confidence < SAY_BACK:
        return False
    return said.when in ("now", "by_another") or (said.when == "before" and node.history)


def _just_worked_out(turn: Turn, said: FindingSaid) -> bool:
    """Numbers tell more than words: what was worked out from fresh ones is not replaced by a word, nor counted twice."""
    known = turn.case.latest_fact(said.finding)
    if known is None or known.source != "sum" or known.epoch != turn.case.epoch:
        return False
    return turn.at - known.at <= FRESH_SUM


def _take_products(turn: Turn, reading: Reading, message: MessageId) -> list[str]:
    """Record what is kept in the room; in words where it is new."""
    before = turn.case.products
    said = tuple(dict.fromkeys(one.product for one in reading.products))
    for product in said:
        turn.add(ProductLearned(at=turn.at, product=product, message=message))
    names = [turn.knowledge.products[one].in_(turn.language)[0] for one in said if one not in before]
    return (
        [variant("kept_there", turn.language, 0, products=sentence_list(names, turn.language))]
        if names
        else []
    )


def _take_complaints(turn: Turn, reading: Reading, message: MessageId) -> list[str]:
    known = {complaint.symptom for complaint in turn.case.complaints}
    words = []
    for said in reading.complaints:
        if said.symptom in known or said.confidence < SAY_BACK:
            continue
        known.add(said.symptom)
        turn.add(
            ComplaintHeard(at=turn.at, symptom=said.symptom, confidence=said.confidence, message=message)
        )
        words.append(turn.knowledge.symptoms[said.symptom].say_back.in_(turn.language))
    return words


def _take_finding(turn: Turn, said: FindingSaid, message: MessageId, *, corrects: bool) -> bool:
    """Record one finding; true if it replaces something else that was believed of it."""
    before = turn.case.latest_fact(said.finding)
    replaces = before is not None and before.epoch == turn.case.epoch
    turn.add(
        FactLearned(
            at=turn.at,
            finding=said.finding,
            state=said.state,
            likelihood=tuple(
                (state, said.likelihood.get(state, 0.0)) for state in _states(turn, said.finding)
            ),
            confidence=said.confidence,
            source="said",
            message=message,
            span=(said.span.start, said.span.end),
            epoch=turn.case.epoch,
            replaces=replaces,
        )
    )
    learn_implied(turn, said.finding)
    return (
        before is not None
        and replaces
        and before.state != said.state
        and (corrects or before.source != "sum")
    )


def learn_implied(turn: Turn, finding: FindingId) -> None:
    """What must be so for anybody to know this at all, unless they have told us otherwise."""
    for implied, state in turn.knowledge.findings[finding].implies.items():
        if implied in turn.knowledge.findings and turn.case.latest_fact(implied) is None:
            turn.add(
                FactLearned(
                    at=turn.at,
                    finding=implied,
                    state=state,
                    likelihood=tuple((name, float(name == state)) for name in _states(turn, implied)),
                    confidence=1.0,
                    source="implied",
                    epoch=turn.case.epoch,
                )
            )


def _states(turn: Turn, finding: FindingId) -> tuple[StateId, ...]:
    return tuple(turn.knowledge.findings[finding].states)


def _corrected_number(turn: Turn, reading: Reading, said: QuantitySaid) -> QuantitySaid:
    """A correction that names no quantity means the number nearest to it among those given last."""
    if not reading.corrects or said.quantity is not None or not turn.case.numbers:
        return said
    message = turn.case.numbers[-1].message
    given = [number for number in turn.case.numbers if number.message == message]
    meant = min(given, key=lambda number: (abs(number.value - said.value), number.quantity))
    si = (
        celsius_of(said.value)
        if meant.unit == "F"
        else said.value * meant.si / meant.value
        if meant.value
        else None
    )
    return replace(said, quantity=meant.quantity, unit=meant.unit, si=said.value if meant.unit == "C" else si)


def _number_is_asked(turn: Turn) -> bool:
    waiting = turn.case.waiting_for
    if waiting is None:
        return False
    check = turn.knowledge.checks.get(waiting.check) if waiting.check is not None else None
    return waiting.kind in ("number", "which_unit") or (check is not None and check.measures is not None)


def _take_numbers(
    turn: Turn, reading: Reading, message: MessageId
) -> tuple[list[NumberLearned], QuantitySaid | None, QuantitySaid | None]:
    """Record the numbers that count; beside them the first whose unit is open, and the first that cannot be."""
    said = [
        one
        for one in (_corrected_number(turn, reading, said) for said in reading.quantities)
        if one.quantity is not None and _number_counts(turn, one)
    ]
    usable = [one for one in said if one.si is not None and one.unit is not None]
    bare = next((one for one in said if one.si is None or one.unit is None), None)
    absurd = next((one for one in usable if not _can_be(turn, one)), None)
    taken = [
        learn_number(turn, one, message, replaces=reading.corrects, taken_at=taken_at)
        for one, taken_at in _with_hours(turn, [one for one in usable if _can_be(turn, one)])
    ]
    if taken:
        do_sums(turn, frozenset(number.quantity for number in taken))
    return taken, bare, absurd


def _number_counts(turn: Turn, said: QuantitySaid) -> bool:
    """Now counts, and a room's temperature of an hour that was said: it belongs to a course."""
    if said.confidence <= UNMARKED and abs(said.value) < TWO_DIGITS and not _small_may_count(turn, said):
        return False  # "1" alone, with no number asked for, is an answer gone astray, not a temperature
    told_hour = said.when == "before" and said.quantity == ROOM and said.at is not None
    return said.when in ("now", "by_another") or told_hour


def _small_may_count(turn: Turn, said: QuantitySaid) -> bool:
    if said.quantity is not None and turn.knowledge.quantities[said.quantity].kind != "temperature":
        return True  # its unit was said
    return _number_is_asked(turn) or (said.quantity == ROOM and said.at is not None)


def _can_be(turn: Turn, said: QuantitySaid) -> bool:
    assert said.quantity is not None and said.si is not None  # noqa: S101, PT018 - the caller looked
    node = turn.knowledge.quantities[said.quantity]
    return node.at_least <= said.si <= node.at_most


def _with_hours(turn: Turn, said: Sequence[QuantitySaid]) -> list[tuple[QuantitySaid, datetime | None]]:
    """The numbers in the order in which they were read off, each with its hour where one was said."""
    rooms = [one for one in said if one.quantity == ROOM and is_an_hour(one.at)]
    if not any(one.at is not None for one in rooms):
        return [(one, None) for one in said if one.quantity != ROOM or is_an_hour(one.at)]
    hours = read_off_at([one.at for one in rooms], turn.at, turn.zone)
    others: list[tuple[QuantitySaid, datetime | None]] = [(one, None) for one in said if one.quantity != ROOM]
    return [*others, *sorted(zip(rooms, hours, strict=True), key=lambda pair: pair[1])]


def learn_number(
    turn: Turn, said: QuantitySaid, message: MessageId, *, replaces: bool, taken_at: datetime | None = None
) -> NumberLearned:
    """Record one number, whose quantity, unit and SI value are settled."""
    assert said.quantity is not None and said.si is not None and said.unit is not None  # noqa: S101, PT018 - settled
    learned = NumberLearned(
        at=turn.at,
        quantity=said.quantity,
        si=said.si,
        value=said.value,
        unit=said.unit,
        message=message,
        taken_at=taken_at,
        replaces=replaces,
    )
    turn.add(learned)
    return learned
