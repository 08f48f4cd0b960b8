"""Taking in what was read: facts, complaints and numbers become events; doubtful ones stay soft; corrections replace."""

from dataclasses import dataclass, replace
from typing import Final

from assistant.conversation.events import ComplaintHeard, FactLearned, NumberLearned
from assistant.conversation.ids import MessageId
from assistant.conversation.known import fact_words, number_words
from assistant.conversation.sums import do_sums
from assistant.conversation.turn import Turn
from assistant.engineering import celsius_of
from assistant.reading import FindingSaid, QuantitySaid, Reading
from assistant.reading.thresholds import SAY_BACK
from kb.ids import FindingId, QuantityId, StateId

UNMARKED: Final = 0.82
"""At most so sure is the reading of a number that no word marks."""

TWO_DIGITS: Final = 10


@dataclass(frozen=True, slots=True, kw_only=True)
class TakenIn:
    """What a message added, in words to say back, and what it left to settle."""

    words: tuple[str, ...] = ()
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
        return bool(self.words)


def take_in(turn: Turn, reading: Reading, message: MessageId, *, but: FindingId | None = None) -> TakenIn:
    """Record all that the message says besides its answer; `but` is the finding that the answer is about."""
    complaints = _take_complaints(turn, reading, message)
    findings = [said for said in reading.findings if said.finding != but and _counts(turn, said)]
    replaced = [_take_finding(turn, said, message, corrects=reading.corrects) for said in findings]
    numbers, bare, absurd = _take_numbers(turn, reading, message)
    words = [
        *complaints,
        *(fact_words(turn.knowledge, said.finding, said.state, turn.language) for said in findings),
        *(number_words(turn.knowledge, q, si, turn.case, turn.language) for q, si in numbers),
    ]
    return TakenIn(
        words=tuple(dict.fromkeys(words)),
        corrected=any(replaced) or (reading.corrects and bool(numbers)),
        bare_number=bare,
        absurd=absurd,
        findings=tuple(said.finding for said in findings),
        numbers=tuple(quantity for quantity, _ in numbers),
    )


def _counts(turn: Turn, said: FindingSaid) -> bool:
    """Now counts; the past only where the finding keeps history; what would be or was asked never."""
    node = turn.knowledge.findings[said.finding]
    if said.confidence < SAY_BACK:
        return False
    return said.when in ("now", "by_another") or (said.when == "before" and node.history)


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
) -> tuple[list[tuple[QuantityId, float]], QuantitySaid | None, QuantitySaid | None]:
    taken: list[tuple[QuantityId, float]] = []
    bare: QuantitySaid | None = None
    absurd: QuantitySaid | None = None
    for said in (_corrected_number(turn, reading, said) for said in reading.quantities):
        if said.confidence <= UNMARKED and abs(said.value) < TWO_DIGITS and not _number_is_asked(turn):
            continue  # "1" alone, with no number asked for, is an answer gone astray, not a temperature
        if said.quantity is None or said.when not in ("now", "by_another"):
            continue
        node = turn.knowledge.quantities[said.quantity]
        if said.si is None or said.unit is None:
            bare = bare or said
        elif not node.at_least <= said.si <= node.at_most:
            absurd = absurd or said
        else:
            learn_number(
                turn, said.quantity, said.si, said.value, said.unit, message, replaces=reading.corrects
            )
            taken.append((said.quantity, said.si))
    if taken:
        do_sums(turn, frozenset(quantity for quantity, _ in taken))
    return taken, bare, absurd


def learn_number(
    turn: Turn,
    quantity: QuantityId,
    si: float,
    value: float,
    unit: str,
    message: MessageId,
    *,
    replaces: bool,
) -> None:
    """Record one number."""
    turn.add(
        NumberLearned(
            at=turn.at, quantity=quantity, si=si, value=value, unit=unit, message=message, replaces=replaces
        )
    )
