"""Figures for operations, from the casebook: texts, their cost, what was turned away."""

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from assistant.casebook import counts
from assistant.casebook.counts import Counted
from assistant.helpline.house import House


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One figure with its samples, as OpenMetrics has it."""

    name: str
    kind: Literal["counter", "gauge"]
    means: str
    samples: tuple[Counted, ...]


def figures_of(house: House, now: datetime) -> tuple[Figure, ...]:
    """All of them, in a fixed order; no label ever tells of a person or a case."""
    with house.casebook.reading() as session:
        return (
            _counter(
                "helpline_texts", "Texts to telephones, by what became of them.", counts.texts_out(session)
            ),
            _counter("helpline_sms_parts", "SMS parts handed over.", (((), counts.parts_out(session)),)),
            _counter(
                "helpline_texts_possible_duplicates",
                "Texts tried twice, since nobody knew what became of the first try.",
                (((), counts.possible_duplicates(session)),),
            ),
            _counter(
                "helpline_messages", "Messages taken in, by what became of them.", counts.messages_in(session)
            ),
            _counter("helpline_consents", "Yes and no to texts.", counts.consents(session)),
            Figure(
                name="helpline_photos",
                kind="gauge",
                means="Photos, by where they are.",
                samples=counts.photos(session),
            ),
            Figure(
                name="helpline_texts_oldest_ready_seconds",
                kind="gauge",
                means="How long the text has waited that is due the longest.",
                samples=(((), counts.oldest_ready_s(session, now)),),
            ),
        )


def _counter(name: str, means: str, samples: tuple[Counted, ...]) -> Figure:
    return Figure(name=name, kind="counter", means=means, samples=samples)
