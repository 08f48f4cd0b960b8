"""The shape of `helpline read --json`: one object a text, spans in code points of the text as sent."""

from collections.abc import Sequence
from typing import Final

from assistant.reading.said import Answer, QuantitySaid, Reading, Span

Json = dict[str, object]
_PLACES: Final = 4


def as_json(reading: Reading) -> Json:
    """A reading as plain dictionaries, lists, strings and numbers; the same reading gives the same object.

    >>> as_json(Reading(language="en", language_confidence=0.5))["outcome"]
    'take'
    """
    return {
        "language": reading.language,
        "complaints": [
            {"complaint": said.symptom, "confidence": _round(said.confidence), "span": _span(said.span)}
            for said in reading.complaints
        ],
        "findings": [
            {
                "finding": said.finding,
                "state": said.state,
                "likelihood": {state: _round(share) for state, share in said.likelihood.items()},
                "confidence": _round(said.confidence),
                "when": said.when,
                "span": _span(said.span),
            }
            for said in reading.findings
        ],
        "quantities": [_quantity(said) for said in reading.quantities],
        "hazards": [
            {"hazard": said.hazard, "confidence": _round(said.confidence), "span": _span(said.span)}
            for said in reading.hazards
        ],
        "moves": list(reading.moves),
        "answer": _answer(reading.answer),
        "outcome": reading.outcome,
        "unread": [{"text": unread.text, "span": _span(unread.span)} for unread in reading.unread],
    }


def _quantity(said: QuantitySaid) -> Json:
    known: Json = {
        "quantity": said.quantity,
        "value": said.value,
        "unit": said.unit,
        "si": None if said.si is None else _round(said.si),
        "role": said.quantity,
        "when": said.when,
        "confidence": _round(said.confidence),
        "span": _span(said.span),
    }
    return known if said.at is None else known | {"at": said.at}


def _answer(answer: Answer) -> Json:
    known: Json = {"kind": answer.kind, "confidence": _round(answer.confidence)}
    if answer.state is not None:
        known |= {"state": answer.state, "likelihood": {s: _round(p) for s, p in answer.likelihood.items()}}
    if answer.value is not None:
        known |= {"value": answer.value, "unit": answer.unit}
    return known


def _span(span: Span) -> Sequence[int]:
    return [span.start, span.end]


def _round(value: float) -> float:
    return round(value, _PLACES)
