"""Reading: from a text to what was said.

In: a text, and the question that was open when it came. Out: a `Reading`, every part with its span.
Never: a clock, a database, a guess below the threshold. Start at `read`: its lines are the pipeline, in order.
"""

from assistant.reading.feelings import feeling_in
from assistant.reading.pipeline import read
from assistant.reading.questions import open_question
from assistant.reading.said import (
    Answer,
    ComplaintSaid,
    FindingSaid,
    HazardSaid,
    Move,
    OpenQuestion,
    Option,
    Outcome,
    ProductSaid,
    QuantitySaid,
    Reading,
    Span,
    Unread,
    When,
)
from assistant.reading.thresholds import LEAST, SAY_BACK, TAKE

__all__ = [
    "LEAST",
    "SAY_BACK",
    "TAKE",
    "Answer",
    "ComplaintSaid",
    "FindingSaid",
    "HazardSaid",
    "Move",
    "OpenQuestion",
    "Option",
    "Outcome",
    "ProductSaid",
    "QuantitySaid",
    "Reading",
    "Span",
    "Unread",
    "When",
    "feeling_in",
    "open_question",
    "read",
]
